"""Slips with runout, force variation and match mounting."""

import re
from typing import Any

import numpy as np

from app.compute import angles
from app.domain.wrong_turns.rule import half, rule


def _seats_as_numbers(view: Any, _name: str) -> Any:
    return (view.value("runout.inboard.first_mm") + view.value("runout.outboard.first_mm")) / 2


RULES = (
    rule(
        "turned-the-other-way",
        r"(match|separated)\.turn_deg",
        lambda view, name: -view.value(name),
        "The size of the turn is right but the tire goes the other way round.",
    ),
    rule(
        "high-on-high",
        r"(match|separated)\.turn_deg",
        lambda view, name: angles.wrap_turn(view.value(name) + angles.HALF_TURN_DEG),
        "This puts the tire's high point on the wheel's high spot. It belongs on the low spot, opposite.",
    ),
    rule(
        "added-not-cancelled",
        r"match\.left_n",
        lambda view, _name: view.value("tire_force.first_n") + view.value("wheel_force.first_n"),
        "This is both shares added. Match mounting sets them against each other, so they subtract.",
    ),
    rule(
        "peak-for-peak-to-peak",
        r"(runout\.\w+|tread|tread_turned|force|wheel_force|tire_force|separated\.\w+)\.first_(mm|n)",
        half,
        "This is the peak, measured from the mean. The first harmonic is given peak to peak, twice that.",
    ),
    rule(
        "total-for-first-harmonic",
        r"(runout\.(in|out)board|tread|tread_turned)\.first_mm|force\.first_n",
        lambda view, name: view.value(re.sub(r"first_(mm|n)", r"total_\1", name)),
        "This is the total, greatest minus least. The first harmonic is only its once-per-turn part.",
    ),
    rule(
        "averaged-as-numbers",
        r"runout\.average\.first_mm",
        _seats_as_numbers,
        "This averages the sizes as plain numbers. The two high spots point different ways: average arrows.",
    ),
    rule(
        "subtracted-as-numbers",
        r"tire_force\.first_n",
        lambda view, _name: np.abs(view.value("force.first_n") - view.value("wheel_force.first_n")),
        "This subtracts the sizes as plain numbers. The arrows point different ways: subtract arrows.",
    ),
)
