"""Local times in UTC.

The clocks of Chicago change at 2 AM on the second Sunday of March and the first of November (Energy Policy
Act of 2005, section 110), those of Lord Howe Island by half an hour, and Samoa left out 30 December 2011
(IANA time zone database, files northamerica and australasia).
"""

from datetime import UTC, datetime

import pytest

from app.web.teaching.local_times import UnsureTimeError, in_utc, in_zone

CHICAGO = "America/Chicago"


@pytest.mark.parametrize(
    ("local", "zone", "utc"),
    [
        ("2030-03-08 15:00", CHICAGO, datetime(2030, 3, 8, 21, 0, tzinfo=UTC)),
        ("2030-07-01 15:00", CHICAGO, datetime(2030, 7, 1, 20, 0, tzinfo=UTC)),
        ("2030-03-10 01:59", CHICAGO, datetime(2030, 3, 10, 7, 59, tzinfo=UTC)),
        ("2030-03-10 03:00", CHICAGO, datetime(2030, 3, 10, 8, 0, tzinfo=UTC)),
        ("2030-11-03 00:59", CHICAGO, datetime(2030, 11, 3, 5, 59, tzinfo=UTC)),
        ("2030-11-03 02:00", CHICAGO, datetime(2030, 11, 3, 8, 0, tzinfo=UTC)),
        ("2030-03-08 15:00", "Asia/Kathmandu", datetime(2030, 3, 8, 9, 15, tzinfo=UTC)),
    ],
)
def test_a_sure_local_time_is_one_moment_and_shows_the_same_again(local, zone, utc):
    assert in_utc(datetime.fromisoformat(local), zone) == utc
    assert in_zone(utc, zone) == datetime.fromisoformat(local)


@pytest.mark.parametrize(
    ("local", "zone", "says"),
    [
        ("2030-03-10 02:30", CHICAGO, "2:30 AM on March 10 is skipped"),
        ("2030-03-10 02:00", CHICAGO, "before 2:00 AM or from 3:00 AM on"),
        ("2030-11-03 01:30", CHICAGO, "1:30 AM on November 3 comes twice"),
        ("2030-11-03 01:59:59", CHICAGO, "before 1:00 AM or from 2:00 AM on"),
        ("2025-04-06 01:45", "Australia/Lord_Howe", "before 1:30 AM or from 2:00 AM on"),
        ("2011-12-30 12:00", "Pacific/Apia", "skipped"),
    ],
)
def test_a_time_that_the_clocks_skip_or_show_twice_says_what_to_choose(local, zone, says):
    with pytest.raises(UnsureTimeError, match=says):
        in_utc(datetime.fromisoformat(local), zone)
