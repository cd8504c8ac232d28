"""The check of a scenario beyond its shape.

Every reference means something and its variants are well-posed.
"""

import difflib
from collections import Counter
from collections.abc import Iterator

import numpy as np

from app.domain.draws import Draw, seed_of
from app.domain.faults import Fault
from app.domain.measures import Measure, UnitSystem
from app.domain.model import Model, UnknownReference, quantities, quantity_of
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, ChoiceTask, NumberTask, PlacementTask, SeveralTask, TextTask
from app.domain.truth import draw_truth
from app.domain.well_posed import refusals

SAMPLE = 400
LEAST_ACCEPTED = 1 / 50

_SUITS = {ChoiceTask: {Measure.CHOICE}, SeveralTask: {Measure.SEVERAL}, PlacementTask: {Measure.PLACEMENT}}
_NOT_NUMBERS = {Measure.CHOICE, Measure.SEVERAL, Measure.PLACEMENT}
_NEEDS = {"bead seats": "wheel.bead_seats", "sidewalls": "tire.tin", "force trace": "tire.force"}


def faults_of(scenario: Scenario) -> list[Fault]:
    """Every fault of a scenario whose shape is good; empty when it can be used."""
    faults = [*_reference_faults(scenario), *_follow_faults(scenario), *_measurement_faults(scenario)]
    return faults or list(_drawing_faults(scenario))


def _places(scenario: Scenario) -> Iterator[tuple[str, AnyTask]]:
    for part_number, part in enumerate(scenario.parts):
        for task_number, task in enumerate(part.tasks):
            yield f"parts[{part_number}].tasks[{task_number}]", task


def _reference_faults(scenario: Scenario) -> Iterator[Fault]:
    for place, task in _places(scenario):
        if isinstance(task, TextTask) or task.key is None:
            continue
        try:
            measure = quantity_of(task.key).measure
        except UnknownReference:
            near = difflib.get_close_matches(
                task.key.replace("[*]", "[A]"), _spelled(task.key), n=1, cutoff=0.4
            )
            meant = f"; did you mean {near[0]}?" if near else ""
            yield Fault(f"{place}.key", f"“{task.key}” names no quantity{meant}")
            continue
        suits = _SUITS.get(type(task), set(Measure) - _NOT_NUMBERS)
        if measure not in suits:
            yield Fault(
                f"{place}.key", f"“{task.key}” is a {measure}, which a {task.kind} task can't ask for"
            )
        letter = task.key[len("assembly[") : task.key.find("]")] if task.key.startswith("assembly") else "*"
        if letter != "*" and letter not in scenario.assembly_ids:
            yield Fault(
                f"{place}.key", f"there is no assembly {letter}; there are {', '.join(scenario.assembly_ids)}"
            )
        if isinstance(task, PlacementTask) and len(scenario.assemblies) != 4:
            yield Fault(f"{place}.key", "a placement needs exactly four assemblies")
        if (
            isinstance(task, NumberTask)
            and measure in (Measure.ANGLE, Measure.TURN)
            and task.tolerance.relative
        ):
            yield Fault(f"{place}.tolerance.relative", "has no meaning for an angle; give absolute degrees")


def _spelled(key: str) -> list[str]:
    letter = key[: key.find("]") + 1] or "assembly[A]"
    return [name.replace("assembly[*]", letter.replace("[*]", "[A]")) for name in quantities()]


def _follow_faults(scenario: Scenario) -> Iterator[Fault]:
    earlier: set[str] = set()
    for place, task in _places(scenario):
        for name in getattr(task, "follows", ()):
            if name not in earlier:
                yield Fault(f"{place}.follows", f"“{name}” is no earlier task with a key")
        if not isinstance(task, TextTask) and task.key is not None:
            earlier.add(task.id)


def _measurement_faults(scenario: Scenario) -> Iterator[Fault]:
    for part_number, part in enumerate(scenario.parts):
        for number, shown in enumerate(part.shows):
            place = f"parts[{part_number}].shows[{number}]"
            for letter in shown.assemblies or scenario.assembly_ids:
                sheet = next((each for each in scenario.assemblies if each.id == letter), None)
                if sheet is None:
                    yield Fault(f"{place}.assemblies", f"there is no assembly {letter}")
                elif shown.kind in _NEEDS:
                    room, field = _NEEDS[shown.kind].split(".")
                    if not getattr(getattr(sheet, room), field):
                        yield Fault(
                            f"{place}.kind", f"{shown.kind} need {_NEEDS[shown.kind]} of assembly {letter}"
                        )


def _drawing_faults(scenario: Scenario) -> Iterator[Fault]:
    for units in UnitSystem:
        seeds = np.array(
            [seed_of("check", scenario.id, str(number)) for number in range(SAMPLE)], dtype=np.uint64
        )
        model = Model(draw_truth(scenario, Draw(seeds, np.zeros_like(seeds)), units))
        try:
            refused = {
                reason: np.broadcast_to(mask, seeds.shape)
                for reason, mask in refusals(scenario, model).items()
            }
            yield from _option_faults(scenario, model)
        except LookupError as error:
            yield Fault("assemblies", str(error).strip("'\""))
            return
        accepted = 1 - np.mean(np.any(list(refused.values()), axis=0)) if refused else 1.0
        if accepted < LEAST_ACCEPTED:
            counts = Counter({reason: int(mask.sum()) for reason, mask in refused.items()})
            worst = "; ".join(f"{reason} ({count} of {SAMPLE})" for reason, count in counts.most_common(3))
            yield Fault(
                "assemblies",
                f"only {accepted:.1%} of drawn variants ({units}) determine their answers: {worst}",
            )
            return


def _option_faults(scenario: Scenario, model: Model) -> Iterator[Fault]:
    for place, task in _places(scenario):
        if not isinstance(task, ChoiceTask) or task.key is None:
            continue
        for letter in scenario.assembly_ids if "[*]" in task.key else ("",):
            values = set(np.unique(model.value(task.key.replace("[*]", f"[{letter}]"))).tolist())
            missing = sorted(values - {option.id for option in task.options})
            if missing:
                yield Fault(f"{place}.options", f"lack {', '.join(missing)}, which the key can give")
                break
