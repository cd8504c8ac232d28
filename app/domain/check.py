"""The check of a scenario beyond its shape.

Every reference means something, every measurement has what it shows, and the drawn variants are well-posed.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from app.compute.errors import ComputeError
from app.domain.assembly_sheets import AssemblySheet
from app.domain.bench.faults import bench_faults
from app.domain.draws import Draw, Seeds, seed_of
from app.domain.faults import Fault
from app.domain.key_faults import need_faults, task_faults
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.references import asks_every, for_assembly
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, ChoiceTask, FollowingTask, key_of
from app.domain.truth import draw_truth
from app.domain.well_posed import refusals

SAMPLE = 400
LEAST_ACCEPTED = 1 / 50

_NEEDS: dict[str, tuple[str, ...]] = {
    "cones": (),
    "rim": (),
    "heavy spots": ("heavy_spots",),
    "balancer": ("heavy_spots",),
    "entered width": ("heavy_spots",),
    "entered diameter": ("heavy_spots",),
    "flange": (),
    "spokes": ("heavy_spots", "bench.spokes"),
    "shelf label": ("bench.label",),
    "half turn": ("heavy_spots",),
    "trial run": ("heavy_spots",),
    "tread": ("tire.tread_runout",),
    "tread on the hub": ("tire.tread_runout", "wheel.bead_seats"),
    "bead seats": ("wheel.bead_seats",),
    "force trace": ("tire.force",),
    "force report": ("tire.force",),
    "two measurements": ("tire.force", "wheel.bead_seats"),
    "sidewalls": ("tire.tin",),
    "uniformity": ("tire.force", "wheel.bead_seats"),
    "load table": (),
    "dots": ("marks",),
    "lateral forces": ("tire",),
    "as it came": ("tire.force",),
    "force and conicity": ("tire.force",),
    "pressures": ("bench.pressure_kpa",),
    "vibration": (),
    "unbalance": (),
}


_PLACED = ("assembly[*].placed.first_n", "assembly[*].placed.conicity_n")
_READS = {
    "as it came": _PLACED,
    "force and conicity": _PLACED,
    "vibration": ("car.vibration.measured_hz",),
    "unbalance": ("car.vibration.force_n",),
}
"""Quantities that a measurement is made of, beside what `_NEEDS` looks for in the sheets."""


def faults_of(scenario: Scenario) -> list[Fault]:
    """Every fault of a scenario whose shape is good; empty when it can be used."""
    faults = [
        *(fault for place, task in _places(scenario) for fault in task_faults(scenario, place, task)),
        *need_faults(scenario),
        *_follow_faults(scenario),
        *_measurement_faults(scenario),
        *bench_faults(scenario, _places(scenario)),
    ]
    return faults or list(_drawing_faults(scenario))


def acceptance(scenario: Scenario, units: UnitSystem, *, sample: int = SAMPLE) -> float:
    """The share of drawn variants that are well-posed."""
    return _accepted(_sampled(scenario, units, _seeds(scenario, sample))[1])


def _places(scenario: Scenario) -> Iterator[tuple[str, AnyTask]]:
    for part_number, part in enumerate(scenario.parts):
        for task_number, task in enumerate(part.tasks):
            yield f"parts[{part_number}].tasks[{task_number}]", task


def _follow_faults(scenario: Scenario) -> Iterator[Fault]:
    earlier: set[str] = set()
    for place, task in _places(scenario):
        for name in task.follows if isinstance(task, FollowingTask) else ():
            if name not in earlier:
                yield Fault(f"{place}.follows", f"“{name}” is no earlier task with a key")
        if key_of(task) is not None:
            earlier.add(task.id)


def _measurement_faults(scenario: Scenario) -> Iterator[Fault]:
    sheets = {sheet.id: sheet for sheet in scenario.assemblies}
    for part_number, part in enumerate(scenario.parts):
        for number, shown in enumerate(part.shows):
            place = f"parts[{part_number}].shows[{number}]"
            for letter in shown.assemblies or scenario.assembly_ids:
                if letter not in sheets:
                    yield Fault(f"{place}.assemblies", f"there is no assembly {letter}")
                    continue
                for needed in _NEEDS[shown.kind]:
                    if not _has(sheets[letter], needed):
                        yield Fault(f"{place}.kind", f"{shown.kind} need {needed} of assembly {letter}")


def _has(sheet: AssemblySheet, path: str) -> bool:
    found: object = sheet
    for name in path.split("."):
        found = getattr(found, name)
    return bool(found)


def _drawing_faults(scenario: Scenario) -> Iterator[Fault]:
    seeds = _seeds(scenario, SAMPLE)
    for units in UnitSystem:
        try:
            model, masks = _sampled(scenario, units, seeds)
            lacking = list(_option_faults(scenario, model))
            for key in _read_by_measurements(scenario):
                model.value(key)
        except LookupError as error:
            yield Fault("assemblies", str(error).strip("'\""))
            return
        except ComputeError as error:
            yield Fault("assemblies", f"a drawn variant can't be computed: {error}")
            return
        if lacking:
            yield from lacking
            return
        accepted = _accepted(masks)
        if accepted < LEAST_ACCEPTED:
            often = sorted(masks, key=lambda reason: -int(masks[reason].sum()))[:3]
            worst = "; ".join(f"{reason} ({masks[reason].sum()} of {SAMPLE})" for reason in often)
            yield Fault(
                "assemblies",
                f"only {accepted:.1%} of drawn variants ({units}) determine their answers: {worst}",
            )
            return


def _read_by_measurements(scenario: Scenario) -> Iterator[str]:
    for shown in (shown for part in scenario.parts for shown in part.shows):
        for key in _READS.get(shown.kind, ()):
            for letter in (shown.assemblies or scenario.assembly_ids) if asks_every(key) else ("",):
                yield for_assembly(key, letter)


def _seeds(scenario: Scenario, sample: int) -> Seeds:
    """Of a sample of draws: shape (sample,)."""
    return np.array([seed_of("check", scenario.id, str(number)) for number in range(sample)], dtype=np.uint64)


def _sampled(
    scenario: Scenario, units: UnitSystem, seeds: Seeds
) -> tuple[Model, dict[str, NDArray[np.bool_]]]:
    """The model of a sample of draws, and which of them each reason refuses: masks (sample,)."""
    model = Model(draw_truth(scenario, Draw(seeds, np.zeros_like(seeds)), units))
    masks = {reason: np.broadcast_to(mask, seeds.shape) for reason, mask in refusals(scenario, model)}
    return model, masks


def _accepted(masks: dict[str, NDArray[np.bool_]]) -> float:
    return float(1 - np.mean(np.any(list(masks.values()), axis=0))) if masks else 1.0


def _option_faults(scenario: Scenario, model: Model) -> Iterator[Fault]:
    for place, task in _places(scenario):
        if not isinstance(task, ChoiceTask) or task.key is None:
            continue
        for letter in scenario.assembly_ids if asks_every(task.key) else ("",):
            values = set(np.unique(model.value(for_assembly(task.key, letter))).tolist())
            missing = sorted(values - {option.id for option in task.options})
            if missing:
                yield Fault(f"{place}.options", f"lack {', '.join(missing)}, which the key can give")
                break
