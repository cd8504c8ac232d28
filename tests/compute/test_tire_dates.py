"""Tire date codes, against the federal rule's cases and a calendar counted day by day."""

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import tire_dates
from app.compute.errors import OutOfRangeError, UnreadableError
from tests.published.cases import case as published

SUNDAY = 6  # date.weekday()
SERVICE = date(2026, 9, 1)


def weeks_counted_day_by_day(year: int) -> Iterator[tuple[date, date]]:
    """49 CFR 574.5(b)(3) taken literally: full calendar weeks, Sunday to Saturday, from the year's first."""
    day = date(year, 1, 1)
    while day.weekday() != SUNDAY:
        day += timedelta(days=1)
    while day.year == year:
        first = day
        while day.weekday() != 5:
            day += timedelta(days=1)
        yield first, day
        day += timedelta(days=1)


def full_years_counted_one_by_one(built: date, service: date) -> int:
    years = 0
    while True:
        try:
            anniversary = built.replace(year=built.year + years + 1)
        except ValueError:  # 29 February of a common year
            anniversary = date(built.year + years + 1, 3, 1)
        if anniversary > service:
            return years
        years += 1


def test_week_one_is_the_first_full_week_and_not_that_of_iso() -> None:
    case = published("tin-date-0109")

    found = tire_dates.read_tin_date(case["given"]["date_code"], SERVICE)

    assert found.built_from.isoformat() == case["expect"]["week_start"]
    assert found.built_to.isoformat() == case["expect"]["week_end"]
    assert f"{found.built_from:%A}" == case["expect"]["weekday_start"]
    assert found.built_from != date.fromisocalendar(2009, 1, 1)


def test_the_last_week_of_a_year_may_end_in_the_next() -> None:
    case = published("tin-date-5323")

    found = tire_dates.read_tin_date(case["given"]["date_code"], SERVICE)

    assert (found.week, found.year) == (53, 2023)
    assert found.built_from.isoformat() == case["expect"]["week_start"]
    assert found.built_to.isoformat() == case["expect"]["week_end"]


def test_the_years_with_fifty_three_weeks_are_those_of_the_rule() -> None:
    case = published("tin-years-with-week-53")
    first, last = case["given"]["years"]

    long_years = [year for year in range(first, last + 1) if tire_dates.weeks_in_year(year) == 53]

    assert long_years == case["expect"]["years_with_53_weeks"]


@pytest.mark.parametrize("year", range(1971, 2100))
def test_every_week_is_the_one_counted_day_by_day(year: int) -> None:
    weeks = list(weeks_counted_day_by_day(year))

    assert tire_dates.weeks_in_year(year) == len(weeks)
    assert tire_dates.first_full_week(year).tolist() == weeks[0][0]
    sundays = tire_dates.build_week(np.arange(len(weeks)) + 1, year)
    assert sundays.tolist() == [sunday for sunday, _ in weeks]
    assert tire_dates.week_end(sundays).tolist() == [saturday for _, saturday in weeks]


def test_three_digits_are_the_latest_week_that_fits_and_leave_the_decade_open() -> None:
    case = published("tin-three-digit-date")

    found = tire_dates.read_tin_date(case["given"]["date_code"], SERVICE)

    assert found.week == case["expect"]["week"]
    assert found.year == max(case["expect"]["possible_years"])
    assert not found.decade_sure
    earlier = tire_dates.read_tin_date(case["given"]["date_code"], date(1990, 1, 1))
    assert earlier.year == min(case["expect"]["possible_years"])


@pytest.mark.parametrize(
    ("code", "year"),
    [("260", 2000), ("270", 1990), ("521", 1991), ("535", 1995), ("530", None), ("531", None)],
)
def test_three_digits_end_on_the_first_of_july_2000(code: str, year: int | None) -> None:
    # 2 July 2000 is the Sunday of week 27, from which four digits are required (64 FR 36807).
    assert tire_dates.build_week(27, 2000).tolist() == date(2000, 7, 2)
    if year is None:
        with pytest.raises(OutOfRangeError, match="four digits"):
            tire_dates.read_tin_date(code, SERVICE)
    else:
        assert tire_dates.read_tin_date(code, SERVICE).year == year


def test_four_digits_are_sure_of_their_decade() -> None:
    assert tire_dates.read_tin_date("0109", SERVICE).decade_sure


