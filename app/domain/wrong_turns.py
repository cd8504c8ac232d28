"""Known wrong turns, computed for the student's own numbers and never guessed.

Each rule says which quantities it threatens, what a student gets who takes that turn, and what to tell them.
A variant is only accepted when a turn's value lies outside the tolerance of the right one
(`app.domain.well_posed`), except for turns that may hit the right value by their nature: an angle counted
the other way (at 0 and 180 degrees it is the same), an age by the ISO week or by subtracting years (both are
often right), and a weight from stock for the other plane or for one plane (rounded to the shelf, two needs
may come to one weight).
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.compute import angles, placement, stock, tire_dates, units
from app.domain.model import Model
from app.domain.references import split_reference

_OUNCE_G = float(units.convert(1.0, "oz", "g"))
_OTHER_PLANE = {"inboard": "outboard", "outboard": "inboard"}


@dataclass(frozen=True)
class WrongTurn:
    """A slip by its name; `words` explain it. `always_differs`: false where it may hit the right value."""

    id: str
    words: str
    always_differs: bool = True


@dataclass(frozen=True)
class _Rule:
    """`value(assembly view, quantity's short name)` is what the slip gives for the quantity."""

    turn: WrongTurn
    threatens: re.Pattern[str]
    value: Callable[[Any, str], Any]


def _swapped(view: Any, name: str) -> Any:
    return view.value(re.sub(r"inboard|outboard", lambda found: _OTHER_PLANE[found[0]], name))


def _opposite(view: Any, name: str) -> Any:
    return angles.opposite(view.value(name))


def _mirrored(view: Any, name: str) -> Any:
    return angles.wrap(-view.value(name))


def _half(view: Any, name: str) -> Any:
    return view.value(name) / 2


def _one_plane_from_stock(view: Any, _name: str) -> Any:
    machine = view.model.truth.machine
    return stock.nearest_stock_sum(view.value("single.mass_g"), machine.stock_g, machine.max_pieces)


def _heavy_spots_as_numbers(view: Any, _name: str) -> Any:
    spots = view.truth.heavy_spots
    return np.sum(spots.mass_g * spots.radius_mm, axis=-1)


def _seats_as_numbers(view: Any, _name: str) -> Any:
    return (view.value("runout.inboard.first_mm") + view.value("runout.outboard.first_mm")) / 2


def _iso_age(view: Any, _name: str) -> Any:
    """The age by the ISO 8601 week, whose week 01 holds 4 January and begins on a Monday."""
    weeks, years = (np.asarray(view.value(name)).astype(int) for name in ("tire.week", "tire.year"))
    new_year = (years - 1970).astype("datetime64[Y]").astype("datetime64[D]")
    fourth = new_year + np.timedelta64(3, "D")
    monday = fourth - ((fourth.astype(int) + 3) % 7).astype("timedelta64[D]")
    built = monday + ((weeks - 1) * 7).astype("timedelta64[D]")
    return tire_dates.age_years(built, view.model.truth.vehicle.service_date)


def _years_apart(view: Any, _name: str) -> Any:
    return view.model.truth.vehicle.service_date.year - np.asarray(view.value("tire.year"))


def _rule(
    turn_id: str, threatens: str, value: Callable[[Any, str], Any], words: str, *, differs: bool = True
) -> _Rule:
    return _Rule(WrongTurn(turn_id, words, differs), re.compile(threatens), value)


_ONE_PLANE = "This is the one weight of a single-plane balance. It leaves the couple; two planes need two."

# In the order in which they are tried: where two slips give one value, the first explains it.
_RULES = (
    _rule(
        "at-the-heavy-spot",
        r"(correction\.\w+|single|wrong_width\.\w+)\.angle_deg",
        _opposite,
        "This is where the heavy spot is. The weight goes opposite, half a turn away.",
    ),
    _rule(
        "planes-swapped",
        r"(correction|unbalance|wrong_width)\.(in|out)board\.\w+|left\.(in|out)board\.angle_deg",
        _swapped,
        "This is the other plane's value: inboard and outboard are swapped.",
    ),
    _rule(
        "planes-swapped",
        r"stock\.(in|out)board\.mass_g",
        _swapped,
        "This is the other plane's value: inboard and outboard are swapped.",
        differs=False,  # two planes may well need the same weight; where each goes still tells them apart
    ),
    _rule(
        "one-plane-for-two",
        r"correction\.(in|out)board\.mass_g",
        lambda view, _name: view.value("single.mass_g"),
        _ONE_PLANE,
    ),
    _rule(
        "one-plane-for-two",
        r"stock\.(in|out)board\.mass_g",
        _one_plane_from_stock,
        _ONE_PLANE,
        differs=False,  # rounded to the shelf, one weight and the larger of two may come to the same
    ),
    _rule(
        "one-plane-for-two",
        r"correction\.(in|out)board\.angle_deg",
        lambda view, _name: view.value("single.angle_deg"),
        "This is where the one weight of a single-plane balance goes. Two planes need a weight each.",
    ),
    _rule(
        "ounces-as-grams",
        r".*\.mass_g",
        lambda view, name: view.value(name) / _OUNCE_G,
        "The number is right in ounces but was given in grams.",
    ),
    _rule(
        "grams-as-ounces",
        r".*\.mass_g",
        lambda view, name: view.value(name) * _OUNCE_G,
        "The number is right in grams but was given in ounces.",
    ),
    _rule(
        "diameter-as-radius",
        r"(correction\.\w+|single)\.mass_g",
        _half,
        "This is half of what is needed: the rim's diameter was used where the radius belongs.",
    ),
    _rule(
        "added-as-numbers",
        r"static\.size_gmm",
        _heavy_spots_as_numbers,
        "This adds the sizes as plain numbers. Arrows that point different ways add tip to tail.",
    ),
    _rule(
        "true-width",
        r"wrong_width\.(in|out)board\.mass_g",
        lambda view, name: view.value(name.replace("wrong_width", "correction")),
        "This is what the balancer asks for with the true width. A wrong width shifts its planes.",
    ),
    _rule(
        "turned-the-other-way",
        r"match\.turn_deg",
        lambda view, name: -view.value(name),
        "The size of the turn is right but the tire goes the other way round.",
    ),
    _rule(
        "high-on-high",
        r"match\.turn_deg",
        lambda view, name: angles.wrap_turn(view.value(name) + angles.HALF_TURN_DEG),
        "This puts the tire's high point on the wheel's high spot. It belongs on the low spot, opposite.",
    ),
    _rule(
        "added-not-cancelled",
        r"match\.left_n",
        lambda view, _name: view.value("tire_force.first_n") + view.value("wheel_force.first_n"),
        "This is both shares added. Match mounting sets them against each other, so they subtract.",
    ),
    _rule(
        "peak-for-peak-to-peak",
        r"(runout\.\w+|force|wheel_force|tire_force)\.first_(mm|n)",
        _half,
        "This is the peak, measured from the mean. The first harmonic is given peak to peak, twice that.",
    ),
    _rule(
        "total-for-first-harmonic",
        r"runout\.(in|out)board\.first_mm|force\.first_n",
        lambda view, name: view.value(re.sub(r"first_(mm|n)", r"total_\1", name)),
        "This is the total, greatest minus least. The first harmonic is only its once-per-turn part.",
    ),
    _rule(
        "averaged-as-numbers",
        r"runout\.average\.first_mm",
        _seats_as_numbers,
        "This averages the sizes as plain numbers. The two high spots point different ways: average arrows.",
    ),
    _rule(
        "subtracted-as-numbers",
        r"tire_force\.first_n",
        lambda view, _name: np.abs(view.value("force.first_n") - view.value("wheel_force.first_n")),
        "This subtracts the sizes as plain numbers. The arrows point different ways: subtract arrows.",
    ),
    _rule(
        "low-for-high",
        r".*\.high_deg",
        _opposite,
        "This is the low spot. The high spot is half a turn away.",
    ),
    _rule(
        "counted-the-other-way",
        r".*\.(angle|high)_deg",
        _mirrored,
        "This angle was counted counterclockwise. Angles run clockwise from the valve, seen from outboard.",
        differs=False,
    ),
    _rule(
        "iso-week",
        r"tire\.age_years",
        _iso_age,
        "The week was counted by the ISO calendar. A tire's week 01 is the year's first full week.",
        differs=False,
    ),
    _rule(
        "years-subtracted",
        r"tire\.age_years",
        _years_apart,
        "This only subtracts the years. The week of manufacture had not yet come round this year.",
        differs=False,
    ),
)

_MIRRORED = WrongTurn(
    "drive-side-mirrored",
    "This is right for a car whose driver sits on the other side. Look again at where the driver sits.",
)


def wrong_turns(model: Model, reference: str) -> Iterator[tuple[WrongTurn, Any]]:
    """Each known wrong turn of a quantity, and the value (...) it gives in the quantity's inside unit."""
    letter, name = split_reference(reference)
    if letter is None:
        return
    view = model.assembly(letter)
    for rule in _RULES:
        if rule.threatens.fullmatch(name):
            yield rule.turn, rule.value(view, name)


def mirrored_costs(model: Model, reference: str) -> tuple[WrongTurn, Any] | None:
    """Costs (..., 24) of a comfort placement for a driver on the other side; None for other quantities."""
    if split_reference(reference) != (None, "comfort"):
        return None
    weights = placement.comfort_weights("right" if model.truth.vehicle.drive_side == "left" else "left")
    return _MIRRORED, placement.comfort_costs(model.each("placed.first_n"), weights)
