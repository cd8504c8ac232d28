"""Quantities of runout, force variation and match mounting.

Harmonics are taken from the readings as the student sees them, so a careful student gets exactly the key.
"""

from typing import Any

import numpy as np

from app.compute import matching, phasors, runout, units
from app.domain.measures import Measure, UnitSystem
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import PLANES, HarmonicsTruth

DIAL_READINGS = 12
TRACE_READINGS = 36
DIAL_STEP_MM: dict[UnitSystem, float] = {
    UnitSystem.METRIC: 0.01,
    UnitSystem.US: float(units.convert(0.001, "in", "mm")),
}
FORCE_STEP_N: dict[UnitSystem, float] = {
    UnitSystem.METRIC: 1.0,
    UnitSystem.US: float(units.convert(0.2, "lbf", "N")),
}


_UP_AT_HALF = 1e-6
"""Share of a step that is added before rounding, so that the last bit of a cosine never decides a tie."""


def rounded_to_step(readings: Any, step: float) -> Any:
    """Readings (any shape) as an instrument with divisions of `step` shows them."""
    return np.floor(readings / step + (0.5 + _UP_AT_HALF)) * step


@computed_once
def dial_readings_mm(assembly: Any, plane: str) -> Any:
    """Readings of a dial indicator on one bead seat, zeroed at the valve and rounded to its divisions.

    Returns shape (..., 12) [mm]. Raises LookupError for a wheel without bead seats.
    """
    seats = assembly.truth.wheel.bead_seats
    if seats is None:
        raise LookupError(f"assembly {assembly.truth.id} has no bead_seats")
    seat = seats[PLANES.index(plane)]
    readings = traced(seat, DIAL_READINGS)
    return rounded_to_step(readings - readings[..., :1], DIAL_STEP_MM[assembly.model.truth.units])


@computed_once
def force_readings_n(assembly: Any) -> Any:
    """The radial force trace of the assembly on the load roller, rounded as shown: (..., 36) [N].

    The first harmonics of tire and wheel add as vectors; higher ones come from the tire alone (teaching
    model).
    """
    tire = assembly.truth.tire
    readings = traced(tire.force, TRACE_READINGS, tire.mean_force_n)
    if assembly.truth.wheel.bead_seats is not None:
        wheel_n = wheel_force_n(assembly)
        size_n, high_deg = (of(wheel_n)[..., np.newaxis] for of in (phasors.size, phasors.angle_deg))
        angles_deg = runout.reading_angles(TRACE_READINGS)
        readings = readings + runout.trace(angles_deg, 0.0, size_n, high_deg, (1,))
    return rounded_to_step(readings, FORCE_STEP_N[assembly.model.truth.units])


def true_average_mm(assembly: Any) -> Any:
    """The wheel's average runout before readings are rounded: a phasor (...), zero without bead seats."""
    seats = assembly.truth.wheel.bead_seats
    return 0j if seats is None else (true_first(seats[0]) + true_first(seats[1])) / 2


def wheel_force_n(assembly: Any) -> Any:
    """The wheel's share of the first harmonic as it is: a phasor (...)."""
    return matching.wheel_force(true_average_mm(assembly), assembly.truth.tire.spring_rate_n_per_mm)


def traced(harmonics: HarmonicsTruth, count: int, mean: Any = 0.0) -> Any:
    """So many exact readings, equally spaced once around: (..., count) [unit of the harmonics]."""
    angles_deg = runout.reading_angles(count)
    return runout.trace(angles_deg, mean, harmonics.peak_to_peak, harmonics.high_deg, harmonics.orders)


def true_first(harmonics: HarmonicsTruth) -> Any:
    """The first harmonic as it is, before readings are rounded: a phasor (...), zero where there is none."""
    at_first = np.equal(harmonics.orders, 1)
    return phasors.phasor(harmonics.peak_to_peak, harmonics.high_deg)[..., at_first].sum(axis=-1)


