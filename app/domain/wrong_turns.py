"""Known wrong turns, computed for the student's own numbers and never guessed.

Each rule says which quantities it threatens, what a student gets who takes that turn, and what to tell them. A variant
is only accepted when a turn's value lies outside the tolerance of the right one (`app.domain.well_posed`).
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.compute import angles, placement, units
from app.domain.measures import Measure
from app.domain.model import Model, quantity_of

_OUNCE_G = units.convert(1.0, "oz", "g")
_REFERENCE = re.compile(r"(?:assembly\[(?P<letter>\w+)\]|car)\.(?P<name>.+)")
_OTHER_PLANE = {"inboard": "outboard", "outboard": "inboard"}


@dataclass(frozen=True)
class WrongTurn:
    """A slip with a name of its own; `words` explains it. `always_differs` is false where it may hit the right value."""

    id: str
    words: str
    always_differs: bool = True


@dataclass(frozen=True)
class _Rule:
    turn: WrongTurn
    threatens: re.Pattern[str]
    value: Callable[[Any, str], Any]


def _swapped(view: Any, name: str) -> Any:
    return view.value(re.sub(r"inboard|outboard", lambda found: _OTHER_PLANE[found[0]], name))


def _iso_age(view: Any, name: str) -> Any:
    del name
    weeks, years = (
        np.asarray(view.value("tire.week")).astype(int),
        np.asarray(view.value("tire.year")).astype(int),
    )
    fourth_of_january = (years - 1970).astype("datetime64[Y]").astype("datetime64[D]") + np.timedelta64(
        3, "D"
    )
    monday = fourth_of_january - ((fourth_of_january.astype(int) + 3) % 7).astype("timedelta64[D]")
    built = monday + ((weeks - 1) * 7).astype("timedelta64[D]")
    day = np.datetime64(view.model.truth.vehicle.service_date)
    years_apart = day.astype("datetime64[Y]").astype(int) - built.astype("datetime64[Y]").astype(int)
    to_anniversary = (day - day.astype("datetime64[Y]")).astype(int) - (
        built - built.astype("datetime64[Y]")
    ).astype(int)
    return np.asarray(years_apart - (to_anniversary < 0), dtype=float)


def _rule(
    turn_id: str, threatens: str, value: Callable[[Any, str], Any], words: str, *, differs: bool = True
) -> _Rule:
    return _Rule(WrongTurn(turn_id, words, differs), re.compile(threatens), value)


_RULES = (
    _rule(
        "at-the-heavy-spot", r"(correction\.\w+|single|wrong_width\.\w+)\.angle_deg",
        lambda view, name: angles.opposite(view.value(name)),
        "This is where the heavy spot is. The weight goes opposite, half a turn away.",
    ),
    _rule(
        "planes-swapped", r"(correction|unbalance|stock|wrong_width)\.(in|out)board\.\w+|left\.(in|out)board\.angle_deg", _swapped,
        "This is the other plane's value: inboard and outboard are swapped.",
    ),
    _rule(
        "one-plane-for-two", r"(correction|stock)\.(in|out)board\.mass_g",
        lambda view, name: view.value("single.mass_g"),
        "This is the one weight of a single-plane balance. It leaves the couple; two planes need two weights.",
    ),
    _rule(
        "one-plane-for-two", r"correction\.(in|out)board\.angle_deg", lambda view, name: view.value("single.angle_deg"),
        "This is where the one weight of a single-plane balance goes. It leaves the couple; two planes need two weights.",
    ),
    _rule(
        "ounces-as-grams", r".*\.mass_g", lambda view, name: view.value(name) / _OUNCE_G,
        "The number is right in ounces but was given in grams.",
    ),
    _rule(
        "grams-as-ounces", r".*\.mass_g", lambda view, name: view.value(name) * _OUNCE_G,
        "The number is right in grams but was given in ounces.",
    ),
    _rule(
        "diameter-as-radius", r"(correction\.\w+|single)\.mass_g", lambda view, name: view.value(name) / 2,
        "This is half of what is needed: the rim's diameter was used where the radius belongs.",
    ),
    _rule(
        "true-width", r"wrong_width\.(in|out)board\.mass_g",
        lambda view, name: view.value(name.replace("wrong_width", "correction")),
        "This is what the balancer asks for with the true width. With the wrong width it reckons with other planes.",
        differs=True,
    ),
    _rule(
        "turned-the-other-way", r"match\.turn_deg", lambda view, name: -view.value(name),
        "The size of the turn is right but the tire goes the other way round.",
    ),
    _rule(
        "peak-for-peak-to-peak", r"(runout|force|wheel_force|tire_force)\..*first_(mm|n)|(force)\.first_n",
        lambda view, name: view.value(name) / 2,
        "This is the peak, measured from the mean. The first harmonic is given from peak to peak, twice that.",
    ),
    _rule(
        "total-for-first-harmonic", r"(runout\.(in|out)board\.first_mm|force\.first_n)",
        lambda view, name: view.value(re.sub(r"first_(mm|n)", r"total_\1", name)),
        "This is the total, greatest minus least. The first harmonic is only its once-per-turn part.",
        differs=True,
    ),
    _rule(
        "low-for-high", r".*\.high_deg", lambda view, name: angles.opposite(view.value(name)),
        "This is the low spot. The high spot is half a turn away.",
    ),
    _rule(
        "iso-week", r"tire\.age_years", _iso_age,
        "The week was counted by the ISO calendar. A tire's week 01 is the year's first full week, Sunday to Saturday.",
        differs=False,
    ),
)  # fmt: skip

_MIRRORED = WrongTurn(
    "drive-side-mirrored",
    "This is right for a car whose driver sits on the other side. Look again at where the driver sits.",
)


def wrong_turns(model: Model, reference: str) -> Iterator[tuple[WrongTurn, Any]]:
    """Each known wrong turn of a quantity with the value it would give, in the quantity's inside unit: shape (...)."""
    found = _REFERENCE.fullmatch(reference)
    if found is None or found["letter"] is None:
        return
    view = model.assembly(found["letter"])
    for rule in _RULES:
        if rule.threatens.fullmatch(found["name"]):
            yield rule.turn, rule.value(view, found["name"])


def mirrored_costs(model: Model, reference: str) -> tuple[WrongTurn, Any] | None:
    """Costs (..., 24) of a comfort placement on a car with the driver on the other side; none for other quantities."""
    if quantity_of(reference).measure is not Measure.PLACEMENT or not reference.endswith("comfort"):
        return None
    other = "right" if model.truth.vehicle.drive_side == "left" else "left"
    return _MIRRORED, placement.comfort_costs(model.each("placed.first_n"), placement.comfort_weights(other))
