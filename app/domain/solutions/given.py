"""One thing that a formula takes from the job itself."""

from dataclasses import dataclass
from typing import Any

from app.domain.measures import Measure, UnitSystem, show

_MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True)
class Given:
    """What it is in words, and as this student has it."""

    words: str
    shown: str


def written(value: Any, measure: Measure, units: UnitSystem) -> str:
    """A value (inside unit) in the class's units, with a true minus sign."""
    return show(float(value), measure, units).replace("-", _MINUS)


def put_in(value: Any, measure: Measure, units: UnitSystem) -> str:
    """As `written`, for a number with which is reckoned on: a thousandth of an inch would be too coarse."""
    if measure is Measure.RUNOUT and units is UnitSystem.US:
        return show(float(value), measure, units, decimals=4).replace("-", _MINUS)
    return written(value, measure, units)


def shown(view: Any, value: Any, measure: Measure) -> str:
    """As `written`, for the class that a view's numbers were drawn for."""
    return written(value, measure, view.model.truth.units)


def in_parentheses(number: str) -> str:
    """A number below zero in parentheses, where another sign may stand before it."""
    return f"({number})" if number.startswith(_MINUS) else number
