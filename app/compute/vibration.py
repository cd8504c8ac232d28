"""What an unbalance does on the road, and what a felt vibration may come from."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import MM_PER_KM, RADIANS_PER_TURN, SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from app.compute.errors import require_not_negative, require_positive
from app.compute.ranking import ranks

# The orders at which each source is felt, in the order in which equal matches are listed. Common practice.
ORDERS = {
    "wheel": (1.0, 2.0, 3.0, 4.0),
    "driveline": (1.0, 2.0),
    "engine": (0.5, 1.0, 2.0),
}


def wheel_frequency(speed_kmh: npt.ArrayLike, rolling_circumference_mm: npt.ArrayLike) -> FloatArray:
    """Turns of the wheel in a second [Hz]. Shapes broadcast."""
    require_not_negative(speed_kmh=speed_kmh)
    require_positive(rolling_circumference_mm=rolling_circumference_mm)
    turns_per_hour = np.divide(np.multiply(speed_kmh, MM_PER_KM), rolling_circumference_mm)
    frequency: FloatArray = turns_per_hour / SECONDS_PER_HOUR
    return frequency


def unbalance_force(
    mass_g: npt.ArrayLike, radius_mm: npt.ArrayLike, frequency_hz: npt.ArrayLike
) -> FloatArray:
    """The peak force of an unbalance mass, F = m r omega^2 [N]. Shapes broadcast."""
    require_not_negative(mass_g=mass_g, radius_mm=radius_mm, frequency_hz=frequency_hz)
    moment_kg_m = np.multiply(mass_g, radius_mm) * 1e-6
    force: FloatArray = moment_kg_m * np.square(np.multiply(frequency_hz, RADIANS_PER_TURN))
    return force


def order_frequencies(
    wheel_hz: npt.ArrayLike, axle_ratio: npt.ArrayLike | None = None, engine_rpm: npt.ArrayLike | None = None
) -> dict[tuple[str, float], FloatArray]:
    """The frequency [Hz] of each source and order that can be felt. Shapes broadcast.

    The driveline turns axle_ratio times as fast as the wheel. A source whose value is None is left out.
    Raises OutOfRangeError for a value not above 0.
    """
    require_positive(wheel_hz=wheel_hz)
    turning_hz = {"wheel": np.asarray(wheel_hz, dtype=float)}
    if axle_ratio is not None:
        require_positive(axle_ratio=axle_ratio)
        turning_hz["driveline"] = np.multiply(wheel_hz, axle_ratio)
    if engine_rpm is not None:
        require_positive(engine_rpm=engine_rpm)
        turning_hz["engine"] = np.divide(engine_rpm, SECONDS_PER_MINUTE)
    return {
        (source, order): order * base_hz for source, base_hz in turning_hz.items() for order in ORDERS[source]
    }


@dataclass(frozen=True)
class OrderMatch:
    """A source and order of vibration, and how far off it the felt frequency lies."""

    source: str
    order: float
    off_percent: float


def vibration_orders(
    frequency_hz: float,
    wheel_hz: float,
    axle_ratio: float | None = None,
    engine_rpm: float | None = None,
) -> tuple[OrderMatch, ...]:
    """The sources and orders that a felt frequency may come from, nearest first.

    Equal ones stand in the order wheel, driveline, engine, then the lower order. The others as in
    `order_frequencies`.
    """
    require_positive(frequency_hz=frequency_hz)
    matches = [
        OrderMatch(source, order, float(100 * abs(frequency_hz - order_hz) / order_hz))
        for (source, order), order_hz in order_frequencies(wheel_hz, axle_ratio, engine_rpm).items()
    ]
    ranked = ranks([match.off_percent for match in matches])
    # Sorting keeps the listed order among equal ranks.
    return tuple(matches[index] for index in np.argsort(ranked, kind="stable"))