@pytest.mark.parametrize(
    ("tin", "code"),
    [
        ("DOT XXX ABCDEF 5107", "5107"),
        ("dot xxx abcdef 5107", "5107"),
        ("DOTXXXABCDEF5107", "5107"),
        ("XXXABCDEF5107", "5107"),
        ("  XXX ABCDEF5107 ", "5107"),
        ("DOT XXX ABCDEF 031", "031"),
        ("XXXABCDEF031", "031"),
        ("XXX ABC 031", "031"),
        ("5107", "5107"),
    ],
)
def test_the_date_code_is_the_end_of_the_number(tin: str, code: str) -> None:
    assert tire_dates.date_code_of(tin) == code


def test_the_numbers_lengths_of_the_rule_are_read() -> None:
    lengths = published("tin-lengths")["expect"]
    for kind in ("new", "retread"):
        date_code = "5107"[: lengths[kind]["date"]]
        tin = "A" * (lengths[kind]["total"] - len(date_code)) + date_code
        assert tire_dates.date_code_of(tin) == date_code
    with pytest.raises(UnreadableError):
        tire_dates.date_code_of("A" * (lengths["new"]["total"] - 3) + "5107")


@pytest.mark.parametrize(
    "tin",
    ["", "DOT", "XXX ABCDEF", "XXX ABCDEF 51O7", "XXX-ABCDEF-5107", "07", "XXX ABCDEF 5107 A", "ÜXX 5107"],
)
def test_a_number_without_a_date_code_is_refused(tin: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        tire_dates.read_tin_date(tin, SERVICE)

    assert refused.value.field == "tin"
    assert tire_dates.FORM in refused.value.message


@pytest.mark.parametrize("code", ["0009", "5424", "5324", "9912", "000", "547"])
def test_a_week_that_its_year_does_not_have_is_refused(code: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        tire_dates.read_tin_date(code, SERVICE, field="date_code")

    assert refused.value.field == "date_code"
    assert code in refused.value.message


def test_a_week_that_begins_after_the_service_date_is_refused() -> None:
    built_from = tire_dates.build_week(10, 2024).tolist()

    assert tire_dates.read_tin_date("1024", built_from).age_years == 0
    with pytest.raises(OutOfRangeError, match="after the service date"):
        tire_dates.read_tin_date("1024", built_from - timedelta(days=1))


@given(st.dates(date(1971, 1, 1), date(2099, 12, 31)), st.integers(0, 20_000))
def test_age_is_the_number_of_anniversaries_passed(built: date, days: int) -> None:
    service = built + timedelta(days=days)

    assert tire_dates.age_years(built, service) == full_years_counted_one_by_one(built, service)


def test_a_tire_built_on_leap_day_is_a_year_older_on_the_first_of_march() -> None:
    leap_sunday = date(2004, 2, 29)

    assert leap_sunday.weekday() == SUNDAY
    assert tire_dates.age_years(leap_sunday, date(2005, 2, 28)) == 0
    assert tire_dates.age_years(leap_sunday, date(2005, 3, 1)) == 1
    assert tire_dates.age_years(leap_sunday, date(2008, 2, 29)) == 4


@pytest.mark.parametrize(
    "service", [date(2041, 2, 28), date(2041, 3, 1), date(2044, 2, 29), date(2050, 12, 31)]
)
def test_the_ages_of_many_tires_are_those_counted_one_by_one_from_1980_to_2040(service: date) -> None:
    years = range(1980, 2041)
    built = [sunday for year in years for sunday, _ in weeks_counted_day_by_day(year)]

    ages = tire_dates.age_years(np.array(built, dtype="datetime64[D]"), service)

    assert ages.tolist() == [full_years_counted_one_by_one(sunday, service) for sunday in built]


def test_weeks_and_years_of_any_shape_are_paired() -> None:
    sundays = tire_dates.build_week([[1], [52]], [2010, 2020, 2023])

    assert sundays.shape == tire_dates.age_years(sundays, SERVICE).shape == (2, 3)
    for row, week in enumerate((1, 52)):
        for column, year in enumerate((2010, 2020, 2023)):
            sunday, _ = list(weeks_counted_day_by_day(year))[week - 1]
            assert sundays[row, column].tolist() == sunday


@pytest.mark.parametrize(
    ("week", "year", "field"), [(0, 2020, "week"), (53, 2024, "week"), (1, 1970, "year"), (1, 2100, "year")]
)
def test_a_week_or_year_out_of_range_is_refused_singly_and_among_others(
    week: int, year: int, field: str
) -> None:
    for weeks, years in ((week, year), ([1, week], [2020, year])):
        with pytest.raises(OutOfRangeError) as refused:
            tire_dates.build_week(weeks, years)
        assert refused.value.field == field
