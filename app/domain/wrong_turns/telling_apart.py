"""Slips in telling two parts apart by turning one of them: assembly and mounting, tire and wheel."""

import re
from typing import Any

import numpy as np

from app.domain.wrong_turns.rule import half, opposite, rule


def _doubled(view: Any, name: str) -> Any:
    return view.value(name) * 2


def _other_part(first: str, second: str) -> Any:
    other = {first: second, second: first}

    def value(view: Any, name: str) -> Any:
        return view.value(re.sub(f"{first}|{second}", lambda found: other[found[0]], name))

    return value


def _difference_of_sizes(first: str, second: str) -> Any:
    """Half the difference of two sizes as plain numbers."""
    return lambda view, _name: np.abs(view.value(first) - view.value(second)) / 2


def _first_spin(view: Any, name: str) -> Any:
    return view.value(re.sub("assembly|mounting", "first", name))


_NOT_HALVED = "This is twice the right value: the sum or the difference of both was not halved."
_SWAPPED = (
    "This is the other part. What turns with the wheel is half the sum; what stays is half the difference."
)

RULES = (
    rule("not-halved", r"half_turn\.(assembly|mounting)\.\w+\.mass_g", _doubled, _NOT_HALVED),
    rule("not-halved", r"tread_share\.(assembly|mounting)\.first_mm", _doubled, _NOT_HALVED),
    rule(
        "parts-swapped",
        r"half_turn\.(assembly|mounting)\.\w+\.(mass_g|angle_deg)",
        _other_part("assembly", "mounting"),
        _SWAPPED,
    ),
    rule(
        "parts-swapped",
        r"tread_share\.(assembly|mounting)\.(first_mm|high_deg)",
        _other_part("assembly", "mounting"),
        _SWAPPED,
    ),
    rule(
        "first-spin-believed",
        r"half_turn\.assembly\.\w+\.(mass_g|angle_deg)",
        _first_spin,
        "This is what the first spin reported. It still holds what the mounting adds.",
    ),
    rule(
        "second-minus-first",
        r"half_turn\.mounting\.\w+\.angle_deg",
        opposite,
        "This is the second spin minus the first: how the mounting stood after the half turn.",
    ),
    rule(
        "runout-for-off-centre",
        r"half_turn\.off_centre_mm",
        _doubled,
        "This is twice the right value. Runout from peak to peak is twice the distance off center.",
    ),
    rule(
        "one-plane-only",
        r"half_turn\.off_centre_mm",
        half,
        "This counts the mounting's share in one plane. Both planes together make its unbalance.",
    ),
    rule(
        "wheel-not-taken-off",
        r"tread_share\.tire\.first_mm",
        lambda view, _name: view.value("tread_share.assembly.first_mm"),
        "This is wheel and tire together. Take the wheel's arrow off.",
    ),
    rule(
        "subtracted-as-numbers",
        r"tread_share\.tire\.first_mm",
        lambda view, _name: np.abs(
            view.value("tread_share.assembly.first_mm") - view.value("runout.average.first_mm")
        ),
        "This subtracts the sizes as plain numbers. The arrows point different ways: subtract arrows.",
    ),
    rule("not-halved", r"separated\.(tire|wheel)\.first_n", _doubled, _NOT_HALVED),
    rule(
        "tire-and-wheel-swapped",
        r"separated\.(tire|wheel)\.(first_n|high_deg)",
        _other_part("tire", "wheel"),
        "This is the other part. The wheel stays where it was; the tire's arrow turns with the tire.",
    ),
    rule(
        "subtracted-as-numbers",
        r"separated\.tire\.first_n",
        _difference_of_sizes("force.first_n", "turned.first_n"),
        "This subtracts the sizes as plain numbers. The arrows point different ways: subtract arrows.",
    ),
    rule(
        "added-not-cancelled",
        r"separated\.left_n",
        lambda view, _name: view.value("separated.tire.first_n") + view.value("separated.wheel.first_n"),
        "This is both shares added. Match mounting sets them against each other, so they subtract.",
    ),
)
