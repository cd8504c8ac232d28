"""Quantities of the tire itself: when it was made and how old it is on the day of service."""

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
    built_from = tire_dates.build_week(weeks.astype(int), years.astype(int))
    return tire_dates.age_years(built_from, service_date).astype(float)


def _date_part(assembly: Any, number: Any) -> Any:
    if number is None:
        raise LookupError(f"assembly {assembly.truth.id} has no tire.tin")
    return number
