"""The check of what tasks ask for: every key means something, and its task can ask it."""

import difflib
from collections.abc import Iterator

from app.domain.arithmetic import references_in
from app.domain.faults import Fault
from app.domain.measures import Measure
from app.domain.model import quantities, quantity_of
from app.domain.model.reckoning import NOT_NUMBERS, UnlikeMeasures
from app.domain.references import EVERY, UnknownReference, for_assembly, of_assembly, split_reference
from app.domain.scenario import Scenario
from app.domain.tasks import (
    AnyTask,
    ChoiceTask,
    NumberTask,
    PlacementTask,
    SeveralTask,
    SpotsTask,
    Tolerance,
    keys_of,
)

WIDEST_ANGLE_DEG = 45

_SUITS: dict[type, set[Measure]] = {
    ChoiceTask: {Measure.CHOICE},
    SeveralTask: {Measure.SEVERAL},
    PlacementTask: {Measure.PLACEMENT},
    SpotsTask: {Measure.ANGLE},
    NumberTask: set(Measure) - NOT_NUMBERS,
}


def task_faults(scenario: Scenario, place: str, task: AnyTask) -> Iterator[Fault]:
    """The faults of one task's keys and of its tolerance."""
    for number, key in enumerate(keys_of(task)):
        at = f"{place}.keys[{number}]" if isinstance(task, SpotsTask) else f"{place}.key"
        unknown = [_unknown(reference, scenario) for reference in references_in(key)]
        if any(unknown):
            yield from (Fault(at, fault) for fault in unknown if fault)
            continue
        try:
            measure = quantity_of(key).measure
        except UnlikeMeasures as error:
            yield Fault(at, str(error))
            continue
        if measure not in _SUITS[type(task)]:
            yield Fault(at, f"“{key}” is {measure.named}, which a {task.kind} task can't ask for")
        elif isinstance(task, NumberTask):
            yield from _tolerance_faults(f"{place}.tolerance", task.tolerance, measure, key)
    if isinstance(task, SpotsTask):
        yield from _tolerance_faults(f"{place}.tolerance", task.tolerance, Measure.ANGLE, "")
    if isinstance(task, PlacementTask) and len(scenario.assemblies) != 4:
        yield Fault(f"{place}.key", "a placement needs exactly four assemblies")


def need_faults(scenario: Scenario) -> Iterator[Fault]:
    """The faults of what a variant needs: values of a choice that is made for each assembly."""
    for number, need in enumerate(scenario.well_posed.needs):
        place, reference = f"well_posed.needs[{number}].quantity", of_assembly(EVERY, need.quantity)
        if unknown := _unknown(reference, scenario):
            yield Fault(place, unknown.replace(of_assembly(EVERY, ""), "").replace(of_assembly("A", ""), ""))
        elif (measure := quantity_of(reference).measure) is not Measure.CHOICE:
            yield Fault(place, f"“{need.quantity}” is {measure.named}; name a choice, such as marks.side")


def _unknown(reference: str, scenario: Scenario) -> str:
    """Why a reference names nothing; empty where it names something."""
    try:
        quantity_of(reference)
    except UnknownReference:
        near = difflib.get_close_matches(for_assembly(reference, "A"), _spelled(reference), n=1, cutoff=0.4)
        meant = f"; did you mean {near[0]}?" if near else ""
        return f"“{reference}” names no quantity{meant}"
    letter, _ = split_reference(reference)
    if letter in (None, EVERY, *scenario.assembly_ids):
        return ""
    return f"there is no assembly {letter}; there are {', '.join(scenario.assembly_ids)}"


def _spelled(reference: str) -> list[str]:
    """Every quantity as its author would have written it: of the same assembly."""
    letter, _ = split_reference(reference)
    return [for_assembly(name, "A" if letter in (None, EVERY) else letter) for name in quantities()]


def _tolerance_faults(place: str, tolerance: Tolerance, measure: Measure, key: str) -> Iterator[Fault]:
    if measure in (Measure.ANGLE, Measure.TURN):
        if tolerance.relative:
            yield Fault(f"{place}.relative", "has no meaning for an angle; give absolute degrees")
        elif not 0 < tolerance.absolute <= WIDEST_ANGLE_DEG:
            yield Fault(f"{place}.absolute", f"must be above 0 and at most {WIDEST_ANGLE_DEG} degrees")
    elif not (tolerance.absolute or tolerance.relative or _comes_in_steps(key, measure)):
        yield Fault(place, "must be above 0: nobody can type this to its last digit")


def _comes_in_steps(key: str, measure: Measure) -> bool:
    """Whether the right answer can be typed exactly: it is counted, or a sum of weights from stock."""
    from_stock = all(".stock." in reference for reference in references_in(key))
    return measure in (Measure.COUNT, Measure.YEARS) or (from_stock and not set("*/") & set(key))
