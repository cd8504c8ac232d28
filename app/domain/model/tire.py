"""Quantities of the tire itself: when it was made and how old it is on the day of service."""

from datetime import date
from typing import Any

import numpy as np

from app.compute import tire_dates
from app.domain.measures import Measure
from app.domain.model.registry import of_assembly


@of_assembly("tire.week", Measure.COUNT, "week of manufacture")
def week(assembly: Any) -> Any:
    return _date_part(assembly, assembly.truth.tire.week)


@of_assembly("tire.year", Measure.COUNT, "year of manufacture")
def year(assembly: Any) -> Any:
    return _date_part(assembly, assembly.truth.tire.year)


@of_assembly("tire.age_years", Measure.YEARS, "age of the tire in full years on the day of service")
def age_years(assembly: Any) -> Any:
    weeks, years = np.asarray(assembly.value("tire.week")), np.asarray(assembly.value("tire.year"))
    service_date = assembly.model.truth.vehicle.service_date
    return np.asarray(tire_dates.ages_years(weeks.astype(int), years.astype(int), service_date), dtype=float)


def full_years(built: Any, service_date: date) -> Any:
    """Full years from days (..., datetime64[D]) to the day of service, counted as `tire_dates.age_years`."""
    month = built.astype("datetime64[M]")
    birthday = (month.astype(int) % 12 + 1) * 100 + (built - month).astype(int) + 1
    today = service_date.month * 100 + service_date.day
    return service_date.year - (month.astype(int) // 12 + 1970) - (today < birthday)


def _date_part(assembly: Any, number: Any) -> Any:
    if number is None:
        raise LookupError(f"assembly {assembly.truth.id} has no tire.tin")
    return number
