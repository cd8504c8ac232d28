"""Slips with one plane, real weights, dimensions and trial weights."""

import re
from typing import Any

import numpy as np

from app.compute import stock, units
from app.domain.measures import UnitSystem
from app.domain.model.shelf import SIDES
from app.domain.wrong_turns.rule import half, opposite, rule

_OUNCE_G = float(units.convert(1.0, "oz", "g"))
_JUST_LESS = 0.999
"""Of half a step: so much more, and the nearest total is the next one up."""


def _nothing(view: Any, name: str) -> Any:
    return np.zeros_like(view.value(name))


def _next_total(direction: int) -> Any:
    """The total that always rounding up (1) or down (-1) gives."""

    def total(view: Any, name: str) -> Any:
        machine = view.model.truth.machine
        half_step_g = min(np.diff(sorted(machine.stock_g)), default=machine.stock_g[0]) / 2 * _JUST_LESS
        needed_g = view.value(name.replace("spoke_stock", "spoke").replace("stock.", "correction."))
        shifted_g = np.maximum(needed_g + direction * half_step_g, 0.0)
        return stock.nearest_stock_sum(shifted_g, machine.stock_g, machine.max_pieces)

    return total


def _in_own_unit(view: Any, name: str) -> Any:
    """The weight in the class's own unit."""
    needed_g = view.value(name.replace("other_unit", "correction") + ".mass_g")
    return needed_g if view.model.truth.units is UnitSystem.METRIC else needed_g / _OUNCE_G


def _converted_backward(view: Any, name: str) -> Any:
    own = _in_own_unit(view, name)
    return own * _OUNCE_G if view.model.truth.units is UnitSystem.METRIC else own / _OUNCE_G


def _other_side(name: str) -> str:
    return re.sub("before|after", lambda found: SIDES[1 - SIDES.index(found[0])], name)


def _half_the_weight(view: Any, _name: str) -> Any:
    return view.value("correction.outboard.mass_g") / 2


def _shared_by_distance(view: Any, name: str) -> Any:
    """As on a balanced plank: the nearer spoke gets more, and both together the whole weight."""
    before, at, after = (
        view.value(f"{each}.angle_deg") for each in ("spoke.before", "correction.outboard", "spoke.after")
    )
    share_after = ((at - before) % 360) / ((after - before) % 360)
    share = share_after if "after" in name else 1 - share_after
    return view.value("correction.outboard.mass_g") * share


def _trial_weight_times(over: str, under: str) -> Any:
    """The trial weight times one reading over another; without end where that is nothing."""

    def mass(view: Any, _name: str) -> Any:
        upper, lower = (np.asarray(view.value(f"trial.{which}.reading")) for which in (over, under))
        ratio = np.divide(upper, lower, out=np.full_like(upper, np.inf), where=lower > 0)
        return view.model.truth.machine.trial.mass_g * ratio

    return mass


RULES = (
    rule(
        "nothing-left",
        r"(after_single|wrong_diameter_left)\.(in|out)board\.mass_g|nearest_spoke\.mass_g",
        _nothing,
        "Something is left. A weight takes away all of the unbalance only at the right place, with the right "
        "mass, and in both planes.",
    ),
    rule(
        "as-before-the-weight",
        r"after_single\.inboard\.(mass_g|angle_deg)",
        lambda view, name: view.value(name.replace("after_single", "unbalance")),
        "This is what was there before the weight was put on. Add the weight to it as an arrow.",
    ),
    rule(
        "always-rounded-up",
        r"(stock\.\w+|spoke_stock\.\w+)\.mass_g",
        _next_total(1),
        "This is the next total up. The one below is nearer to what is needed.",
        differs=False,
    ),
    rule(
        "always-rounded-down",
        r"(stock\.\w+|spoke_stock\.\w+)\.mass_g",
        _next_total(-1),
        "This is the next total down. The one above is nearer to what is needed.",
        differs=False,
    ),
    rule(
        "not-converted",
        r"other_unit\.\w+",
        _in_own_unit,
        "This is the number of the report. The other unit needs another number for the same weight.",
    ),
    rule(
        "converted-backward",
        r"other_unit\.\w+",
        _converted_backward,
        "This goes the wrong way. One ounce is about 28.35 g, so the number in grams is the larger one.",
    ),
    rule(
        "shared-in-halves",
        r"spoke\.(before|after)\.mass_g",
        _half_the_weight,
        "This is half of the weight. Only a weight in the middle between two spokes is shared equally, and "
        "even then each share is more than half.",
    ),
    rule(
        "spokes-swapped",
        r"spoke\.(before|after)\.(mass_g|angle_deg)",
        lambda view, name: view.value(_other_side(name)),
        "This belongs to the other spoke.",
    ),
    rule(
        "shared-as-on-a-plank",
        r"spoke\.(before|after)\.mass_g",
        _shared_by_distance,
        "This shares the weight by the angles, as on a plank. Around a wheel the two shares point different "
        "ways, so together they must be more than the one weight.",
    ),
    rule(
        "left-as-asked",
        r"wrong_diameter_left\.(in|out)board\.mass_g",
        lambda view, name: view.value(name.replace("_left", "")),
        "This is the weight that was asked for. What is left is the difference to the weight that is needed.",
    ),
    rule(
        "one-flange-forgotten",
        r"outside_width\.over_mm",
        half,
        "This counts one flange. There are two.",
    ),
    rule(
        "radius-forgotten",
        r"label_at_rim\.mass_g",
        lambda view, _name: view.truth.bench.label.mass_g,
        "This is what the label weighs. It sits farther out than the rim, so at the rim it takes more.",
    ),
    rule(
        "sizes-subtracted",
        r"trial\.effect\.reading",
        lambda view, _name: np.abs(
            view.value("trial.with_weight.reading") - view.value("trial.initial.reading")
        ),
        "This subtracts the sizes as plain numbers. The arrows point different ways: subtract arrows.",
    ),
    rule(
        "second-reading-as-effect",
        r"trial\.effect\.(reading|angle_deg)",
        lambda view, name: view.value(name.replace("effect", "with_weight")),
        "This is the whole second reading. Only what the trial weight added belongs to it.",
    ),
    rule(
        "effect-turned-round",
        r"trial\.effect\.angle_deg",
        opposite,
        "This is the first reading minus the second. What the weight added is the second minus the first.",
    ),
    rule(
        "second-reading-as-effect",
        r"trial\.correction\.mass_g",
        _trial_weight_times("initial", "with_weight"),
        "This takes the second reading for the effect of the weight. Only what it added belongs to it.",
    ),
    rule(
        "ratio-upside-down",
        r"trial\.correction\.mass_g",
        _trial_weight_times("effect", "initial"),
        "The ratio is upside down. A reading larger than the trial weight's effect asks for a larger weight.",
    ),
    rule(
        "at-the-heavy-spot",
        r"trial\.correction\.angle_deg",
        opposite,
        "This is half a turn off: here the weight would add to what is heavy.",
    ),
)
