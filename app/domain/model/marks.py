"""Quantities of the marks on tire and wheel: which way round a tire is mounted, and which mark goes where.

Common practice, no source: a high-point dot goes to the wheel's low-point mark where there are both; else the
light-spot dot goes to the valve, which is the wheel's heavy side.
"""

from typing import Any

import numpy as np

from app.compute import angles
from app.domain.mark_sheets import IN, LEFT, RIGHT
from app.domain.measures import Measure
from app.domain.model.car import NO, YES
from app.domain.model.registry import of_assembly, of_car

HIGH_POINT_DOT, LIGHT_SPOT_DOT = "high-point", "light-spot"
LOW_POINT_MARK, VALVE = "low-point-mark", "valve"
VALVE_DEG = 0.0
CLOCKWISE, COUNTERCLOCKWISE = "clockwise", "counterclockwise"


def has_both_points(assembly: Any) -> Any:
    """Whether there are a high-point dot and a low-point mark: (...) of bool."""
    marks = assembly.truth.marks
    return np.isfinite(marks.high_point_deg) & np.isfinite(marks.low_point_deg)


@of_assembly("marks.dot", Measure.CHOICE, "the dot that counts: high-point or light-spot")
def dot(assembly: Any) -> Any:
    return np.where(has_both_points(assembly), HIGH_POINT_DOT, LIGHT_SPOT_DOT)


@of_assembly("marks.goal", Measure.CHOICE, "where that dot goes: low-point-mark or valve")
def goal(assembly: Any) -> Any:
    return np.where(np.asarray(assembly.value("marks.dot")) == HIGH_POINT_DOT, LOW_POINT_MARK, VALVE)


def turn_to(from_deg: Any, to_deg: Any) -> Any:
    """The turn of the tire that takes one of its marks from an angle to another."""
    return angles.wrap_turn(np.subtract(to_deg, from_deg))


@of_assembly("marks.turn_deg", Measure.TURN, "how far to turn the tire on the wheel until the marks meet")
def turn(assembly: Any) -> Any:
    marks = assembly.truth.marks
    is_high = np.asarray(assembly.value("marks.dot")) == HIGH_POINT_DOT
    to_low_point = np.asarray(assembly.value("marks.goal")) == LOW_POINT_MARK
    return turn_to(
        np.where(is_high, marks.high_point_deg, marks.light_spot_deg),
        np.where(to_low_point, marks.low_point_deg, VALVE_DEG),
    )


def arrow_turns(assembly: Any) -> Any:
    """Which way the rotation arrow points, seen from outboard: on a car that drives forward a wheel on the
    right turns clockwise and one on the left counterclockwise. (...) of words. Raises LookupError.
    """
    return np.where(_rotation(assembly) == RIGHT, CLOCKWISE, COUNTERCLOCKWISE)


def _rotation(assembly: Any) -> Any:
    rotation = assembly.truth.marks.rotation
    if rotation is None:
        raise LookupError(f"assembly {assembly.truth.id} has no marks.rotation")
    return np.asarray(rotation)


@of_assembly("marks.side", Measure.CHOICE, "the side of the car that the rotation arrow suits: left or right")
def side(assembly: Any) -> Any:
    return np.where(_rotation(assembly) == RIGHT, RIGHT, LEFT)


@of_assembly("marks.inside_out", Measure.CHOICE, "whether the sidewall marked outside faces in: yes or no")
def inside_out(assembly: Any) -> Any:
    outside = assembly.truth.marks.outside
    if outside is None:
        raise LookupError(f"assembly {assembly.truth.id} has no marks.outside")
    return np.where(np.asarray(outside) == IN, YES, NO)


@of_car("inside_out", Measure.SEVERAL, "the assemblies whose sidewall marked outside faces in")
def all_inside_out(model: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    return model.each("marks.inside_out") == YES
