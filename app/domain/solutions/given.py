"""One thing that a formula takes from the job itself."""

from dataclasses import dataclass
from typing import Any

from app.domain.measures import Measure, show


@dataclass(frozen=True)
class Given:
    """What it is in words, and as this student has it."""

    words: str
    shown: str


def shown(view: Any, value: Any, measure: Measure) -> str:
    """A value (inside unit) in the class's units."""
    return show(float(value), measure, view.model.truth.units)
