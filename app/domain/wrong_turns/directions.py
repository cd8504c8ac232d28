"""Slips with any direction, whatever it belongs to."""

from typing import Any

from app.compute import angles
from app.domain.wrong_turns.rule import opposite, rule


def _mirrored(view: Any, name: str) -> Any:
    return angles.wrap(-view.value(name))


RULES = (
    rule(
        "low-for-high",
        r".*\.high_deg",
        opposite,
        "This is the low spot. The high spot is half a turn away.",
    ),
    rule(
        "counted-the-other-way",
        r".*\.(angle|high)_deg",
        _mirrored,
        "This angle was counted counterclockwise. Angles run clockwise from the valve, seen from outboard.",
        differs=False,
    ),
)
