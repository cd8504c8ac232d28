"""Units an answer may be typed in, and exact conversion between units of one kind.

Source of all factors: NIST Special Publication 811 (2008), Appendix B. The inch, foot, mile, pound and
standard gravity are exact by definition; every other factor is an exact product of them.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray, wrap
from app.compute.constants import (
    CELSIUS_ZERO_K,
    FOOT_M,
    INCH_MM,
    KILOGRAM_FORCE_N,
    MILE_KM,
    OUNCE_G,
    POUND_FORCE_N,
    POUND_G,
    PSI_KPA,
)
from app.compute.errors import UnreadableError, UnsolvableError, require_finite

DEGREES_PER_CLOCK_HOUR = 30.0
HOURS_ON_THE_CLOCK = 12.0


@dataclass(frozen=True)
class Unit:
    """A unit of a kind: value in the kind's own unit = (value + offset) * factor."""

    kind: str
    factor: float
    offset: float = 0.0


# The first unit of each kind is the one used inside, and its factor is 1.
UNITS: dict[str, Unit] = {
    "g": Unit("mass", 1.0),
    "kg": Unit("mass", 1000.0),
    "oz": Unit("mass", OUNCE_G),
    "lb": Unit("mass", POUND_G),
    "mm": Unit("length", 1.0),
    "cm": Unit("length", 10.0),
    "m": Unit("length", 1000.0),
    "km": Unit("length", 1_000_000.0),
    "mil": Unit("length", INCH_MM / 1000),  # a thousandth of an inch, the unit of runout gauges
    "in/32": Unit("length", INCH_MM / 32),  # the unit of tread depth gauges
    "in": Unit("length", INCH_MM),
    "ft": Unit("length", FOOT_M * 1000),
    "mi": Unit("length", MILE_KM * 1_000_000),
    "N": Unit("force", 1.0),
    "kN": Unit("force", 1000.0),
    "lbf": Unit("force", POUND_FORCE_N),
    "kgf": Unit("force", KILOGRAM_FORCE_N),
    "kPa": Unit("pressure", 1.0),
    "Pa": Unit("pressure", 0.001),
    "bar": Unit("pressure", 100.0),
    "psi": Unit("pressure", PSI_KPA),
    "N.m": Unit("torque", 1.0),
    "lbf.ft": Unit("torque", POUND_FORCE_N * FOOT_M),
    "lbf.in": Unit("torque", POUND_FORCE_N * INCH_MM / 1000),
    "km/h": Unit("speed", 1.0),
    "mph": Unit("speed", MILE_KM),
    "m/s": Unit("speed", 3.6),
    "C": Unit("temperature", 1.0),
    "F": Unit("temperature", 5 / 9, offset=-32.0),
    "K": Unit("temperature", 1.0, offset=-CELSIUS_ZERO_K),
    "deg": Unit("angle", 1.0),
    "clock": Unit("angle", DEGREES_PER_CLOCK_HOUR),
}


def unit_named(name: str, field: str = "unit") -> Unit:
    """The unit of this name. Raises UnreadableError, naming `field`."""
    try:
        return UNITS[name]
    except KeyError:
        raise UnreadableError(field, f"Give one of these units: {', '.join(UNITS)}.") from None


def units_of_kind(kind: str) -> tuple[str, ...]:
    """The names of a kind's units, the one used inside first; empty for an unknown kind."""
    return tuple(name for name, unit in UNITS.items() if unit.kind == kind)


def convert(value: npt.ArrayLike, from_unit: str, to_unit: str) -> FloatArray:
    """A value in another unit of its kind. Any shape, same shape out.

    On the clock the valve stands at 12 and hours lie in 0 < h <= 12; an angle from it lies in 0 <= a < 360.
    Raises UnreadableError for an unknown unit, UnsolvableError for unlike kinds, NotFiniteError.
    """
    require_finite(value=value)
    source = unit_named(from_unit, "from_unit")
    target = unit_named(to_unit, "to_unit")
    if source.kind != target.kind:
        likes = ", ".join(units_of_kind(source.kind))
        raise UnsolvableError("to_unit", f"{from_unit} measures {source.kind}; give one of {likes}.")
    given = np.asarray(value, dtype=float)
    if from_unit == to_unit:
        return given[()]
    inside = (given + source.offset) * source.factor
    if source.kind == "angle":
        return _around_the_clock(inside, to_unit)
    return (inside / target.factor - target.offset)[()]


def _around_the_clock(angle_deg: FloatArray, to_unit: str) -> FloatArray:
    wrapped = wrap(angle_deg)
    if to_unit == "deg":
        return wrapped
    hours = wrapped / DEGREES_PER_CLOCK_HOUR
    return np.where(hours == 0, HOURS_ON_THE_CLOCK, hours)[()]
