"""What a student may do now, why not, until when, and in which word it stands."""

from datetime import timedelta

import pytest

from app.domain.standing import GRACE, Exceptional, Solutions, State, Unlock, standing
from tests.domain.standing.ordinary import DAY, DUE, HOUR, OPENS, begun, done, rules

SECOND = timedelta(seconds=1)
CLOSES = DUE + 2 * DAY


@pytest.mark.parametrize(
    ("now", "tries", "changed", "state", "may_start"),
    [
        (OPENS - SECOND, [], {}, State.NOT_OPEN, False),
        (OPENS, [], {}, State.TO_DO, True),
        (DUE, [], {}, State.TO_DO, True),
        (DUE + SECOND, [], {}, State.OVERDUE, True),
        (DUE + 400 * DAY, [], {}, State.OVERDUE, True),
        (CLOSES - SECOND, [], {"closes_at": CLOSES}, State.OVERDUE, True),
        (CLOSES, [], {"closes_at": CLOSES}, State.MISSING, False),
        (DUE, [begun()], {}, State.IN_PROGRESS, False),
        (DUE, [done(1, 5)], {}, State.HANDED_IN, True),
        (DUE, [done(1, 5), done(2, 6)], {}, State.HANDED_IN, False),
        (DUE, [done(1, 5), done(2, 6)], {"attempts_allowed": None}, State.HANDED_IN, True),
        (DUE, [done(1, 5), begun(2)], {}, State.IN_PROGRESS, False),
        (CLOSES, [done(1, 5)], {"closes_at": CLOSES}, State.HANDED_IN, False),
        (CLOSES, [done(1, 5, at=DUE + SECOND)], {}, State.LATE, True),
        (DUE, [done(1, 5, at=DUE)], {}, State.HANDED_IN, True),
    ],
)
def test_how_it_stands_in_a_word_and_whether_it_may_be_started(now, tries, changed, state, may_start):
    stands = standing(rules(**changed), tries, now)
    assert (stands.state, stands.may_start) == (state, may_start)
    assert bool(stands.why_not) == (not stands.may_start and not stands.may_continue)


@pytest.mark.parametrize(
    ("now", "tries", "changed", "says"),
    [
        (OPENS - DAY, [], {}, "This lab opens Mon, Mar 4, 9:00 AM."),
        (CLOSES, [], {"closes_at": CLOSES}, "closed Fri, Mar 8, 9:00 AM"),
        (DUE, [done(1, 5), done(2, 5)], {}, "Every attempt is used."),
        (DUE, [], {"unlock": Unlock("Lab 0", None, False)}, "once you have handed in “Lab 0”"),
        (DUE, [], {"unlock": Unlock("Lab 0", 70.0, False)}, "reached 70 % of the points at “Lab 0”"),
        (DUE, [begun()], {"minutes": 30}, "time was over Mon, Mar 4, 9:30 AM; what was saved by then"),
    ],
)
def test_why_nothing_can_be_done_is_said_with_the_date_in_the_class_s_zone(now, tries, changed, says):
    assert says in standing(rules(**changed), tries, now).why_not


def test_a_class_that_is_put_away_lets_nothing_be_done():
    for tries in ([], [begun()]):
        stands = standing(rules(), tries, DUE, put_away=True)
        assert (stands.may_start, stands.may_continue) == (False, False)
        assert "put away" in stands.why_not


def test_what_comes_first_opens_it_and_keeps_nobody_out_who_has_begun():
    locked = standing(rules(unlock=Unlock("Lab 0", None, False)), [], DUE)
    assert (locked.state, locked.may_start) == (State.LOCKED, False)
    assert standing(rules(unlock=Unlock("Lab 0", None, True)), [], DUE).may_start
    assert standing(rules(unlock=Unlock("Lab 0", None, False)), [begun()], DUE).may_continue


def test_an_attempt_ends_with_its_time_limit_or_the_closing_whichever_comes_first():
    timed = rules(minutes=40, closes_at=CLOSES)
    assert timed.ends_at(OPENS) == OPENS + timedelta(minutes=40)
    assert timed.ends_at(CLOSES - 10 * SECOND) == CLOSES
    assert rules(closes_at=CLOSES).ends_at(OPENS) == CLOSES
    assert rules().ends_at(OPENS) is None


def test_extra_time_stretches_the_time_limit_and_nothing_else():
    """40 minutes x 1.5 = 60 minutes; the closing stands."""
    own = rules(minutes=40, closes_at=CLOSES).for_student(None, extra_time_factor=1.5)
    assert own.ends_at(OPENS) == OPENS + HOUR
    assert own.ends_at(CLOSES - HOUR / 2) == CLOSES
    assert (own.due_at, own.closes_at) == (DUE, CLOSES)


