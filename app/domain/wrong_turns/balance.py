"""Slips in balancing: the place of a weight, its plane, its mass."""

import re
from typing import Any

import numpy as np

from app.compute import stock, units
from app.domain.wrong_turns.rule import half, opposite, rule

_OUNCE_G = float(units.convert(1.0, "oz", "g"))
_OTHER_PLANE = {"inboard": "outboard", "outboard": "inboard"}
_ONE_PLANE = "This is the one weight of a single-plane balance. It leaves the couple; two planes need two."


def _swapped(view: Any, name: str) -> Any:
    return view.value(re.sub(r"inboard|outboard", lambda found: _OTHER_PLANE[found[0]], name))


def _one_plane_from_stock(view: Any, _name: str) -> Any:
    machine = view.model.truth.machine
    return stock.nearest_stock_sum(view.value("single.mass_g"), machine.stock_g, machine.max_pieces)


def _heavy_spots_as_numbers(view: Any, _name: str) -> Any:
    spots = view.truth.heavy_spots
    return np.sum(spots.mass_g * spots.radius_mm, axis=-1)


RULES = (
    rule(
        "at-the-heavy-spot",
        r"(correction\.\w+|single|wrong_width\.\w+)\.angle_deg",
        opposite,
        "This is where the heavy spot is. The weight goes opposite, half a turn away.",
    ),
    rule(
        "planes-swapped",
        r"(correction|unbalance|wrong_width)\.(in|out)board\.\w+|left\.(in|out)board\.angle_deg",
        _swapped,
        "This is the other plane's value: inboard and outboard are swapped.",
    ),
    rule(
        "planes-swapped",
        r"stock\.(in|out)board\.mass_g",
        _swapped,
        "This is the other plane's value: inboard and outboard are swapped.",
        differs=False,  # two planes may well need the same weight; where each goes still tells them apart
    ),
    rule(
        "one-plane-for-two",
        r"correction\.(in|out)board\.mass_g",
        lambda view, _name: view.value("single.mass_g"),
        _ONE_PLANE,
    ),
    rule(
        "one-plane-for-two",
        r"stock\.(in|out)board\.mass_g",
        _one_plane_from_stock,
        _ONE_PLANE,
        differs=False,  # rounded to the shelf, one weight and the larger of two may come to the same
    ),
    rule(
        "one-plane-for-two",
        r"correction\.(in|out)board\.angle_deg",
        lambda view, _name: view.value("single.angle_deg"),
        "This is where the one weight of a single-plane balance goes. Two planes need a weight each.",
    ),
    rule(
        "ounces-as-grams",
        r".*\.mass_g",
        lambda view, name: view.value(name) / _OUNCE_G,
        "The number is right in ounces but was given in grams.",
        scale=1 / _OUNCE_G,
    ),
    rule(
        "grams-as-ounces",
        r".*\.mass_g",
        lambda view, name: view.value(name) * _OUNCE_G,
        "The number is right in grams but was given in ounces.",
        scale=_OUNCE_G,
    ),
    rule(
        "diameter-as-radius",
        r"(correction\.\w+|single)\.mass_g",
        half,
        "This is half of what is needed: the rim's diameter was used where the radius belongs.",
    ),
    rule(
        "added-as-numbers",
        r"static\.size_gmm",
        _heavy_spots_as_numbers,
        "This adds the sizes as plain numbers. Arrows that point different ways add tip to tail.",
    ),
    rule(
        "true-width",
        r"wrong_width\.(in|out)board\.mass_g",
        lambda view, name: view.value(name.replace("wrong_width", "correction")),
        "This is what the balancer asks for with the true width. A wrong width shifts its planes.",
    ),
)
