"""The server's clock: labs that run out or close are handed in as they are, and nothing comes in after."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from app.domain.standing import GRACE, Exceptional, State
from app.services import assignments, bench, classes, due, exceptions, handing_in, practice
from app.services.errors import Refused
from app.services.labs import EndedBy
from app.store.db import Database
from tests import factories
from tests.services.lessons import Lesson, lesson, right_answers

MINUTE = timedelta(minutes=1)
SECOND = timedelta(seconds=1)


def under(database: Database, given: Lesson, now: datetime, **rules: Any) -> None:
    """Give the lesson's assignment these rules."""
    assignments.change(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        now=now,
        **(
            {"title": "Lab 1", "opens_at": now, "due_at": now + timedelta(days=1), "attempts_allowed": 2}
            | rules
        ),
    )


@pytest.fixture
def timed(database: Database, now: datetime) -> Lesson:
    """A lab of 30 minutes."""
    given = lesson(database, now=now)
    under(database, given, now, minutes=30)
    return given


def start(database: Database, given: Lesson, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=given.student, now=now)


def save(database: Database, given: Lesson, attempt_id: str, answer: str, now: datetime) -> None:
    practice.save_answer(
        database, attempt_id=attempt_id, student=given.student, task_id="static-angle", answer=answer, now=now
    )


def state(database: Database, given: Lesson, now: datetime) -> State:
    [row] = due.due_list(database, student=given.student, now=now)
    return row.state


def test_a_lab_whose_time_is_over_is_handed_in_with_what_is_saved_when_the_list_is_looked_at(
    database: Database, timed: Lesson, now: datetime
) -> None:
    attempt_id = start(database, timed, now)
    variant = practice.lab(database, attempt_id=attempt_id, student=timed.student).variant
    right = str(right_answers(variant)["static-angle"])
    save(database, timed, attempt_id, right, now + 29 * MINUTE)
    assert state(database, timed, now + 30 * MINUTE + GRACE) is State.IN_PROGRESS
    assert state(database, timed, now + 30 * MINUTE + GRACE + SECOND) is State.HANDED_IN
    result = practice.result(database, attempt_id=attempt_id, student=timed.student)
    assert result is not None
    assert result.points == 2, "what was saved is marked"
    assert result.lab.ended_by is EndedBy.TIME_LIMIT
    assert result.lab.handed_in_at == now + 30 * MINUTE, "as of its end, whenever somebody looks"


def test_a_lab_closes_at_the_closing_even_where_its_time_is_not_over(
    database: Database, now: datetime
) -> None:
    given = lesson(database, now=now)
    closes = now + timedelta(days=1)
    under(database, given, now, minutes=30, due_at=closes, closes_at=closes)
    attempt_id = start(database, given, closes - 10 * MINUTE)
    handing_in.hand_in_what_is_over(database, now=closes + MINUTE, attempt_id=attempt_id)
    lab = practice.lab(database, attempt_id=attempt_id, student=given.student)
    assert (lab.ended_by, lab.handed_in_at, lab.late) == (EndedBy.CLOSING, closes, False)


def test_answers_within_the_grace_are_kept_and_later_ones_refused_with_nothing_lost(
    database: Database, timed: Lesson, now: datetime
) -> None:
    attempt_id = start(database, timed, now)
    end = now + 30 * MINUTE
    save(database, timed, attempt_id, "10", end + GRACE)
    with pytest.raises(Refused, match=r"time was over Mon, Mar 4, 9:30 AM\. This came too late") as refused:
        save(database, timed, attempt_id, "20", end + GRACE + SECOND)
    assert refused.value.field == "answers"
    assert practice.lab(database, attempt_id=attempt_id, student=timed.student).answers == {
        "static-angle": "10"
    }


def test_an_action_at_the_bench_after_the_end_is_refused(database: Database, now: datetime) -> None:
    given = lesson(database, now=now, slug="bench-one-assembly")
    under(database, given, now, minutes=30)
    attempt_id = start(database, given, now)
    with pytest.raises(Refused, match="time was over"):
        bench.act(
            database,
            attempt_id=attempt_id,
            student=given.student,
            action={"do": "clean", "what": "face"},
            expect=0,
            now=now + 31 * MINUTE,
        )


