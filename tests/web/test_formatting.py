"""Template filters. Times: zone rules of the IANA time zone database; the wording is our own, no source."""

from datetime import UTC, datetime

import pytest

from app.web.formatting import counted, day_time, local_time, number, percent, zone_name


@pytest.fixture(autouse=True)
def in_a_request(app):
    """The filters compare with the request's time: Monday, March 4, 2030, 15:00 UTC."""
    with app.test_request_context():
        yield


@pytest.mark.parametrize(
    ("moment", "zone", "text"),
    [
        (datetime(2030, 3, 4, 20, 5, tzinfo=UTC), "America/Chicago", "Mon, Mar 4, 2:05 PM"),
        (datetime(2030, 3, 5, 5, 59, tzinfo=UTC), "America/Chicago", "Mon, Mar 4, 11:59 PM"),
        (datetime(2030, 7, 4, 17, 0, tzinfo=UTC), "America/Chicago", "Thu, Jul 4, 12:00 PM"),
        (datetime(2030, 7, 4, 5, 0, tzinfo=UTC), "America/Chicago", "Thu, Jul 4, 12:00 AM"),
        (datetime(2029, 12, 31, 18, 0, tzinfo=UTC), "America/New_York", "Mon, Dec 31 2029, 1:00 PM"),
        (None, "America/Chicago", ""),
    ],
)
def test_a_time_is_shown_in_the_class_s_zone(moment, zone, text):
    assert local_time(moment, zone) == text


@pytest.mark.parametrize(
    ("moment", "text"),
    [
        (datetime(2030, 3, 4, 14, 0, tzinfo=UTC), "today, 8:00 AM"),
        (datetime(2030, 3, 5, 5, 59, tzinfo=UTC), "today, 11:59 PM"),
        (datetime(2030, 3, 5, 6, 0, tzinfo=UTC), "tomorrow, 12:00 AM"),
        (datetime(2030, 3, 4, 5, 59, tzinfo=UTC), "yesterday, 11:59 PM"),
        (datetime(2030, 3, 2, 18, 0, tzinfo=UTC), "Sat, Mar 2, 12:00 PM"),
        (None, ""),
    ],
)
def test_a_day_near_today_has_a_word(moment, text):
    assert day_time(moment, "America/Chicago") == text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (12.50, 2, "12.5"),
        (12.0, 2, "12"),
        (1200.0, 0, "1200"),
        (100, 2, "100"),
        (0.004, 2, "0"),
        (-0.004, 2, "0"),
        (-3.25, 1, "−3.2"),
        (None, 2, "–"),
    ],
)
def test_a_number_has_no_idle_zeros(value, places, text):
    assert number(value, places) == text


@pytest.mark.parametrize(
    ("share", "places", "text"),
    [(0.755, 0, "76"), (0.755, 1, "75.5"), (1.0, 1, "100"), (0.0, 0, "0"), (None, 0, "–")],
)
def test_a_share_is_shown_in_percent(share, places, text):
    assert percent(share, places) == text


def test_one_is_singular():
    assert [counted(n, "student") for n in (0, 1, 2)] == ["0 students", "1 student", "2 students"]
    assert counted(2, "class", "classes") == "2 classes"


def test_a_zone_is_called_by_its_place():
    assert zone_name("America/New_York") == "New York"
    assert zone_name("America/Indiana/Knox") == "Indiana, Knox"
    assert zone_name("UTC") == "UTC"
