"""Slips in reading a sidewall."""

from typing import Any

import numpy as np

from app.compute import tire_dates
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
)
