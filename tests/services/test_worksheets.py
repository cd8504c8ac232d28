"""Paper worksheets have the numbers of the attempt that follows them."""

from datetime import datetime

import pytest

from app.services import practice, worksheets
from app.services.errors import NotFound
from app.store.db import Database
from tests import factories
from tests.services.lessons import Lesson, hand_in, lesson, right_answers


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def sheet(database: Database, given: Lesson) -> worksheets.Worksheet:
    [found] = [
        each
        for each in worksheets.worksheets(
            database, assignment_id=given.assignment_id, instructor=given.instructor
        )
        if each.student_id == given.student.public_id
    ]
    return found


def start(database: Database, given: Lesson, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=given.student, now=now)


def test_a_sheet_printed_before_the_attempt_has_the_numbers_of_the_attempt(
    database: Database, given: Lesson, now: datetime
) -> None:
    printed = sheet(database, given)
    lab = practice.lab(database, attempt_id=start(database, given, now), student=given.student)
    assert (printed.number, printed.variant) == (lab.number, lab.variant)
    assert right_answers(printed.variant) == right_answers(lab.variant)
    assert sheet(database, given) == printed


def test_after_an_attempt_is_handed_in_the_sheet_is_that_of_the_next(
    database: Database, given: Lesson, now: datetime
) -> None:
    first = sheet(database, given)
    hand_in(database, attempt_id=start(database, given, now), student=given.student, now=now, answers={})
    second = sheet(database, given)
    assert second.number == 2
    assert right_answers(second.variant) != right_answers(first.variant)
    lab = practice.lab(database, attempt_id=start(database, given, now), student=given.student)
    assert lab.variant == second.variant


def test_when_every_attempt_is_used_the_sheet_is_that_of_the_last(
    database: Database, given: Lesson, now: datetime
) -> None:
    for _ in range(2):  # as many as the lesson allows
        attempt_id = start(database, given, now)
        hand_in(database, attempt_id=attempt_id, student=given.student, now=now, answers={})
    last = practice.lab(database, attempt_id=attempt_id, student=given.student)
    assert (sheet(database, given).number, sheet(database, given).variant) == (2, last.variant)


def test_each_student_of_the_class_has_an_own_sheet(database: Database, given: Lesson) -> None:
    factories.student(database, class_id=given.class_id, instructor=given.instructor)
    found = worksheets.worksheets(database, assignment_id=given.assignment_id, instructor=given.instructor)
    assert len(found) == 2
    assert right_answers(found[0].variant) != right_answers(found[1].variant)


def test_another_instructor_gets_no_worksheets(database: Database, given: Lesson) -> None:
    with pytest.raises(NotFound):
        worksheets.worksheets(
            database, assignment_id=given.assignment_id, instructor=factories.instructor(database)
        )
