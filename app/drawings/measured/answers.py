"""The student's own answers beside the computed ones, for a lab that is handed in: they hold the key.

An angle makes an arrow: with the size that the lab asked for too, or else with the computed size. A placement
makes a vehicle seen from above.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from app.compute import placement
from app.domain.answers import (
    NumberAnswer,
    PlacementAnswer,
    Raw,
    SpotsAnswer,
    UnreadableAnswer,
    positions_of,
    read_answer,
)
from app.domain.measures import Measure
from app.domain.model import quantity_of
from app.domain.references import UnknownReference
from app.domain.tasks import AnyTask, NumberTask, PlacementTask, SpotsTask
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.measured.parts import amount, in_unit, number, place, unit_of
from app.drawings.measured.trial_run import DIVISIONS
from app.drawings.spots import Vector
from app.drawings.vector_plot import vector_plot
from app.drawings.vehicle_plan import Corner, vehicle_plan
from app.drawings.wheel_face import wheel_face

_SIZES = ("size_gmm", "mass_g", "first_n", "first_mm", "reading")
"""What the model calls the size of a vector whose angle has the same name up to the last point."""


@dataclass(frozen=True)
class _Size:
    """The size that belongs to an angle: its key, and what it is measured in."""

    key: str
    measure: Measure


def answer_drawings(variant: Variant, answers: Mapping[str, Raw]) -> dict[str, Drawing]:
    """The drawings of a handed-in lab by the id of the task under which each stands.

    answers: as sent, by task id. A blank or unreadable answer has no drawing, nor has a kind of answer that
    has no direction and no place.
    """
    drawings = {}
    for task in variant.scenario.tasks:
        drawing = _drawing(task, variant, answers)
        if drawing is not None:
            drawings[task.id] = drawing
    return drawings


def _drawing(task: AnyTask, variant: Variant, answers: Mapping[str, Raw]) -> Drawing | None:
    if isinstance(task, PlacementTask):
        return _plan(task, variant, answers)
    if isinstance(task, SpotsTask):
        return _marked_wheel(task, variant, answers)
    if isinstance(task, NumberTask) and quantity_of(task.key).measure is Measure.ANGLE:
        return _vectors(task, variant, answers)
    return None


def _vectors(task: NumberTask, variant: Variant, answers: Mapping[str, Raw]) -> Drawing | None:
    own_deg = _own_number(task, variant, answers)
    size = _size_of(task.key)
    if own_deg is None or size is None:
        return None
    right_size, right_deg = (float(variant.model.value(key)) for key in (size.key, task.key))
    own_size = next(
        (
            value
            for each in variant.scenario.tasks
            if isinstance(each, NumberTask) and each.key == size.key
            if (value := _own_number(each, variant, answers)) is not None
        ),
        None,
    )

    unit = unit_of(size.measure, variant) or DIVISIONS

    def vector(label: str, value: float, angle_deg: float, style: str) -> Vector:
        return Vector(
            f"{label} {number(value, size.measure, variant)} {unit}",
            in_unit(value, size.measure, variant.units),
            None if math.isnan(angle_deg) else angle_deg,
            style,
            place(angle_deg, variant),
        )

    yours = "yours" if own_size is not None else "yours, drawn at the computed size:"
    return vector_plot(
        [
            vector("computed", right_size, right_deg, "computed"),
            vector(yours, right_size if own_size is None else own_size, own_deg, "own"),
        ],
        unit=unit,
        title=f"{task.title}: yours (dashed) beside the computed",
    )


def _marked_wheel(task: SpotsTask, variant: Variant, answers: Mapping[str, Raw]) -> Drawing | None:
    answer = _read(task, variant, answers)
    if not isinstance(answer, SpotsAnswer):
        return None
    places = [float(variant.model.value(key)) for key in task.keys]
    marks = [("computed", angle, "computed") for angle in places]
    marks += [("yours", angle, "own") for angle in answer.angles_deg]
    vectors = [Vector(label, 1.0, angle, style, place(angle, variant)) for label, angle, style in marks]
    return wheel_face(vectors=vectors, title=f"{task.title}: yours (dashed) beside the computed")


def _size_of(key: str) -> _Size | None:
    stem = key.rpartition(".")[0]
    for name in _SIZES:
        try:
            return _Size(f"{stem}.{name}", quantity_of(f"{stem}.{name}").measure)
        except UnknownReference:
            continue
    return None


def _own_number(task: NumberTask, variant: Variant, answers: Mapping[str, Raw]) -> float | None:
    answer = _read(task, variant, answers)
    return answer.value if isinstance(answer, NumberAnswer) else None


def _read(task: AnyTask, variant: Variant, answers: Mapping[str, Raw]) -> object:
    try:
        return read_answer(task, answers.get(task.id), variant.scenario, variant.units)
    except UnreadableAnswer:
        return None


def _plan(task: PlacementTask, variant: Variant, answers: Mapping[str, Raw]) -> Drawing | None:
    answer = _read(task, variant, answers)
    if not isinstance(answer, PlacementAnswer):
        return None
    is_best = placement.is_best(variant.model.value(task.key))
    # Of several best ones, the student's own.
    shown = answer.arrangement if is_best[answer.arrangement] else int(is_best.argmax())
    best = positions_of(shown, variant.scenario)
    name = "placed.conicity_n" if task.key == "car.tracking" else "placed.first_n"
    return vehicle_plan(
        [
            Corner(
                position,
                letter,
                (amount(variant.model.assembly(letter).value(name), Measure.FORCE, variant),),
                best[position],
            )
            for position, letter in answer.positions.items()
        ],
        driver_side=variant.truth.vehicle.drive_side,
        title=f"{task.title}: yours, with the best in brackets",
    )
