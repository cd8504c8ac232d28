"""What late work costs and which attempts count, against calculations by hand."""

from datetime import UTC, datetime, timedelta

import pytest

from app.domain.standing import Counts, counted, days_late, deduction_words, scored
from tests.domain.standing.ordinary import CHICAGO, DAY, DUE, HOUR, begun, done, rules

SECOND = timedelta(seconds=1)
TENTH_A_DAY = {"late_percent_per_day": 10.0}


@pytest.mark.parametrize(
    ("after", "days"),
    [
        (-DAY, 0),
        (timedelta(0), 0),
        (timedelta(microseconds=1), 1),
        (SECOND, 1),
        (DAY, 1),
        (DAY + SECOND, 2),
        (2 * DAY, 2),
        (10 * DAY + HOUR, 11),
    ],
)
def test_a_day_late_is_each_24_hours_begun_after_the_due_time(after, days):
    assert days_late(DUE + after, DUE) == days


def test_a_day_late_is_24_hours_where_the_clocks_go_forward_and_back():
    """Chicago's clocks: forward on 10 March 2030, back on 3 November 2030, at 2:00 (IANA tz database). From
    9:00 to 9:00 there are 23 hours over the first and 25 over the second."""
    spring_due = datetime(2030, 3, 9, 9, 0, tzinfo=CHICAGO)
    assert days_late(datetime(2030, 3, 10, 9, 0, tzinfo=CHICAGO), spring_due) == 1
    assert days_late(datetime(2030, 3, 10, 10, 0, tzinfo=CHICAGO), spring_due) == 1
    assert days_late(datetime(2030, 3, 10, 10, 1, tzinfo=CHICAGO), spring_due) == 2
    autumn_due = datetime(2030, 11, 2, 9, 0, tzinfo=CHICAGO)
    assert days_late(datetime(2030, 11, 3, 8, 0, tzinfo=CHICAGO), autumn_due) == 1
    assert days_late(datetime(2030, 11, 3, 8, 1, tzinfo=CHICAGO), autumn_due) == 2
    assert days_late(datetime(2030, 11, 3, 9, 0, tzinfo=CHICAGO), autumn_due) == 2


def test_late_days_do_not_depend_on_the_zone_in_which_the_moments_are_written():
    due = datetime(2030, 3, 9, 9, 0, tzinfo=CHICAGO)
    late = datetime(2030, 3, 10, 10, 1, tzinfo=CHICAGO)
    assert days_late(late.astimezone(UTC), due) == days_late(late, due.astimezone(UTC)) == 2


@pytest.mark.parametrize(
    ("per_day", "floor", "late", "left"),
    [
        (10, 0, timedelta(0), 8.0),  # in time
        (10, 0, HOUR, 7.2),  # 1 day begun: 8 x 0.9
        (10, 0, DAY + HOUR, 6.4),  # 2 days: 8 x 0.8
        (10, 0, 9 * DAY + HOUR, 0.0),  # 10 days: 8 x 0
        (10, 0, 30 * DAY, 0.0),  # never below nothing
        (10, 50, 4 * DAY, 4.8),  # 4 days: 8 x 0.6
        (10, 50, 30 * DAY, 4.0),  # the floor: 8 x 0.5
        (10, 100, 30 * DAY, 8.0),  # a floor of 100 % takes nothing
        (100, 0, SECOND, 0.0),
        (0, 0, 30 * DAY, 8.0),
        (12.5, 20, 2 * DAY, 6.0),  # 8 x 0.75
    ],
)
def test_late_work_keeps_what_the_rule_leaves_but_never_less_than_the_floor(per_day, floor, late, left):
    rule = rules(late_percent_per_day=float(per_day), late_floor_percent=float(floor))
    assert scored(rule, done(1, 8, at=DUE + late)).points == pytest.approx(left, abs=1e-12)


def test_the_deduction_is_explained_as_it_is_calculated():
    rule = rules(**TENTH_A_DAY)
    late = scored(rule, done(1, 8, at=DUE + DAY + HOUR))
    assert deduction_words(rule, late) == "\N{MINUS SIGN}10 % a day, 2 days late: 8 of 10 → 6.4"
    assert deduction_words(rule, scored(rule, done(1, 8, at=DUE + HOUR))).startswith(
        "\N{MINUS SIGN}10 % a day, 1 day late"
    )
    floored = rules(late_percent_per_day=40.0, late_floor_percent=50.0)
    words = deduction_words(floored, scored(floored, done(1, 8, at=DUE + DAY + HOUR)))
    assert words == "\N{MINUS SIGN}40 % a day, 2 days late, at least 50 % stay: 8 of 10 → 4"


def test_work_in_time_and_practice_have_no_deduction_to_explain():
    rule = rules(**TENTH_A_DAY)
    assert deduction_words(rule, scored(rule, done(1, 8))) == ""
    practice = rules(**TENTH_A_DAY, practice=True)
    late = scored(practice, done(1, 8, at=DUE + 5 * DAY))
    assert (late.points, deduction_words(practice, late)) == (8, "")


def test_an_open_attempt_scores_nothing():
    assert scored(rules(), begun()) is None


def come_to(counts: Counts, *attempts, **changed):
    rule = rules(counts=counts, **changed)
    return counted(rule, [scored(rule, each) for each in attempts])


def test_the_best_counts_and_of_equals_the_earlier():
    best = come_to(Counts.BEST, done(1, 4), done(2, 9), done(3, 9), done(4, 5))
    assert (best.points, best.out_of, best.numbers) == (9, 10, (2,))


def test_the_best_is_found_after_the_late_deduction():
    """8 of 10 in time beats 9 of 10 two days late: 9 x 0.8 = 7.2."""
    best = come_to(Counts.BEST, done(1, 8), done(2, 9, at=DUE + DAY + HOUR), **TENTH_A_DAY)
    assert (best.points, best.numbers, best.late) == (8, (1,), False)


def test_the_last_counts_even_where_it_is_worse():
    last = come_to(Counts.LAST, done(1, 9), done(2, 3))
    assert (last.points, last.numbers) == (3, (2,))


def test_the_average_counts_each_attempt_after_its_own_deduction():
    """10 in time and 8 one day late at 10 % a day: (10 + 7.2) / 2 = 8.6."""
    average = come_to(Counts.AVERAGE, done(1, 10), done(2, 8, at=DUE + HOUR), **TENTH_A_DAY)
    assert average.points == pytest.approx(8.6, abs=1e-12)
    assert (average.out_of, average.numbers, average.late) == (10, (1, 2), True)


def test_attempts_out_of_different_points_are_compared_by_their_share():
    """9 of 12 is three quarters, 8 of 10 four fifths."""
    best = come_to(Counts.BEST, done(1, 9, out_of=12), done(2, 8))
    assert (best.points, best.out_of, best.numbers) == (8, 10, (2,))
    assert best.share == pytest.approx(0.8)


def test_no_attempt_counts_nothing_and_a_lab_without_points_is_no_fault():
    assert counted(rules(), []) is None
    assert come_to(Counts.BEST, done(1, 0, out_of=0)).share == 0
