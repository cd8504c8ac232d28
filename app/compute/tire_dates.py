"""When a tire was built, read from the date code on its sidewall.

Source: 49 CFR 574.5(b). Week 01 is the year's first full calendar week and a week runs Sunday to Saturday,
so week 01 begins on the year's first Sunday and a year has as many weeks as Sundays. This is not the ISO
8601 week. The last week of a year may end in the next one.

The functions whose names are plural take arrays of weeks and years, for many tires at once.
"""

import re
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import ArrayLike, NDArray

from app.compute.errors import OutOfRangeError, UnreadableError

FIRST_YEAR = 1971  # the number was first required in this year
LAST_YEAR = 2099  # what two digits can say
# 64 FR 36807 (8 July 1999): four digits are required from 2 July 2000, a Sunday.
LAST_DAY_OF_THREE_DIGITS = date(2000, 7, 1)
LONGEST_TIN = 13  # symbols, 49 CFR 574.5(a)
FORM = "DOT XXX ABCDEF 5107"  # invented: plant, maker's symbols, week and year

_MONDAY_TO_SATURDAY = 6  # days from a week's Sunday to its Saturday
_EPOCH_WEEKDAY = 4  # 1970-01-01 was a Thursday, counted from Sunday = 0


@dataclass(frozen=True)
class TireDate:
    """What a date code says on the day of service.

    decade_sure is False for a three-digit code, which doesn't mark the decade: the tire is then *at least*
    age_years old.
    """

    week: int
    year: int
    built_from: date
    built_to: date
    age_years: int
    decade_sure: bool


def first_full_week(year: int) -> date:
    """The Sunday on which week 01 of a year begins."""
    new_year = date(year, 1, 1)
    return new_year + timedelta(days=-new_year.isoweekday() % 7)


def weeks_in_year(year: int) -> int:
    """How many weeks a year has, 52 or 53: as many as it has Sundays."""
    days = (date(year, 12, 31) - first_full_week(year)).days
    return days // 7 + 1


def build_week(week: int, year: int) -> tuple[date, date]:
    """The Sunday and the Saturday of a numbered week.

    Raises OutOfRangeError "week" for week 0 and for a week that the year doesn't have, "year" outside
    FIRST_YEAR to LAST_YEAR.
    """
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise OutOfRangeError("year", f"Give a year from {FIRST_YEAR} to {LAST_YEAR}.")
    last = weeks_in_year(year)
    if not 1 <= week <= last:
        raise OutOfRangeError("week", f"Give a week from 01 to {last}, the last of {year}.")
    begins = first_full_week(year) + timedelta(weeks=week - 1)
    return begins, begins + timedelta(days=_MONDAY_TO_SATURDAY)


def age_years(built_from: date, service_date: date) -> int:
    """Full years from one day to another; negative where the second comes first.

    A year is full on the anniversary. 29 February has its anniversary on 1 March of a common year, when all
    365 days have passed: the tire is called a year older one day later rather than one day too soon.
    """
    before_anniversary = (service_date.month, service_date.day) < (built_from.month, built_from.day)
    return service_date.year - built_from.year - int(before_anniversary)


def date_code_of(tin: str, field: str = "tin") -> str:
    """The three or four digits of the date code at the end of a tire identification number.

    tin: with or without a leading "DOT", with or without spaces between its groups. The code is the last
    group, or the last four (else three) digits of a number written in one piece. field: its name where it
    is refused. Raises UnreadableError where it doesn't end in a date code.
    """
    groups = re.sub(r"^\s*DOT", "", tin.upper()).split()
    symbols = "".join(groups)
    if not re.fullmatch(f"[A-Z0-9]{{3,{LONGEST_TIN}}}", symbols):
        raise UnreadableError(
            field,
            f"Give 3 to {LONGEST_TIN} letters and digits, with or without spaces, like {FORM}.",
        )
    code = re.search(r"[0-9]{3,4}$", groups[-1])
    if code is None:
        raise UnreadableError(
            field,
            f"Give the whole number with its date code at the end, like {FORM}. "
            "One sidewall may carry only a part of it: read the other one.",
        )
    return code[0]


