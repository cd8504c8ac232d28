"""Match mounting: turning a tire on its wheel so that the force variations of both cancel."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from app.compute.angles import HALF_TURN_DEG, FloatArray, wrap_turn
from app.compute.errors import OutOfRangeError, require_finite, require_not_negative
from app.compute.phasors import ComplexArray, angle_deg, phasor, size

SMALLEST_TURN_DEG = 15.0
ROUNDING_DEG = 1e-9


class Match(NamedTuple):
    """The assembly's first harmonic before and after [N, peak to peak], and the tire's turn [°]."""

    before_n: FloatArray
    after_n: FloatArray
    turn_deg: FloatArray


class Separated(NamedTuple):
    """Tire and wheel told apart.

    tire_n, wheel_n: as they stood in the first measurement, phasors [N]. best_turn_deg: the tire's turn from
    there that leaves least [°]; best_n: what it leaves [N].
    """

    tire_n: ComplexArray
    wheel_n: ComplexArray
    best_turn_deg: FloatArray
    best_n: FloatArray


def wheel_force(runout_mm: npt.ArrayLike, spring_rate_n_per_mm: npt.ArrayLike) -> ComplexArray:
    """The force variation that a wheel's average runout makes: W = k p exp(i a_w). Any shape, broadcast.

    runout_mm: phasor [mm, peak to peak, at the high spot]. Returns a phasor [N]. Linear spring, axle held
    at constant height: common practice. Raises NotFiniteError, OutOfRangeError "spring_rate_n_per_mm".
    """
    require_finite(runout_mm=runout_mm)
    require_not_negative(spring_rate_n_per_mm=spring_rate_n_per_mm)
    force_n: ComplexArray = np.multiply(runout_mm, spring_rate_n_per_mm)
    return force_n


def match_mount(tire_n: npt.ArrayLike, wheel_n: npt.ArrayLike) -> Match:
    """What turning the tire gains, and the turn that puts its high point on the wheel's low spot.

    tire_n, wheel_n: phasors (...) [N, peak to peak, at the high point]. The turn is 0 where either has no
    direction: there is nothing to match. Raises NotFiniteError.
    """
    require_finite(tire_n=tire_n, wheel_n=wheel_n)
    after_n = np.abs(size(tire_n) - size(wheel_n))
    return Match(size(np.add(tire_n, wheel_n)), after_n, _matching_turn(tire_n, wheel_n))


def separate_tire_and_wheel(
    first_n: npt.ArrayLike, second_n: npt.ArrayLike, turned_deg: npt.ArrayLike
) -> Separated:
    """Tire and wheel told apart by two measurements, the tire turned on the wheel between them.

        T = (second - first) / (exp(i turned) - 1),  W = first - T

    first_n, second_n: phasors (...) [N, wheel angles]. turned_deg: (...), positive clockwise [°].
    Raises OutOfRangeError "turned_deg" for a turn within 15 degrees of none, NotFiniteError.
    """
    require_finite(first_n=first_n, second_n=second_n, turned_deg=turned_deg)
    if np.any(np.abs(wrap_turn(turned_deg)) <= SMALLEST_TURN_DEG):
        raise OutOfRangeError(
            "turned_deg",
            f"Turn the tire by more than {SMALLEST_TURN_DEG:g} degrees; half a turn separates best.",
        )
    tire = np.subtract(second_n, first_n) / (phasor(1.0, turned_deg) - 1)
    wheel = np.subtract(first_n, tire)
    return Separated(tire, wheel, _matching_turn(tire, wheel), np.abs(size(tire) - size(wheel)))


def _matching_turn(tire: npt.ArrayLike, wheel: npt.ArrayLike) -> FloatArray:
    scale = np.maximum(size(tire), size(wheel))
    turn_deg = angle_deg(wheel, scale) + HALF_TURN_DEG - angle_deg(tire, scale)
    turn_deg = wrap_turn(np.where(np.isnan(turn_deg), 0.0, turn_deg))
    # Rounding takes half a turn clockwise to just less than half a turn back.
    just_past_half = turn_deg < ROUNDING_DEG - HALF_TURN_DEG
    return np.where(just_past_half, HALF_TURN_DEG, turn_deg)[()]
