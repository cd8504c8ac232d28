"""Runout and force traces: readings taken equally spaced once around the wheel, and their harmonics.

A trace is an array (..., n): the last axis goes once around, clockwise, the first reading at `start_deg`.
The unit of the readings (mm of runout or N of force) is the unit of every size here. Sizes are peak to
peak.

    a_k = 2/N sum(x_j exp(-i k t_j)),  peak to peak_k = 2 |a_k|,  high_k = (-arg a_k) / k into [0, 360 / k)

so that x(t) = mean + sum over k of peak to peak_k / 2 cos(k (t - high_k)).
Source: J. Bird, Higher Engineering Mathematics, "A numerical method of harmonic analysis"; that the first
harmonic is given peak to peak is the definition of the trade (SAE J670 has the same).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from app.compute.angles import FULL_TURN_DEG, FloatArray, wrap
from app.compute.errors import WrongCountError, require_finite
from app.compute.phasors import NO_DIRECTION_BELOW, ComplexArray, phasor

FEWEST_READINGS = 3  # fewer can't hold one harmonic beside a mean
HIGHEST_ORDER = 10


@dataclass(frozen=True)
class Harmonics:
    """The harmonics of a trace, first order first.

    order: (k,). peak_to_peak: (..., k) [unit of the readings]. high_deg: (..., k), the high spot nearest
    clockwise from the valve, 0 <= high < 360 / order [°]; nan where a harmonic is no more than rounding.
    """

    order: npt.NDArray[np.int64]
    peak_to_peak: FloatArray
    high_deg: FloatArray


def reading_angles(count: int, start_deg: float = 0.0) -> FloatArray:
    """Where the readings of a trace stand: (count,), 0 <= a < 360 [°], clockwise from the first."""
    require_finite(start_deg=start_deg)
    return wrap(start_deg + FULL_TURN_DEG * np.arange(count) / count)


def total_indicated(readings: npt.ArrayLike) -> FloatArray:
    """Total indicated runout or total variation: the greatest reading minus the least. (..., n) to (...).

    Raises WrongCountError, NotFiniteError "readings".
    """
    values = _trace(readings)
    total: FloatArray = np.ptp(values, axis=-1)
    return total


def high_spot_deg(readings: npt.ArrayLike, start_deg: float = 0.0) -> FloatArray:
    """Where the greatest reading stands, the first of equals. (..., n) to (...), 0 <= a < 360 [°]."""
    values = _trace(readings)
    return _angle_at(np.argmax(values, axis=-1), values.shape[-1], start_deg)


def low_spot_deg(readings: npt.ArrayLike, start_deg: float = 0.0) -> FloatArray:
    """Where the least reading stands, the first of equals. (..., n) to (...), 0 <= a < 360 [°]."""
    values = _trace(readings)
    return _angle_at(np.argmin(values, axis=-1), values.shape[-1], start_deg)


def first_harmonic(readings: npt.ArrayLike, start_deg: float = 0.0) -> ComplexArray:
    """The once-per-turn part of a trace as a phasor: peak to peak at the high spot. (..., n) to (...).

    Raises WrongCountError, NotFiniteError "readings".
    """
    return _high_spot_phasors(_trace(readings), start_deg, np.array([1]))[..., 0]


def harmonics(readings: npt.ArrayLike, start_deg: float = 0.0) -> Harmonics:
    """The harmonics of orders 1 to min(10, (n - 1) // 2). (..., n) to (..., k).

    Raises WrongCountError, NotFiniteError "readings".
    """
    values = _trace(readings)
    order = np.arange(1, min(HIGHEST_ORDER, (values.shape[-1] - 1) // 2) + 1)
    phasors = _high_spot_phasors(values, start_deg, order)
    peak_to_peak = np.abs(phasors)
    high_deg = wrap(np.rad2deg(np.angle(phasors))) / order
    no_direction = peak_to_peak <= NO_DIRECTION_BELOW * np.max(np.abs(values), axis=-1, keepdims=True)
    return Harmonics(order, peak_to_peak, np.where(no_direction, np.nan, high_deg))


def trace(
    angle_deg: npt.ArrayLike,
    mean: npt.ArrayLike,
    peak_to_peak: npt.ArrayLike,
    high_deg: npt.ArrayLike,
    orders: npt.ArrayLike,
) -> FloatArray:
    """The readings that a mean and harmonics make: the inverse of `harmonics`.

    angle_deg: (n,) [°]. mean: (...). peak_to_peak, high_deg: (..., k) [unit of the mean], [°]. orders: (k,).
    Returns (..., n). A harmonic without a high spot (nan) is one of no size, and its place doesn't matter.
    Raises NotFiniteError "mean", "peak_to_peak", "high_deg".
    """
    high = np.where(np.isnan(high_deg), 0.0, high_deg)
    require_finite(mean=mean, peak_to_peak=peak_to_peak, high_deg=high)
    # cos(k (t - high)) as the real part of a product of matrices, (..., k) @ (k, n): a class of students asks
    # for tens of millions of cosines.
    waves = phasor(peak_to_peak, np.multiply(orders, high)) / 2
    around = phasor(1.0, -np.multiply.outer(orders, angle_deg))
    readings: FloatArray = np.expand_dims(mean, -1) + (waves @ around).real
    return readings


def average_runout(inboard: npt.ArrayLike, outboard: npt.ArrayLike, start_deg: float = 0.0) -> ComplexArray:
    """The runout that the tire feels: the phasor mean of both bead seats' first harmonics.

    inboard, outboard: (..., n), equally long. Returns (...).
    Raises WrongCountError "outboard" where they aren't equally long, NotFiniteError.
    """
    inner, outer = _trace(inboard, "inboard"), _trace(outboard, "outboard")
    if inner.shape[-1] != outer.shape[-1]:
        raise WrongCountError("outboard", f"Give as many readings as on the inboard side: {inner.shape[-1]}.")
    return (first_harmonic(inner, start_deg) + first_harmonic(outer, start_deg)) / 2


def _trace(readings: npt.ArrayLike, field: str = "readings") -> FloatArray:
    values = np.asarray(readings, dtype=float)
    if values.ndim == 0 or values.shape[-1] < FEWEST_READINGS:
        raise WrongCountError(
            field, f"Give at least {FEWEST_READINGS} readings, equally spaced around the wheel."
        )
    require_finite(**{field: values})
    return values


def _angle_at(index: npt.NDArray[np.int64], count: int, start_deg: float) -> FloatArray:
    angle_deg: FloatArray = reading_angles(count, start_deg)[index]
    return angle_deg


def _high_spot_phasors(values: FloatArray, start_deg: float, order: npt.NDArray[np.int64]) -> ComplexArray:
    """2 conj(a_k): peak to peak, at the phase of the high spot, k times its angle. (..., n) to (..., k)."""
    count = values.shape[-1]
    angles = np.deg2rad(reading_angles(count, start_deg))
    # A mean of thousands of newtons would drown a small harmonic in rounding.
    about_zero = values - values.mean(axis=-1, keepdims=True)
    phasors: ComplexArray = 4 / count * about_zero @ np.exp(1j * np.outer(angles, order))
    return phasors
