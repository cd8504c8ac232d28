"""Whether a direction that a task asks for is sure: whether the vector is large enough to have one.

A sum of vectors that nearly cancel points anywhere: the last digit of each decides. The same is so for a
harmonic that is hardly larger than the divisions of the gauge. Teaching model; the shares are our own.
"""

import re
from collections.abc import Callable
from typing import Any

import numpy as np

from app.domain.model import Model
from app.domain.model.balance import sum_of_sizes_gmm
from app.domain.model.runout import DIAL_STEP_MM, FORCE_STEP_N
from app.domain.references import split_reference
from app.domain.truth import PLANES

LEAST_SHARE = 0.2
"""Of the sum of their sizes: a smaller sum of vectors has no sure direction."""


def is_unsure(model: Model, reference: str, tolerance_deg: float) -> Any:
    """Whether the angle that a reference names has no sure direction: (...) of bool; False for no angle."""
    letter, name = split_reference(reference)
    for names, unsure in _RULES:
        if letter is not None and re.fullmatch(names, name):
            return unsure(model.assembly(letter), name, tolerance_deg)
    return np.asarray(False)


def _static(view: Any, _name: str, _tolerance_deg: float) -> Any:
    return view.value("static.size_gmm") < LEAST_SHARE * sum_of_sizes_gmm(view)


def _below_dead_band(view: Any, name: str, _tolerance_deg: float) -> Any:
    return view.value(name.replace("angle_deg", "mass_g")) < view.model.truth.machine.dead_band_g


def _seat(view: Any, name: str, tolerance_deg: float) -> Any:
    step = DIAL_STEP_MM[view.model.truth.units]
    return _is_near_a_step(view.value(name.replace("high_deg", "first_mm")), step, tolerance_deg)


def _average(view: Any, name: str, tolerance_deg: float) -> Any:
    seats = sum(view.value(f"runout.{plane}.first_mm") for plane in PLANES) / len(PLANES)
    return (view.value("runout.average.first_mm") < LEAST_SHARE * seats) | _seat(view, name, tolerance_deg)


def _force(view: Any, _name: str, tolerance_deg: float) -> Any:
    step = FORCE_STEP_N[view.model.truth.units]
    return _is_near_a_step(view.value("force.first_n"), step, tolerance_deg)


def _tire(view: Any, _name: str, _tolerance_deg: float) -> Any:
    both = view.value("force.first_n") + view.value("wheel_force.first_n")
    return view.value("tire_force.first_n") < LEAST_SHARE * both


def _turn(view: Any, _name: str, tolerance_deg: float) -> Any:
    return _tire(view, "", tolerance_deg) | _average(view, "runout.average.high_deg", tolerance_deg)


def _separated(view: Any, _name: str, _tolerance_deg: float) -> Any:
    sizes = [np.asarray(view.value(f"separated.{part}.first_n")) for part in ("tire", "wheel")]
    return np.minimum(*sizes) < LEAST_SHARE * (sizes[0] + sizes[1])


def _trial(view: Any, _name: str, _tolerance_deg: float) -> Any:
    """A trial weight that hardly changes the reading tells nothing, nor does a reading of hardly anything."""
    sizes = [np.asarray(view.value(f"trial.{run}.reading")) for run in ("initial", "with_weight", "effect")]
    return np.minimum.reduce(sizes) < LEAST_SHARE * np.maximum.reduce(sizes)


def _is_near_a_step(peak_to_peak: Any, step: float, tolerance_deg: float) -> Any:
    """Whether one step of the gauge, across half the peak to peak, turns the vector by half the tolerance."""
    return step > peak_to_peak / 2 * np.tan(np.deg2rad(tolerance_deg / 2))


_RULES: tuple[tuple[str, Callable[[Any, str, float], Any]], ...] = (
    (r"(static|single)\.angle_deg", _static),
    (
        r"(correction|unbalance|wrong_width|wrong_diameter|left|after_single|half_turn\.\w+)"
        r"\.(in|out)board\.angle_deg",
        _below_dead_band,
    ),
    (r"(runout\.(in|out)board|tread|tread_turned|tread_share\.\w+)\.high_deg", _seat),
    (r"runout\.average\.high_deg", _average),
    (r"force\.high_deg", _force),
    (r"tire_force\.high_deg", _tire),
    (r"match\.turn_deg", _turn),
    (r"separated\.(\w+\.high|turn)_deg", _separated),
    (r"trial\.\w+\.angle_deg", _trial),
)