def read_tin_date(tin: str, service_date: date, field: str = "tin") -> TireDate:
    """Week of manufacture and age on the day of service.

    tin: a whole tire identification number, or its date code alone. Four digits are week and year from 2000
    on. Three digits are the week and the year's last digit, without the decade: the latest week that fits
    is taken, up to 1 July 2000 and to the service date, and decade_sure is False. field: the name of the
    text where it is refused. Raises UnreadableError for no date code, OutOfRangeError for a week that its
    year doesn't have or that begins after service_date.
    """
    code = date_code_of(tin, field)
    week, year_digits = int(code[:2]), code[2:]
    decade_sure = len(year_digits) == 2
    if decade_sure:
        year = 2000 + int(year_digits)
    else:
        year = _latest_year(week, int(year_digits), service_date, field)
    last = weeks_in_year(year)
    if not 1 <= week <= last:
        raise OutOfRangeError(
            field, f"Date code {code} has week {week:02d}, but {year} has weeks 01 to {last}."
        )
    built_from, built_to = build_week(week, year)
    if built_from > service_date:
        raise OutOfRangeError(
            field, f"Date code {code} is the week from {built_from}, after the service date {service_date}."
        )
    return TireDate(week, year, built_from, built_to, age_years(built_from, service_date), decade_sure)


def _latest_year(week: int, last_digit: int, service_date: date, field: str) -> int:
    latest = min(service_date, LAST_DAY_OF_THREE_DIGITS)
    for year in range(latest.year, FIRST_YEAR - 1, -1):
        has_week = year % 10 == last_digit and 1 <= week <= weeks_in_year(year)
        if has_week and build_week(week, year)[0] <= latest:
            return year
    raise OutOfRangeError(
        field,
        f"Date code {week:02d}{last_digit} fits no week from {FIRST_YEAR} to {latest}. "
        "A tire made after 1 July 2000 has four digits.",
    )


def first_full_weeks(year: ArrayLike) -> NDArray[np.datetime64]:
    """As first_full_week, for an array of years: shape (...), days as datetime64[D]."""
    new_year = (np.asarray(year, dtype=np.int64) - 1970).astype("datetime64[Y]").astype("datetime64[D]")
    weekday = (new_year.astype(np.int64) + _EPOCH_WEEKDAY) % 7
    return np.asarray(new_year + (-weekday % 7).astype("timedelta64[D]"))


def weeks_in_years(year: ArrayLike) -> NDArray[np.int64]:
    """As weeks_in_year, for an array of years: shape (...), each 52 or 53."""
    year = np.asarray(year, dtype=np.int64)
    next_new_year = (year - 1969).astype("datetime64[Y]").astype("datetime64[D]")
    days_left = (next_new_year - first_full_weeks(year)).astype(np.int64)
    return np.asarray((days_left + 6) // 7)


def build_weeks(week: ArrayLike, year: ArrayLike) -> NDArray[np.datetime64]:
    """The Sundays on which numbered weeks begin: shape (...) as week and year together, datetime64[D].

    Raises OutOfRangeError "week" or "year" where any is out of range.
    """
    week, year = np.broadcast_arrays(np.asarray(week, dtype=np.int64), np.asarray(year, dtype=np.int64))
    if np.any((year < FIRST_YEAR) | (year > LAST_YEAR)):
        raise OutOfRangeError("year", f"Give years from {FIRST_YEAR} to {LAST_YEAR}.")
    if np.any((week < 1) | (week > weeks_in_years(year))):
        raise OutOfRangeError("week", "Give weeks from 01 to the year's last, 52 or 53.")
    return np.asarray(first_full_weeks(year) + (7 * (week - 1)).astype("timedelta64[D]"))


def ages_years(week: ArrayLike, year: ArrayLike, service_date: date) -> NDArray[np.int64]:
    """As age_years, for tires built in numbered weeks and one day of service: shape (...), whole years."""
    built_from = build_weeks(week, year)
    month = built_from.astype("datetime64[M]")
    month_of_year = month.astype(np.int64) % 12 + 1
    day_of_month = (built_from - month).astype(np.int64) + 1
    before_anniversary = (service_date.month < month_of_year) | (
        (service_date.month == month_of_year) & (service_date.day < day_of_month)
    )
    built_year = built_from.astype("datetime64[Y]").astype(np.int64) + 1970
    return np.asarray(service_date.year - built_year - before_anniversary)
