"""Slips in reading a sidewall: its date, its size, its load index."""

from typing import Any

import numpy as np

from app.compute import tire_dates, tires, units
from app.domain.measures import UnitSystem
from app.domain.model.sidewall import size_of
from app.domain.wrong_turns.rule import rule


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


def _index_as_load(view: Any, _name: str) -> Any:
    """The load index taken for a load in the class's own unit."""
    index = np.asarray(view.value("tire.load_index"))
    return index if view.model.truth.units is UnitSystem.METRIC else units.convert(index, "lb", "kg")


def _one_sidewall(view: Any, _name: str) -> Any:
    return tires.overall_diameter(
        size_of(view, "rim_in"), np.asarray(view.value("tire.section_height_mm")) / 2
    )


RULES = (
    rule(
        "iso-week",
        r"tire\.age_years",
        _iso_age,
        "The week was counted by the ISO calendar. A tire's week 01 is the year's first full week.",
        differs=False,
    ),
    rule(
        "years-subtracted",
        r"tire\.age_years",
        _years_apart,
        "This only subtracts the years. The week of manufacture had not yet come round this year.",
        differs=False,
    ),
    rule(
        "aspect-as-height",
        r"tire\.section_height_mm",
        lambda view, _name: 100 * size_of(view, "aspect"),
        "The second number is no length. It is the sidewall's height in percent of the tire's width.",
    ),
    rule(
        "one-sidewall",
        r"tire\.overall_diameter_mm",
        _one_sidewall,
        "This adds one sidewall to the rim. The tire has a sidewall above the rim and one below it.",
    ),
    rule(
        "rim-alone",
        r"tire\.overall_diameter_mm",
        lambda view, _name: tires.overall_diameter(size_of(view, "rim_in"), 0.0),
        "This is the rim's diameter. Both sidewalls come on top of it.",
    ),
    rule(
        "pi-times-diameter",
        r"tire\.rolling_mm",
        lambda view, _name: np.pi * np.asarray(view.value("tire.overall_diameter_mm")),
        "This is the whole circle. Under load a radial tire rolls a little less: 3.05 times its diameter.",
    ),
    rule(
        "diameter-for-circumference",
        r"tire\.rolling_mm",
        lambda view, _name: view.value("tire.overall_diameter_mm"),
        "This is the diameter. In one turn the tire rolls about three times as far.",
    ),
    rule(
        "index-as-load",
        r"tire\.load_kg",
        _index_as_load,
        "This is the load index itself. It is only the number of a row; the load stands in the table.",
    ),
    rule(
        "one-tire-for-two",
        r"tire\.axle_load_kg",
        lambda view, _name: view.value("tire.load_kg"),
        "This is what one tire carries. An axle has two.",
    ),
    rule(
        "two-tires-for-one",
        r"tire\.load_kg",
        lambda view, _name: 2 * np.asarray(view.value("tire.load_kg")),
        "This is what two such tires carry together. The question is about one.",
    ),
)
