"""When a tire was built, read from the date code on its sidewall.

Source: 49 CFR 574.5(b). Week 01 is the year's first full calendar week and a week runs Sunday to Saturday,
so week 01 begins on the year's first Sunday and a year has as many weeks as Sundays. This is not the ISO
8601 week. The last week of a year may end in the next one.

Days are datetime64[D]: weeks, years and days may be arrays of any shape, for one tire or for many at once.
"""

import re
from dataclasses import dataclass
from datetime import date

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
_EPOCH_YEAR = 1970
_EPOCH_WEEKDAY = 4  # 1970-01-01 was a Thursday, counted from Sunday = 0

Days = NDArray[np.datetime64]


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


def first_full_week(year: ArrayLike) -> Days:
    """The Sundays on which week 01 of each year begins. Any shape, same shape out."""
    new_year = _new_year(year)
    weekday = (new_year.astype(np.int64) + _EPOCH_WEEKDAY) % 7
    return np.asarray(new_year + (-weekday % 7).astype("timedelta64[D]"))


def weeks_in_year(year: ArrayLike) -> NDArray[np.int64]:
    """How many weeks each year has, 52 or 53: as many as it has Sundays. Any shape, same shape out."""
    days_left = (_new_year(np.add(year, 1)) - first_full_week(year)).astype(np.int64)
    return np.asarray((days_left + _MONDAY_TO_SATURDAY) // 7)


def build_week(week: ArrayLike, year: ArrayLike) -> Days:
    """The Sundays on which numbered weeks begin. Shapes broadcast.

    Raises OutOfRangeError "week" for week 0 and for a week that its year doesn't have, "year" outside
    FIRST_YEAR to LAST_YEAR.
    """
    weeks, years = np.asarray(week, dtype=np.int64), np.asarray(year, dtype=np.int64)
    if np.any((years < FIRST_YEAR) | (years > LAST_YEAR)):
        raise OutOfRangeError("year", f"Give a year from {FIRST_YEAR} to {LAST_YEAR}.")
    if np.any((weeks < 1) | (weeks > weeks_in_year(years))):
        raise OutOfRangeError("week", "Give a week from 01 to the year's last, 52 or 53.")
    return np.asarray(first_full_week(years) + (7 * (weeks - 1)).astype("timedelta64[D]"))


def week_end(sunday: Days) -> Days:
    """The Saturdays that end the weeks of given Sundays. Any shape, same shape out."""
    return np.asarray(sunday + np.timedelta64(_MONDAY_TO_SATURDAY, "D"))


def age_years(built_from: Days | date, service_date: date) -> NDArray[np.int64]:
    """Full years from days (...) to one day of service; negative where the second comes first.

    A year is full on the anniversary. 29 February has its anniversary on 1 March of a common year, when all
    365 days have passed: the tire is called a year older one day later rather than one day too soon.
    """
    built = np.asarray(built_from, dtype="datetime64[D]")
    month = built.astype("datetime64[M]")
    anniversary = (month.astype(np.int64) % 12 + 1) * 100 + (built - month).astype(np.int64) + 1
    built_year = built.astype("datetime64[Y]").astype(np.int64) + _EPOCH_YEAR
    today = service_date.month * 100 + service_date.day
    return np.asarray(service_date.year - built_year - (today < anniversary))


def _new_year(year: ArrayLike) -> Days:
    return (np.asarray(year, dtype=np.int64) - _EPOCH_YEAR).astype("datetime64[Y]").astype("datetime64[D]")


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
    last = int(weeks_in_year(year))
    if not 1 <= week <= last:
        raise OutOfRangeError(
            field, f"Date code {code} has week {week:02d}, but {year} has weeks 01 to {last}."
        )
    sunday = build_week(week, year)
    built_from, built_to = _as_date(sunday), _as_date(week_end(sunday))
    if built_from > service_date:
        raise OutOfRangeError(
            field, f"Date code {code} is the week from {built_from}, after the service date {service_date}."
        )
    return TireDate(week, year, built_from, built_to, int(age_years(sunday, service_date)), decade_sure)


def _as_date(day: Days) -> date:
    return date.fromisoformat(str(day))


def _latest_year(week: int, last_digit: int, service_date: date, field: str) -> int:
    latest = min(service_date, LAST_DAY_OF_THREE_DIGITS)
    for year in range(latest.year, FIRST_YEAR - 1, -1):
        has_week = year % 10 == last_digit and 1 <= week <= weeks_in_year(year)
        if has_week and _as_date(build_week(week, year)) <= latest:
            return year
    raise OutOfRangeError(
        field,
        f"Date code {week:02d}{last_digit} fits no week from {FIRST_YEAR} to {latest}. "
        "A tire made after 1 July 2000 has four digits.",
    )
