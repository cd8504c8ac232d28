"""One attempt, marks by hand and reflection sheets, on a real database."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import datetime

import pytest

from app.domain.marking import Verdict
from app.domain.standing import Counts
from app.services import assignments, hand_grades, practice, reflections, review
from app.services.errors import NotFound, Refused
from app.services.gradebook import GradeCell, gradebook
from app.services.page_saves import PageSave
from app.store.choices import EventKind
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def hand_in(database: Database, given: Lesson, now: datetime, *, only: int | None = None) -> str:
    """Hands in the right answers, or only the first few of them."""
    attempt_id = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    variant = practice.lab(database, attempt_id=attempt_id, student=given.student).variant
    answers = dict(list(right_answers(variant).items())[:only])
    lessons.hand_in(database, attempt_id=attempt_id, student=given.student, answers=answers, now=now)
    return attempt_id


def cell(database: Database, given: Lesson, now: datetime) -> GradeCell:
    book = gradebook(database, class_id=given.class_id, instructor=given.instructor, now=now)
    return book.rows[0].cells[0]


def test_an_attempt_shows_every_answer_with_key_mark_and_events(
    database: Database, given: Lesson, now: datetime
) -> None:
    attempt_id = hand_in(database, given, now)
    seen = review.attempt(database, attempt_id=attempt_id, instructor=given.instructor)
    assert seen.handed_in
    assert len(seen.result.marks) == len(seen.result.lab.variant.scenario.tasks)
    assert all(mark.right_answer and mark.reason for mark in seen.result.marks)
    assert [event.number for event in seen.events] == list(range(1, len(seen.events) + 1))
    assert seen.events[-1].kind is EventKind.HAND_IN


def test_another_instructor_sees_nothing_of_it(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = hand_in(database, given, now)
    other = factories.instructor(database)
    for refused in (
        lambda: review.attempt(database, attempt_id=attempt_id, instructor=other),
        lambda: reflections.sheets(database, assignment_id=given.assignment_id, instructor=other),
    ):
        with pytest.raises(NotFound):
            refused()


def test_a_text_is_marked_by_hand_and_the_earlier_mark_stays_as_superseded(
    database: Database, now: datetime
) -> None:
    given = lesson(database, now=now, slug="four-assemblies")
    attempt_id = hand_in(database, given, now)
    before = review.attempt(database, attempt_id=attempt_id, instructor=given.instructor).result
    [waiting] = [mark for mark in before.marks if mark.verdict is Verdict.WAITING]
    assert before.waiting == cell(database, given, now).waiting == 1
    mark = {
        "attempt_id": attempt_id,
        "instructor": given.instructor,
        "task_id": waiting.task_id,
        "comment": "Say which side the driver sits on.",
        "now": now,
    }
    with pytest.raises(Refused, match="Give 0 to"):
        review.mark_text(database, points=waiting.out_of + 1, **mark)
    review.mark_text(database, points=waiting.out_of / 2, **mark)
    after = practice.result(database, attempt_id=attempt_id, student=given.student)
    assert after.points == pytest.approx(before.points + waiting.out_of / 2)
    assert after.comments[waiting.task_id] == "Say which side the driver sits on."
    assert cell(database, given, now).points == pytest.approx(after.points)
    review.mark_text(database, points=waiting.out_of, **mark)
    assert practice.result(database, attempt_id=attempt_id, student=given.student).points == pytest.approx(
        before.points + waiting.out_of
    )
    [told] = hand_grades.history(
        database,
        assignment_id=given.assignment_id,
        student_id=given.student.public_id,
        instructor=given.instructor,
    )
    title = next(task.title for task in after.lab.variant.scenario.tasks if task.id == waiting.task_id)
    assert (told.what, set(told.reason.split(", "))) == ("attempt 1: marked by hand", {title})


def test_a_marked_number_can_not_be_marked_by_hand(database: Database, given: Lesson, now: datetime) -> None:
    attempt_id = hand_in(database, given, now)
    with pytest.raises(NotFound):
        review.mark_text(
            database,
            attempt_id=attempt_id,
            instructor=given.instructor,
            task_id="static-angle",
            points=1,
            comment="",
            now=now,
        )


def test_a_reflection_sheet_keeps_what_was_typed_beside_the_best_result(
    database: Database, given: Lesson, now: datetime
) -> None:
    text = "It feels the pull.\n=2+3 “quoted” <b>"
    place = {"assignment_id": given.assignment_id, "student": given.student, "now": now}
    reflections.save(database, prompt_id="senses", text="It feels", **place)
    reflections.save(database, prompt_id="senses", text=text, **place)
    hand_in(database, given, now)
    [read] = reflections.sheets(database, assignment_id=given.assignment_id, instructor=given.instructor)
    assert read.sheet.prompts[0].response == text
    assert read.sheet.written == 1
    assert read.sheet.result is not None
    assert read.sheet.result.points == pytest.approx(15)


def test_a_closing_page_s_texts_may_arrive_in_any_order(
    database: Database, given: Lesson, now: datetime
) -> None:
    def save(text: str, page_save: PageSave | None) -> str:
        reflections.save(
            database,
            assignment_id=given.assignment_id,
            student=given.student,
            prompt_id="senses",
            text=text,
            now=now,
            page_save=page_save,
        )
        sheet = reflections.sheet(database, assignment_id=given.assignment_id, student=given.student)
        return sheet.prompts[0].response

    assert save("two", PageSave("page-one", 2)) == "two"
    assert save("one", PageSave("page-one", 1)) == "two"
    assert save("two", PageSave("page-one", 4)) == "two"
    assert save("three", PageSave("page-one", 3)) == "two"
    assert save("by the form", None) == "by the form"
    assert save("another tab", PageSave("page-two", 1)) == "another tab"


def test_the_sheets_of_three_students_take_as_many_queries_as_those_of_one(
    database: Database,
    given: Lesson,
    now: datetime,
    queries: Callable[[], AbstractContextManager[list[str]]],
) -> None:
    def asked() -> tuple[int, list[float | None]]:
        with queries() as statements:
            sheets = reflections.sheets(
                database, assignment_id=given.assignment_id, instructor=given.instructor
            )
        return len(statements), [each.sheet.result and each.sheet.result.points for each in sheets]

    hand_in(database, given, now, only=1)
    hand_in(database, given, now)
    few, points = asked()
    assert points == [pytest.approx(15)], "the better of two attempts"
    for count in (None, 3):
        another = factories.student(database, class_id=given.class_id, instructor=given.instructor)
        hand_in(database, replace(given, student=another), now, only=count)
    factories.student(database, class_id=given.class_id, instructor=given.instructor)
    many, points = asked()
    assert many == few
    assert None in points
    assert len(points) == 4


def test_a_prompt_that_is_not_on_the_sheet_is_not_found(
    database: Database, given: Lesson, now: datetime
) -> None:
    with pytest.raises(NotFound):
        reflections.save(
            database,
            assignment_id=given.assignment_id,
            student=given.student,
            prompt_id="no-such",
            text="x",
            now=now,
        )


@pytest.mark.parametrize(("counts", "number"), [(Counts.BEST, 1), (Counts.LAST, 2), (Counts.AVERAGE, 2)])
def test_the_reflection_sheet_stands_beside_the_attempt_that_counts(
    database: Database, given: Lesson, now: datetime, counts: Counts, number: int
) -> None:
    row = assignments.one(database, assignment_id=given.assignment_id, instructor=given.instructor).row
    assignments.change(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        now=now,
        title=row.title,
        opens_at=row.opens_at,
        due_at=row.due_at,
        attempts_allowed=2,
        counts=counts,
    )
    hand_in(database, given, now)
    hand_in(database, given, now, only=2)
    own = reflections.sheet(database, assignment_id=given.assignment_id, student=given.student)
    [theirs] = reflections.sheets(database, assignment_id=given.assignment_id, instructor=given.instructor)
    for sheet in (own, theirs.sheet):
        assert sheet.result is not None
        assert sheet.result.lab.number == number