def test_up_to_the_end_and_the_grace_after_it_answers_are_taken_and_no_longer():
    timed = rules(minutes=30)
    end = OPENS + timedelta(minutes=30)
    assert GRACE.total_seconds() == 10
    for now, open_still in ((end, True), (end + GRACE, True), (end + GRACE + SECOND, False)):
        stands = standing(timed, [begun()], now)
        assert (stands.may_continue, timed.is_over(OPENS, now)) == (open_still, not open_still)
    assert standing(timed, [begun()], OPENS + HOUR).may_start is False, "it is handed in first"


def test_until_when_it_may_be_done_is_the_attempt_s_end_or_the_closing():
    assert standing(rules(closes_at=CLOSES, minutes=30), [begun()], OPENS).until == OPENS + HOUR / 2
    assert standing(rules(closes_at=CLOSES, minutes=30), [], OPENS).until == CLOSES
    assert standing(rules(), [], OPENS).until is None
    assert standing(rules(closes_at=CLOSES), [], CLOSES).until is None


def test_an_exception_gives_one_student_other_dates_attempts_and_time():
    own = rules(minutes=20).for_student(
        Exceptional(
            opens_at=OPENS - DAY,
            due_at=DUE + DAY,
            closes_at=CLOSES + DAY,
            attempts_allowed=5,
            time_factor=3.0,
        ),
        extra_time_factor=1.5,
    )
    assert (own.opens_at, own.due_at, own.closes_at) == (OPENS - DAY, DUE + DAY, CLOSES + DAY)
    assert (own.attempts_allowed, own.time_allowed) == (5, HOUR)
    assert standing(own, [], OPENS - HOUR).may_start


def test_a_student_reads_why_the_own_rules_are_otherwise():
    own = rules().for_student(Exceptional(due_at=DUE + DAY, reason="away with the team"))
    assert (own.reason, own.excused) == ("away with the team", None)


def test_what_an_exception_leaves_out_is_as_for_the_class():
    usual = rules(closes_at=CLOSES, minutes=20)
    assert usual.for_student(Exceptional(), extra_time_factor=1.0) == usual
    assert usual.for_student(None) == usual


def test_an_own_due_time_after_the_closing_lets_the_student_in_after_closing():
    closed = rules(closes_at=CLOSES)
    own = closed.for_student(Exceptional(due_at=CLOSES + 3 * DAY))
    assert own.closes_at == CLOSES + 3 * DAY
    assert not standing(closed, [], CLOSES + DAY).may_start
    assert standing(own, [], CLOSES + DAY).state is State.TO_DO


def test_one_more_attempt_by_exception_opens_a_lab_whose_attempts_are_used():
    used = [done(1, 3), done(2, 4)]
    assert not standing(rules(), used, DUE).may_start
    assert standing(rules().for_student(Exceptional(attempts_allowed=3)), used, DUE).may_start


def test_who_is_excused_has_nothing_missing_and_may_still_do_it():
    own = rules().for_student(Exceptional(excused=True, reason="ill that week"))
    stands = standing(own, [], DUE + DAY)
    assert (stands.state, stands.rules.excused) == (State.EXCUSED, "ill that week")
    assert stands.may_start
    assert not stands.in_totals
    assert not standing(own, [done(1, 9)], DUE + DAY).in_totals


def test_totals_hold_what_is_handed_in_or_past_due_and_no_practice():
    assert not standing(rules(), [], DUE).in_totals
    assert standing(rules(), [], DUE + SECOND).in_totals, "missing work counts as nothing"
    assert standing(rules(), [done(1, 9)], OPENS + HOUR).in_totals
    assert standing(rules(), [begun()], DUE + SECOND).in_totals
    assert not standing(rules(practice=True), [done(1, 9)], DUE + DAY).in_totals


def test_practice_still_shows_what_was_reached():
    stands = standing(rules(practice=True), [done(1, 9)], DUE)
    assert (stands.counted.points, stands.state) == (9, State.HANDED_IN)


def test_worked_solutions_are_shown_after_the_attempt_or_only_from_the_closing_on():
    assert rules().shows_solutions(OPENS)
    after = rules(solutions=Solutions.AFTER_CLOSING, closes_at=CLOSES)
    assert not after.shows_solutions(CLOSES - SECOND)
    assert after.shows_solutions(CLOSES)


def test_each_attempt_can_be_asked_by_its_number():
    stands = standing(rules(), [done(1, 4), done(2, 9), begun(3)], DUE)
    assert stands.attempt(2).points == 9
    assert stands.attempt(3) is None
