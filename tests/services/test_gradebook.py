"""The gradebook against sums worked by hand, grades set by hand, categories and history."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from app.domain.standing import State
from app.services import (
    assignments,
    categories,
    gradebook,
    hand_grades,
    practice,
    reflection_prompts,
    reflection_workflow,
    reflections,
)
from app.services.errors import NotFound, Refused
from app.services.gradebook import Gradebook, GradeCell
from app.store.db import Database
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers

POINTS = 15
"""Of the lab that these lessons give."""


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


def book(database: Database, given: Lesson, now: datetime) -> Gradebook:
    return gradebook.gradebook(database, class_id=given.class_id, instructor=given.instructor, now=now)


def cell(database: Database, given: Lesson, now: datetime) -> GradeCell:
    return book(database, given, now).rows[0].cells[0]


def hand_in(database: Database, given: Lesson, now: datetime, *, only: int | None = None) -> str:
    """Hands in the right answers, or only the first few of them."""
    attempt_id = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    variant = practice.lab(database, attempt_id=attempt_id, student=given.student).variant
    answers = dict(list(right_answers(variant).items())[:only])
    lessons.hand_in(database, attempt_id=attempt_id, student=given.student, answers=answers, now=now)
    return attempt_id


def another(database: Database, given: Lesson, now: datetime, title: str, **rules: object) -> Lesson:
    """The same lab given to the class once more."""
    assignment_id = assignments.assign(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        scenario_id=given.scenario_id,
        title=title,
        opens_at=now - timedelta(days=1),
        due_at=now + timedelta(days=1),
        attempts_allowed=None,
        now=now,
        **rules,
    )
    return replace(given, assignment_id=assignment_id)


def set_points(database: Database, given: Lesson, now: datetime, points: float | None, **more: str) -> None:
    hand_grades.set_by_hand(
        database,
        assignment_id=given.assignment_id,
        student_id=given.student.public_id,
        instructor=given.instructor,
        points=points,
        reason=more.get("reason", "measured on the real machine"),
        comment=more.get("comment", ""),
        now=now,
    )


def test_a_cell_says_in_words_how_far_the_student_is(
    database: Database, given: Lesson, now: datetime
) -> None:
    assert cell(database, given, now).state is State.TO_DO
    assert cell(database, given, now + timedelta(days=5)).state is State.OVERDUE
    started = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    assert (cell(database, given, now).state, cell(database, given, now).attempt_id) == (
        State.IN_PROGRESS,
        started,
    )
    assert hand_in(database, given, now) == started
    assert cell(database, given, now).state is State.HANDED_IN


def test_the_best_attempt_counts_and_says_if_it_was_late(
    database: Database, given: Lesson, now: datetime
) -> None:
    first = hand_in(database, given, now, only=1)
    assert cell(database, given, now).attempt_id == first
    second = hand_in(database, given, now + timedelta(days=2))
    best = cell(database, given, now + timedelta(days=2))
    assert (best.attempt_id, best.state, best.attempts) == (second, State.LATE, 2)
    assert best.points == pytest.approx(POINTS)


def test_a_cell_shows_what_counts_after_the_late_deduction(
    database: Database, given: Lesson, now: datetime
) -> None:
    """Two days begun at 10 percent a day leave 80 percent of 15 points: 12."""
    late = another(database, given, now, "Late", late_percent_per_day=10.0)
    hand_in(database, late, now + timedelta(days=2, hours=1))
    found = book(database, given, now + timedelta(days=3)).rows[0].cells[1]
    assert (found.state, found.points, found.marked_points) == (
        State.LATE,
        pytest.approx(12),
        pytest.approx(12),
    )
    assert found.standing.attempt(1).earned == pytest.approx(POINTS)


def test_a_total_counts_a_missing_lab_as_nothing_and_leaves_practice_out(
    database: Database, given: Lesson, now: datetime
) -> None:
    hand_in(database, another(database, given, now, "Second"), now)
    hand_in(database, another(database, given, now, "Practice", practice=True), now, only=1)
    total = book(database, given, now).rows[0].total
    assert (total.points, total.out_of) == (POINTS, POINTS)
    total = book(database, given, now + timedelta(days=5)).rows[0].total
    assert (total.points, total.out_of) == (POINTS, 2 * POINTS)


def test_categories_weigh_and_drop_the_lowest(database: Database, given: Lesson, now: datetime) -> None:
    """Labs 15 of 15 with the missing one dropped, tests 0 of 15: (3 x 1 + 1 x 0) / 4 = 0.75."""
    done, missing, test = (another(database, given, now, name) for name in ("One", "Two", "Test"))
    hand_in(database, done, now)
    ids = {}
    for name, weight, drop in (("Labs", 3.0, 1), ("Tests", 1.0, 0)):
        ids[name] = categories.add_category(
            database,
            class_id=given.class_id,
            instructor=given.instructor,
            name=name,
            weight=weight,
            drop_lowest=drop,
            now=now,
        )
    for each, name in ((done, "Labs"), (missing, "Labs"), (test, "Tests")):
        categories.put_in_category(
            database,
            class_id=given.class_id,
            instructor=given.instructor,
            assignment_id=each.assignment_id,
            category_id=ids[name],
            now=now,
        )
    found = book(database, given, now + timedelta(days=5))
    assert [each.title for each in found.columns if each.category == ids["Labs"]] == ["One", "Two"]
    total = found.rows[0].total
    assert total.share == pytest.approx(0.75)
    assert [found.columns[place].title for place in total.dropped] == ["Two"]
    categories.remove_category(
        database, class_id=given.class_id, instructor=given.instructor, category_id=ids["Labs"], now=now
    )
    assert book(database, given, now + timedelta(days=5)).rows[0].total.share == 0


def test_points_set_by_hand_stand_until_they_are_taken_back(
    database: Database, given: Lesson, now: datetime
) -> None:
    hand_in(database, given, now, only=1)
    marked = cell(database, given, now).points
    set_points(database, given, now, 13.5, comment="Well explained at the machine.")
    found = cell(database, given, now)
    assert (found.points, found.marked_points, found.by_hand) == (13.5, marked, True)
    assert (found.beside.reason, found.beside.comment) == (
        "measured on the real machine",
        "Well explained at the machine.",
    )
    assert book(database, given, now).rows[0].total.points == 13.5
    set_points(database, given, now, None, reason="")
    assert (cell(database, given, now).points, cell(database, given, now).by_hand) == (marked, False)


def test_points_set_by_hand_count_where_nothing_was_handed_in(
    database: Database, given: Lesson, now: datetime
) -> None:
    set_points(database, given, now, 10)
    total = book(database, given, now).rows[0].total
    assert (total.points, total.out_of) == (10, POINTS)


def test_the_points_of_a_reflection_sheet_count_with_its_lab(
    database: Database, given: Lesson, now: datetime
) -> None:
    """15 of 15 at the lab and 3 of 5 for the sheet: 18 of 20."""
    place = {"assignment_id": given.assignment_id, "instructor": given.instructor, "now": now}
    reflection_prompts.set_points(database, **place, out_of=5)
    hand_in(database, given, now)
    prompt = reflections.sheet(database, assignment_id=given.assignment_id, student=given.student).prompts[0]
    reflections.save(
        database,
        assignment_id=given.assignment_id,
        student=given.student,
        prompt_id=prompt.id,
        text="The weight goes opposite.",
        now=now,
    )
    reflection_workflow.hand_in(database, assignment_id=given.assignment_id, student=given.student, now=now)
    assert cell(database, given, now).beside.sheet_points is None
    reflection_workflow.give_back(
        database,
        **place,
        student_id=given.student.public_id,
        again=False,
        comment="",
        points=3,
        seen_steps=1,
    )
    found = cell(database, given, now)
    assert (found.points, found.beside.sheet_points, found.beside.sheet_out_of) == (
        pytest.approx(POINTS),
        3,
        5,
    )
    total = book(database, given, now).rows[0].total
    assert (total.points, total.out_of) == (pytest.approx(18), 20)


@pytest.mark.parametrize(
    ("points", "reason", "field"),
    [
        (-1, "x", "points"),
        (2 * POINTS + 0.1, "x", "points"),
        (float("nan"), "x", "points"),
        (3, " ", "reason"),
    ],
)
def test_a_grade_that_can_not_be_is_refused_by_its_field(
    database: Database, given: Lesson, now: datetime, points: float, reason: str, field: str
) -> None:
    with pytest.raises(Refused) as refused:
        set_points(database, given, now, points, reason=reason)
    assert refused.value.field == field
    assert cell(database, given, now).points is None


def test_the_history_tells_every_mark_and_every_grade(
    database: Database, given: Lesson, now: datetime
) -> None:
    hand_in(database, given, now, only=1)
    set_points(database, given, now + timedelta(hours=1), 13, comment="Well measured.")
    set_points(database, given, now + timedelta(hours=2), None, reason="it was another student")
    told = hand_grades.history(
        database,
        assignment_id=given.assignment_id,
        student_id=given.student.public_id,
        instructor=given.instructor,
    )
    assert [(each.what, each.points, each.stands) for each in told] == [
        ("no grade by hand", None, True),
        ("set by hand", 13, False),
        ("attempt 1: handed in", cell(database, given, now).points, True),
    ]
    assert [each.by for each in told] == ["Robin Lang", "Robin Lang", None]
    assert [each.reason for each in told] == [
        "it was another student",
        "measured on the real machine — Well measured.",
        "",
    ]


def test_another_instructor_sees_and_changes_nothing(
    database: Database, given: Lesson, now: datetime
) -> None:
    other = replace(given, instructor=factories.instructor(database))
    with pytest.raises(NotFound):
        book(database, other, now)
    with pytest.raises(NotFound):
        set_points(database, other, now, 1)
    with pytest.raises(NotFound):
        categories.add_category(
            database,
            class_id=given.class_id,
            instructor=other.instructor,
            name="Labs",
            weight=1,
            drop_lowest=0,
            now=now,
        )


def test_the_queries_do_not_grow_with_the_class(
    database: Database, given: Lesson, now: datetime, queries
) -> None:
    def asked() -> int:
        with queries() as statements:
            book(database, given, now)
        return len(statements)

    hand_in(database, given, now)
    before = asked()
    for number in range(3):
        another(database, given, now, f"More {number}")
        factories.student(database, class_id=given.class_id, instructor=given.instructor)
    assert asked() == before
    assert before <= 8
