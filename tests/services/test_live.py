"""A running lab as it is watched, and what a class understood of it, on a real database."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from app.domain.answers import Raw
from app.domain.wrong_turns import words_of
from app.services import live, practice, understanding
from app.services.accounts import Person
from app.services.errors import NotFound
from app.services.live import Doing, Room
from app.services.understanding import TurnRow
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def another_student(database: Database, given: Lesson) -> Person:
    return factories.student(database, class_id=given.class_id, instructor=given.instructor)


def begin(database: Database, given: Lesson, student: Person, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=student, now=now)


def save(
    database: Database, attempt_id: str, student: Person, now: datetime, answers: Mapping[str, Raw]
) -> None:
    practice.save_answers(database, attempt_id=attempt_id, student=student, answers=answers, now=now)


def right(database: Database, attempt_id: str, student: Person) -> dict[str, Raw]:
    return right_answers(practice.lab(database, attempt_id=attempt_id, student=student).variant)


def at_the_heavy_spot(database: Database, attempt_id: str, student: Person) -> str:
    """The weight where the wheel is heavy instead of opposite."""
    model = practice.lab(database, attempt_id=attempt_id, student=student).variant.model
    return f"{(float(model.value('assembly[A].single.angle_deg')) + 180) % 360:.1f}"


def room(database: Database, given: Lesson, now: datetime) -> Room:
    return live.room(database, assignment_id=given.assignment_id, instructor=given.instructor, now=now)


def test_who_is_where_and_who_may_need_help(database: Database, given: Lesson, now: datetime) -> None:
    minute = timedelta(minutes=1)
    silent, done, absent = (another_student(database, given) for _ in range(3))
    working = begin(database, given, given.student, now)
    save(database, working, given.student, now + 9 * minute, {"single-angle": "10"})
    save(database, begin(database, given, silent, now), silent, now + minute, {"single-angle": "10"})
    finished = begin(database, given, done, now)
    answers = right(database, finished, done)
    lessons.hand_in(database, attempt_id=finished, student=done, now=now + 2 * minute, answers=answers)
    seats = {seat.student_id: seat for seat in room(database, given, now + 10 * minute).seats}
    assert [seats[each.public_id].doing for each in (given.student, silent, done, absent)] == [
        Doing.WORKING,
        Doing.STUCK,
        Doing.DONE,
        Doing.NOT_STARTED,
    ]
    assert seats[silent.public_id].why == "nothing saved for 9 min"
    assert (seats[given.student.public_id].answered, seats[done.public_id].share) == (1, 1)


def test_many_wrong_answers_to_one_task_may_need_help(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = begin(database, given, given.student, now)
    answer = at_the_heavy_spot(database, attempt_id, given.student)
    for number in range(live.MANY_CHANGES - 1):
        typed = f"{float(answer) + 30 * (number + 1):.1f}"
        save(database, attempt_id, given.student, now, {"single-angle": f"{float(typed) % 360:.1f}"})
    assert room(database, given, now).seats[0].doing is Doing.WORKING
    save(database, attempt_id, given.student, now, {"single-angle": answer})
    [seat] = room(database, given, now).seats
    assert (seat.doing, seat.why[:19]) == (Doing.STUCK, "4 different answers")


def test_wrong_turns_are_seen_while_the_lab_is_still_open(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = begin(database, given, given.student, now)
    assert room(database, given, now).turns == ()
    answer = at_the_heavy_spot(database, attempt_id, given.student)
    save(database, attempt_id, given.student, now, {"single-angle": answer})
    assert room(database, given, now).turns == (TurnRow(words_of("at-the-heavy-spot"), 1),)


def test_the_class_s_understanding_is_of_the_attempts_that_count(
    database: Database, given: Lesson, now: datetime
) -> None:
    other = another_student(database, given)
    another_student(database, given)
    for student, mistaken in ((given.student, True), (given.student, False), (other, True)):
        attempt_id = begin(database, given, student, now)
        answers = right(database, attempt_id, student)
        if mistaken:
            answers["single-angle"] = at_the_heavy_spot(database, attempt_id, student)
        lessons.hand_in(
            database, attempt_id=attempt_id, student=student, now=now + timedelta(minutes=1), answers=answers
        )
    seen = understanding.of_assignment(
        database, assignment_id=given.assignment_id, instructor=given.instructor
    )
    assert (seen.students, seen.handed_in) == (3, 2)
    task = next(each for each in seen.tasks if each.task_id == "single-angle")
    assert (task.difficulty, task.answered) == (0.5, 2)
    assert task.turns == seen.turns == (TurnRow(words_of("at-the-heavy-spot"), 1),)
    rows = understanding.by_skill(database, class_id=given.class_id, instructor=given.instructor, now=now)
    assert rows
    assert all(row.grades == 2 and row.labs == ("Lab 1",) for row in rows)
    assert rows[0].share == pytest.approx(sum(seen.shares) / 2)


def test_another_instructor_sees_nothing(database: Database, given: Lesson, now: datetime) -> None:
    other = replace(given, instructor=factories.instructor(database))
    place = {"assignment_id": given.assignment_id, "instructor": other.instructor}
    with pytest.raises(NotFound):
        live.room(database, **place, now=now)
    with pytest.raises(NotFound):
        understanding.of_assignment(database, **place)
    with pytest.raises(NotFound):
        understanding.by_skill(database, class_id=given.class_id, instructor=other.instructor, now=now)


def test_the_queries_do_not_grow_with_the_class(
    database: Database, given: Lesson, now: datetime, queries
) -> None:
    def one_more() -> None:
        student = another_student(database, given)
        save(database, begin(database, given, student, now), student, now, {"single-angle": "10"})

    def asked() -> int:
        with queries() as statements:
            room(database, given, now)
            understanding.of_assignment(
                database, assignment_id=given.assignment_id, instructor=given.instructor
            )
        return len(statements)

    one_more()
    before = asked()
    one_more()
    one_more()
    assert asked() == before


@pytest.mark.parametrize(
    ("silence", "words"),
    [
        (timedelta(minutes=119), "nothing saved for 119 min"),
        (timedelta(hours=47), "nothing saved for 47 hours"),
        (timedelta(days=3, hours=14), "nothing saved for 3 days"),
    ],
)
def test_a_long_silence_is_told_in_hours_or_days(
    database: Database, given: Lesson, now: datetime, silence: timedelta, words: str
) -> None:
    begin(database, given, given.student, now)
    seats = {seat.student_id: seat for seat in room(database, given, now + silence).seats}
    assert seats[given.student.public_id].why == words
