"""What a formula takes from the job itself and not from a quantity: dimensions, readings, dates, rates."""

import re
from collections.abc import Callable
from typing import Any

import numpy as np

from app.compute import runout, tire_dates, units
from app.domain.measures import Measure, UnitSystem
from app.domain.model.runout import dial_readings_mm, force_readings_n
from app.domain.model.tread import AS_FOUND, tread_readings_mm
from app.domain.solutions.formulas_of_car import GIVENS_OF_CAR
from app.domain.solutions.given import Given, shown
from app.domain.solutions.givens_of_lessons import GIVENS_OF_LESSONS
from app.domain.solutions.placing import GIVENS_OF_PLACING
from app.domain.truth import PLANES


def given(view: Any, name: str) -> Given | None:
    """One assembly's by the name that a formula has for it; None for a name that is none of them."""
    for pattern, find in _GIVENS:
        if found := re.fullmatch(pattern, name):
            return find(view, *found.groups())
    return None


def _radius(view: Any, plane: str) -> Given:
    radius = view.truth.wheel.plane_radius_mm[PLANES.index(plane)]
    return Given(f"radius of the {plane} plane", shown(view, radius, Measure.LENGTH))


def _arrows(view: Any) -> Given:
    """Each heavy spot's mass times radius at its angle."""
    spots = view.truth.heavy_spots
    sizes = [
        f"{shown(view, spots.mass_g[i], Measure.MASS)} × {shown(view, spots.radius_mm[i], Measure.LENGTH)} "
        f"at {shown(view, spots.angle_deg[i], Measure.ANGLE)}"
        for i in range(len(spots.names))
    ]
    return Given("mass × radius of each heavy spot", " + ".join(sizes))


def _shares(view: Any, plane: str) -> Given:
    """Each heavy spot's unbalance, shared between the planes by its distance from the other one."""
    spots, planes_mm = view.truth.heavy_spots, view.truth.wheel.plane_z_mm
    own, other = (planes_mm[PLANES.index(each)] for each in (plane, _other(plane)))
    parts = []
    for i in range(len(spots.names)):
        share = (spots.z_mm[i] - other) / (own - other)
        size = shown(view, spots.mass_g[i] * spots.radius_mm[i], Measure.UNBALANCE)
        parts.append(f"{float(share):.2f} × {size} at {shown(view, spots.angle_deg[i], Measure.ANGLE)}")
    words = f"share of the {plane} plane × mass × radius of each heavy spot"
    return Given(words, " + ".join(parts))


def _other(plane: str) -> str:
    return next(each for each in PLANES if each != plane)


def _readings(view: Any, of: str) -> tuple[Any, Measure]:
    if of == "force":
        return force_readings_n(view), Measure.FORCE
    if of == "tread":
        return tread_readings_mm(view, AS_FOUND), Measure.RUNOUT
    return dial_readings_mm(view, of), Measure.RUNOUT


def _extreme(view: Any, which: str, of: str) -> Given:
    readings, measure = _readings(view, of)
    value = readings.max() if which == "greatest" else readings.min()
    return Given(f"{which} reading", shown(view, value, measure))


def _count(view: Any, of: str) -> Given:
    return Given("number of readings", str(len(_readings(view, of)[0])))


def _projected(view: Any, which: str, of: str) -> Given:
    """The sum of each reading times the cosine, or the sine, of its angle."""
    readings, measure = _readings(view, of)
    angles = np.deg2rad(runout.reading_angles(len(readings)))
    total = np.sum(readings * (np.cos(angles) if which == "cosines" else np.sin(angles)))
    word = {"cosines": "cosine sum", "sines": "sine sum"}[which]
    return Given(f"the {word} of the readings", f"{word} {shown(view, total, measure)}")


def _spring_rate(view: Any) -> Given:
    rate = view.truth.tire.spring_rate_n_per_mm
    if view.model.truth.units is UnitSystem.US:
        per_inch = float(units.convert(units.convert(rate, "N", "lbf"), "in", "mm"))
        return Given("spring rate of the tire", f"{per_inch:.0f} lbf/in")
    return Given("spring rate of the tire", f"{rate:g} N/mm")


def _limit(view: Any) -> Given:
    limit = view.model.truth.vehicle.first_harmonic_limit_n
    return Given("the limit on the first harmonic", shown(view, limit, Measure.FORCE))


def _age_limit(view: Any) -> Given:
    oldest = view.model.truth.vehicle.oldest_tire_years
    if oldest is None:
        return Given("", "")
    age = shown(view, view.value("tire.age_years"), Measure.YEARS)
    return Given(
        "; a tire older than the rule allows is replaced",
        f"; the tire is {age} old, the rule allows {shown(view, oldest, Measure.YEARS)}",
    )


def _built(view: Any) -> Given:
    week, year = (int(view.value(f"tire.{part}")) for part in ("week", "year"))
    day = tire_dates.build_week(np.asarray(week), np.asarray(year))
    return Given("the first day of its week of manufacture", f"{day} (week {week:02} of {year})")


def _service_date(view: Any) -> Given:
    return Given("the day of service", str(view.model.truth.vehicle.service_date))


_GIVENS: tuple[tuple[str, Callable[..., Given | None]], ...] = (
    (r"radius\.(\w+)", _radius),
    (r"spots\.arrows", _arrows),
    (r"spots\.shares\.(\w+)", _shares),
    (r"(greatest|least)\.(\w+)", _extreme),
    (r"count\.(\w+)", _count),
    (r"(cosines|sines)\.(\w+)", _projected),
    (r"spring_rate", _spring_rate),
    (r"limit", _limit),
    (r"age_limit", _age_limit),
    (r"built", _built),
    (r"service_date", _service_date),
    *GIVENS_OF_LESSONS,
    *GIVENS_OF_CAR,
    *GIVENS_OF_PLACING,
)