def _direction_deg(vector: Any) -> Any:
    """Of a vector of runout [mm] or force [N]; what is a billionth of a unit is left over from rounding."""
    return phasors.angle_deg(vector, scale=1.0)


@of_assembly("runout.{plane}.total_mm", Measure.RUNOUT, "total indicated runout of the {plane} bead seat")
def seat_total(assembly: Any, plane: str) -> Any:
    return runout.total_indicated(dial_readings_mm(assembly, plane))


@computed_once
def _seat_first_mm(assembly: Any, plane: str) -> Any:
    return runout.first_harmonic(dial_readings_mm(assembly, plane))


@of_assembly(
    "runout.{plane}.first_mm", Measure.RUNOUT, "first harmonic of the {plane} bead seat, peak to peak"
)
def seat_first(assembly: Any, plane: str) -> Any:
    return phasors.size(_seat_first_mm(assembly, plane))


@of_assembly("runout.{plane}.high_deg", Measure.ANGLE, "high spot of the {plane} bead seat's first harmonic")
def seat_high(assembly: Any, plane: str) -> Any:
    return _direction_deg(_seat_first_mm(assembly, plane))


@computed_once
def _average_mm(assembly: Any) -> Any:
    seats = [assembly.phasor(f"runout.{plane}.first_mm", f"runout.{plane}.high_deg") for plane in PLANES]
    return (seats[0] + seats[1]) / 2


@of_assembly(
    "runout.average.first_mm", Measure.RUNOUT, "average first harmonic of both bead seats, peak to peak"
)
def average_first(assembly: Any) -> Any:
    return phasors.size(_average_mm(assembly))


@of_assembly("runout.average.high_deg", Measure.ANGLE, "high spot of the wheel's average runout")
def average_high(assembly: Any) -> Any:
    return _direction_deg(_average_mm(assembly))


@of_assembly("force.total_n", Measure.FORCE, "total radial force variation")
def force_total(assembly: Any) -> Any:
    return runout.total_indicated(force_readings_n(assembly))


@computed_once
def _force_first_n(assembly: Any) -> Any:
    return runout.first_harmonic(force_readings_n(assembly))


@of_assembly("force.first_n", Measure.FORCE, "first harmonic of radial force variation, peak to peak")
def force_first(assembly: Any) -> Any:
    return phasors.size(_force_first_n(assembly))


@of_assembly("force.high_deg", Measure.ANGLE, "high point of the force variation's first harmonic")
def force_high(assembly: Any) -> Any:
    return _direction_deg(_force_first_n(assembly))


@of_assembly("wheel_force.first_n", Measure.FORCE, "the wheel's share of the first harmonic")
def wheel_force_first(assembly: Any) -> Any:
    return assembly.truth.tire.spring_rate_n_per_mm * assembly.value("runout.average.first_mm")


@computed_once
def _wheel_n(assembly: Any) -> Any:
    return assembly.phasor("wheel_force.first_n", "runout.average.high_deg")


@computed_once
def _tire_n(assembly: Any) -> Any:
    return assembly.phasor("force.first_n", "force.high_deg") - _wheel_n(assembly)


@of_assembly("tire_force.first_n", Measure.FORCE, "the tire's share of the first harmonic")
def tire_force_first(assembly: Any) -> Any:
    return phasors.size(_tire_n(assembly))


@of_assembly("tire_force.high_deg", Measure.ANGLE, "high point of the tire's share")
def tire_force_high(assembly: Any) -> Any:
    return _direction_deg(_tire_n(assembly))


@computed_once
def _matched(assembly: Any) -> Any:
    return matching.match_mount(
        assembly.phasor("tire_force.first_n", "tire_force.high_deg"), _wheel_n(assembly)
    )


@of_assembly("match.turn_deg", Measure.TURN, "how far to turn the tire on the wheel for match mounting")
def match_turn(assembly: Any) -> Any:
    return _matched(assembly).turn_deg


@of_assembly("match.left_n", Measure.FORCE, "first harmonic that remains after match mounting")
def match_left(assembly: Any) -> Any:
    return _matched(assembly).after_n
