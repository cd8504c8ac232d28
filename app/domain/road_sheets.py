"""What an author writes about a vehicle on the road: warm and cold days, a vibration on a test drive."""

from typing import Annotated

from app.compute.constants import STANDARD_ATMOSPHERE_KPA
from app.compute.vibration import ORDERS
from app.domain.sheets import (
    AuthoredTable,
    Drawn,
    DrawnAboveZero,
    DrawnLine,
    DrawnNotNegative,
    Positive,
    drawn_among,
    drawn_within,
)

Celsius = Annotated[Drawn, drawn_within(-60, 120)]


class TemperatureSheet(AuthoredTable):
    """The air in the tires is at set_c when a gauge is put on, and at at_c later, outside."""

    set_c: Celsius
    at_c: Celsius
    ambient_kpa: Positive = STANDARD_ATMOSPHERE_KPA


def order_name(source: str, order: float) -> str:
    """A source of vibration at one order, as authors and options name it: `wheel-1`, `engine-half`."""
    return f"{source}-{'half' if order == 0.5 else f'{order:g}'}"


ORDER_NAMES = tuple(order_name(source, order) for source, orders in ORDERS.items() for order in orders)


class VibrationSheet(AuthoredTable):
    """A vibration that was measured on a test drive, and what it really comes from.

    source: `wheel-1` and the like. off_percent: how far the measured frequency lies from the exact one, by
    wear of the tire and by the instrument. mass_g, radius_mm: an unbalance whose force is asked for.
    """

    speed_kmh: DrawnAboveZero
    source: Annotated[DrawnLine, drawn_among(*ORDER_NAMES)]
    off_percent: Annotated[Drawn, drawn_within(-5, 5)] = 0.0
    axle_ratio: DrawnAboveZero | None = None
    engine_rpm: DrawnAboveZero | None = None
    mass_g: DrawnNotNegative = 50.0
    radius_mm: DrawnAboveZero = 200.0