def test_handing_in_after_the_end_hands_in_as_of_the_end_unreadable_answers_too(
    database: Database, timed: Lesson, now: datetime
) -> None:
    attempt_id = start(database, timed, now)
    save(database, timed, attempt_id, "north", now + MINUTE)
    practice.hand_in(database, attempt_id=attempt_id, student=timed.student, now=now + 45 * MINUTE)
    result = practice.result(database, attempt_id=attempt_id, student=timed.student)
    assert result is not None
    assert (result.points, result.lab.handed_in_at) == (0, now + 30 * MINUTE)
    [mark] = [mark for mark in result.marks if mark.task_id == "static-angle"]
    assert (mark.points, mark.your_answer) == (0, "north")


def test_handing_in_within_the_grace_counts_as_of_the_end(
    database: Database, timed: Lesson, now: datetime
) -> None:
    attempt_id = start(database, timed, now)
    practice.hand_in(
        database, attempt_id=attempt_id, student=timed.student, now=now + 30 * MINUTE + 5 * SECOND
    )
    lab = practice.lab(database, attempt_id=attempt_id, student=timed.student)
    assert (lab.handed_in_at, lab.ended_by) == (now + 30 * MINUTE, None)


def test_extra_time_stretches_a_running_lab_at_once(database: Database, timed: Lesson, now: datetime) -> None:
    attempt_id = start(database, timed, now)
    classes.set_extra_time(
        database,
        class_id=timed.class_id,
        instructor=timed.instructor,
        student_id=timed.student.public_id,
        extra_time_factor=1.5,
        now=now,
    )
    save(database, timed, attempt_id, "10", now + 44 * MINUTE)
    assert handing_in.hand_in_what_is_over(database, now=now + 46 * MINUTE, student=timed.student) == 1


def test_an_exception_lets_one_student_in_after_closing_and_no_other(
    database: Database, now: datetime
) -> None:
    given = lesson(database, now=now)
    closed = now + 2 * MINUTE
    under(database, given, now, due_at=now + MINUTE, closes_at=closed)
    later = now + timedelta(days=1)
    with pytest.raises(Refused, match="closed"):
        start(database, given, later)
    other = factories.student(database, class_id=given.class_id, instructor=given.instructor)
    exceptions.set_exception(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        exception=Exceptional(due_at=later + MINUTE),
        now=now,
    )
    attempt_id = start(database, given, later)
    practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=later)
    assert not practice.lab(database, attempt_id=attempt_id, student=given.student).late
    with pytest.raises(Refused, match="closed"):
        practice.start_attempt(database, assignment_id=given.assignment_id, student=other, now=later)


def test_a_lab_by_exception_alone_closes_too(database: Database, now: datetime) -> None:
    given = lesson(database, now=now)
    exceptions.set_exception(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        exception=Exceptional(due_at=now + MINUTE, closes_at=now + MINUTE),
        now=now,
    )
    start(database, given, now)
    assert handing_in.hand_in_what_is_over(database, now=now + 2 * MINUTE, class_id=given.class_id) == 1


def test_only_what_is_over_is_handed_in_and_only_once(
    database: Database, timed: Lesson, now: datetime
) -> None:
    start(database, timed, now)
    other = factories.student(database, class_id=timed.class_id, instructor=timed.instructor)
    practice.start_attempt(database, assignment_id=timed.assignment_id, student=other, now=now + 20 * MINUTE)
    later = now + 35 * MINUTE
    for expected in (1, 0):
        handed_in = handing_in.hand_in_what_is_over(database, now=later, assignment_id=timed.assignment_id)
        assert handed_in == expected
    assert handing_in.hand_in_what_is_over(database, now=now + 60 * MINUTE, student=timed.student) == 0


def test_a_class_that_is_put_away_keeps_its_open_labs_as_they_are(
    database: Database, timed: Lesson, now: datetime
) -> None:
    attempt_id = start(database, timed, now)
    classes.archive_class(
        database, class_id=timed.class_id, instructor=timed.instructor, archived=True, now=now
    )
    assert handing_in.hand_in_what_is_over(database, now=now + 60 * MINUTE, attempt_id=attempt_id) == 0
    assert practice.lab(database, attempt_id=attempt_id, student=timed.student).handed_in_at is None


def test_a_new_attempt_after_the_time_ran_out_is_another_one(
    database: Database, timed: Lesson, now: datetime
) -> None:
    first = start(database, timed, now)
    second = start(database, timed, now + 60 * MINUTE)
    assert second != first
    assert practice.lab(database, attempt_id=second, student=timed.student).number == 2
