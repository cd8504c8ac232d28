"""Marking work again: who changes and by how much, in one transaction, and nothing by doing it twice."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from app.domain.answers import Raw
from app.domain.draws import seed_of
from app.services import assignments, practice, regrading, review
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.regrading import RegradePreview
from app.store.db import Database
from app.store.models import Assignment, Attempt, Audit, Mark
from tests import factories
from tests.services import lessons
from tests.services.lessons import Lesson, lesson, right_answers
from tests.services.new_version import new_version

MORE_POINTS = ('points = 2\nexplain = "The sum points', 'points = 4\nexplain = "The sum points')
"""The direction of the sum is worth 4 points instead of 2."""

STRICTER = ("tolerance = { relative = 0.05 }", "tolerance = { relative = 0.01 }")
OTHER_NUMBERS = ("mass_g = { low = 14, high = 30, step = 1 }", "mass_g = { low = 44, high = 60, step = 1 }")


@dataclass
class Desk:
    """An instructor's way to regrade one lesson."""

    database: Database
    lesson: Lesson
    now: datetime

    def preview(self, to_version: int | None = None) -> RegradePreview:
        return regrading.preview_regrade(
            self.database,
            assignment_id=self.lesson.assignment_id,
            instructor=self.lesson.instructor,
            to_version=to_version,
        )

    def regrade(self, to_version: int | None = None) -> RegradePreview:
        return regrading.regrade(
            self.database,
            assignment_id=self.lesson.assignment_id,
            instructor=self.lesson.instructor,
            to_version=to_version,
            expect=self.preview(to_version).stamp,
            now=self.now + timedelta(hours=1),
        )

    def hand_in(self, answers: dict[str, Raw] | None = None, student: Person | None = None) -> str:
        """An attempt with all right but for these answers."""
        student = student or self.lesson.student
        attempt_id = practice.start_attempt(
            self.database, assignment_id=self.lesson.assignment_id, student=student, now=self.now
        )
        lab = practice.lab(self.database, attempt_id=attempt_id, student=student)
        lessons.hand_in(
            self.database,
            attempt_id=attempt_id,
            student=student,
            answers=right_answers(lab.variant) | (answers or {}),
            now=self.now,
        )
        return attempt_id

    def points(self, attempt_id: str) -> tuple[float, float, int]:
        """Points, out of, and the number of the version."""
        with self.database.read() as session:
            row = session.scalars(select(Attempt).where(Attempt.public_id == attempt_id)).one()
            return row.points or 0.0, row.out_of or 0.0, row.scenario_version.number

    def rows(self, kind: Any) -> list[Any]:
        with self.database.read() as session:
            return list(session.scalars(select(kind).order_by(kind.id)))


@pytest.fixture
def desk(database: Database, now: datetime) -> Desk:
    return Desk(database, lesson(database, now=now), now)


def test_marking_again_by_the_same_version_changes_nothing(desk: Desk) -> None:
    desk.hand_in({"single-angle": "1", "static-size": ""})
    marks = len(desk.rows(Mark))
    preview = desk.preview()
    assert (len(preview.handed_in), preview.changed, preview.changes_anything) == (1, [], False)
    desk.regrade()
    assert len(desk.rows(Mark)) == marks
    assert "regrade" not in {row.action for row in desk.rows(Audit)}


def test_the_newest_of_many_saves_is_what_is_marked_again(desk: Desk) -> None:
    student = desk.lesson.student
    attempt_id = practice.start_attempt(
        desk.database, assignment_id=desk.lesson.assignment_id, student=student, now=desk.now
    )
    for saved in range(12):
        practice.save_answers(
            desk.database,
            attempt_id=attempt_id,
            student=student,
            answers={"static-angle": str(saved), "why-two": ["looks", "couple"][saved % 2]},
            now=desk.now,
        )
    practice.hand_in(desk.database, attempt_id=attempt_id, student=student, now=desk.now)
    (kept,) = [mark for mark in desk.rows(Mark) if mark.task_id == "static-angle"]
    assert kept.detail["your_answer"] == "11 (11°)"
    (plan,) = desk.preview().handed_in
    assert plan.changes == ()
    assert plan.points == plan.before_points == 1


def test_the_preview_says_who_changes_by_how_much_and_changes_nothing(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    """15 of 15 points become 17 of 17; who has that answer wrong keeps 13, now of 17."""
    right = desk.hand_in()
    other = factories.student(
        database, class_id=desk.lesson.class_id, instructor=desk.lesson.instructor, name="Ada Zane"
    )
    wrong = desk.hand_in({"static-angle": ""}, other)
    new_version(database, tmp_path, now, MORE_POINTS)
    preview = desk.preview(2)
    assert (preview.version, preview.to_version, preview.versions) == (1, 2, (1, 2))
    plans = {plan.attempt_id: plan for plan in preview.handed_in}
    assert (plans[right].before_points, plans[right].points, plans[right].out_of) == (15, 17, 17)
    assert (plans[wrong].before_points, plans[wrong].points, plans[wrong].out_of) == (13, 13, 17)
    assert [plan.attempt_id for plan in preview.changed] == [right]
    assert (preview.higher, preview.lower, preview.reworded) == (1, 0, 1)
    [(plan, change)] = preview.task_changes
    assert (plan.attempt_id, change.task_id) == (right, "static-angle")
    assert (change.before_points, change.points) == (2, 4)
    # 15 of 15 and 17 of 17 are in the last tenth; 13 of 15 is 87 %, 13 of 17 is 76 %.
    bands = {band.low: (band.before, band.after) for band in preview.bands}
    assert {low: counts for low, counts in bands.items() if any(counts)} == {
        90: (1, 1),
        80: (1, 0),
        70: (0, 1),
    }
    assert desk.points(right) == (15, 15, 1)


def test_regrading_moves_the_work_and_supersedes_the_machine_s_marks(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    attempt_id = desk.hand_in()
    new_version(database, tmp_path, now, MORE_POINTS)
    desk.regrade(2)
    assert desk.points(attempt_id) == (17, 17, 2)
    marks = [mark for mark in desk.rows(Mark) if mark.task_id == "static-angle"]
    assert [(mark.points, mark.superseded_at is None) for mark in marks] == [(2, False), (4, True)]
    result = practice.result(database, attempt_id=attempt_id, student=desk.lesson.student)
    assert result is not None
    assert (result.points, result.out_of) == (17, 17)
    [row] = [row for row in desk.rows(Audit) if row.action == "regrade"]
    assert (row.detail["version"], row.detail["to_version"], row.detail["changed"]) == (1, 2, 1)
    [assignment] = desk.rows(Assignment)
    assert assignment.scenario_version_id == desk.rows(Attempt)[0].scenario_version_id


def test_regrading_twice_changes_nothing_the_second_time(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    desk.hand_in({"single-mass": "1 oz"})
    new_version(database, tmp_path, now, MORE_POINTS)
    desk.regrade(2)
    marks, notes = desk.rows(Mark), desk.rows(Audit)
    again = desk.regrade(2)
    assert not again.changes_anything
    assert (len(desk.rows(Mark)), len(desk.rows(Audit))) == (len(marks), len(notes))


def test_a_stricter_tolerance_takes_points_with_the_reason(
    desk: Desk, database: Database, now: datetime, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """3 % beside the right size is right within 5 % and wrong within 1 %.

    With a seed from which both versions draw the same numbers: a tolerance also says which numbers are clear
    enough to ask for.
    """
    monkeypatch.setattr(practice, "attempt_seed", lambda **_: seed_of("a stricter tolerance", "2"))
    attempt_id = practice.start_attempt(
        database, assignment_id=desk.lesson.assignment_id, student=desk.lesson.student, now=now
    )
    lab = practice.lab(database, attempt_id=attempt_id, student=desk.lesson.student)
    size = float(lab.variant.model.value("assembly[A].static.size_gmm"))
    answers: dict[str, Raw] = {"static-size": f"{size * 1.03:.0f} gmm"}
    lessons.hand_in(database, attempt_id=attempt_id, student=desk.lesson.student, answers=answers, now=now)
    assert desk.points(attempt_id)[0] == 2
    new_version(database, tmp_path, now, STRICTER)
    [(_, change)] = desk.preview(2).task_changes
    assert (change.before_points, change.points) == (2, 0)
    assert "more than" in change.reason
    desk.regrade(2)
    assert desk.points(attempt_id)[0] == 0


def test_work_whose_numbers_the_new_version_would_change_stays_at_its_own(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    attempt_id = desk.hand_in()
    new_version(database, tmp_path, now, OTHER_NUMBERS)
    preview = desk.preview(2)
    [plan] = preview.kept
    assert "other numbers than the student had" in plan.kept_because
    desk.regrade(2)
    assert desk.points(attempt_id) == (15, 15, 1)
    second = desk.hand_in()
    assert desk.points(second) == (15, 15, 2), "what is begun now is of the new version"
    assert not desk.regrade(2).changes_anything


def test_a_question_that_is_gone_counts_no_more_and_one_that_is_new_is_not_asked_of_handed_in_work(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    """The direction, 2 of 15 points, goes: 13 of 13; another is added, which costs nobody a point."""
    attempt_id = desk.hand_in()
    new_version(
        database,
        tmp_path,
        now,
        ('id = "static-angle"\n', 'id = "new-angle"\n'),
        ('follows = ["static-angle"]', 'follows = ["new-angle"]'),
    )
    preview = desk.preview(2)
    assert (len(preview.gone), len(preview.added)) == (1, 1)
    desk.regrade(2)
    assert desk.points(attempt_id) == (13, 13, 2)
    lab = practice.lab(database, attempt_id=attempt_id, student=desk.lesson.student)
    assert "static-angle" in lab.answers, "the answer is kept"
    assert not desk.regrade().changes_anything
    desk.regrade(1)
    result = practice.result(database, attempt_id=attempt_id, student=desk.lesson.student)
    assert result is not None
    assert result.out_of == 13, "what was once not asked is not asked again"


def test_a_mark_by_hand_stays(database: Database, now: datetime, tmp_path: Path) -> None:
    desk = Desk(database, lesson(database, now=now, slug="four-assemblies"), now)
    attempt_id = desk.hand_in()
    review.mark_text(
        database,
        attempt_id=attempt_id,
        instructor=desk.lesson.instructor,
        task_id="customer",
        points=3,
        comment="Good.",
        now=now,
    )
    before = desk.points(attempt_id)
    new_version(
        database,
        tmp_path,
        now,
        ('title = "', 'title = "New: '),
        slug="four-assemblies",
    )
    desk.regrade(2)
    assert desk.points(attempt_id) == (*before[:2], 2)
    [mark] = [mark for mark in desk.rows(Mark) if mark.task_id == "customer" and mark.superseded_at is None]
    assert (mark.points, mark.detail["comment"]) == (3, "Good.")


def test_an_open_attempt_moves_along_with_its_answers(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    attempt_id = practice.start_attempt(
        database, assignment_id=desk.lesson.assignment_id, student=desk.lesson.student, now=now
    )
    practice.save_answer(
        database,
        attempt_id=attempt_id,
        student=desk.lesson.student,
        task_id="static-angle",
        answer="12",
        now=now,
    )
    new_version(database, tmp_path, now, MORE_POINTS)
    desk.regrade(2)
    lab = practice.lab(database, attempt_id=attempt_id, student=desk.lesson.student)
    assert lab.variant.scenario.out_of == 17
    assert lab.answers == {"static-angle": "12"}


def test_an_answer_that_the_new_version_can_not_read_earns_nothing_and_says_why(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    attempt_id = desk.hand_in()
    new_version(
        database,
        tmp_path,
        now,
        (
            'right = "couple"\npoints = 1\nexplain = "A wrong',
            'right = "pair"\npoints = 1\nexplain = "A wrong',
        ),
        ('id = "couple"\ntext = "Couple: equal', 'id = "pair"\ntext = "Couple: equal'),
    )
    desk.regrade(2)
    result = practice.result(database, attempt_id=attempt_id, student=desk.lesson.student)
    assert result is not None
    [mark] = [mark for mark in result.marks if mark.task_id == "left-kind"]
    assert (mark.points, mark.your_answer) == (0, "couple")
    assert "Choose" in mark.reason


def test_work_that_came_in_since_the_preview_is_looked_at_first(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    desk.hand_in()
    new_version(database, tmp_path, now, MORE_POINTS)
    stamp = desk.preview(2).stamp
    second = desk.hand_in()
    with pytest.raises(Refused, match="since this was looked at") as refused:
        regrading.regrade(
            database,
            assignment_id=desk.lesson.assignment_id,
            instructor=desk.lesson.instructor,
            to_version=2,
            expect=stamp,
            now=now,
        )
    assert refused.value.field == "expect"
    assert desk.points(second) == (15, 15, 1)


def test_a_failure_half_way_changes_nothing(
    desk: Desk, database: Database, now: datetime, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    attempt_id = desk.hand_in()
    new_version(database, tmp_path, now, MORE_POINTS)
    marks = len(desk.rows(Mark))

    def breaks(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(regrading, "note", breaks)
    with pytest.raises(ZeroDivisionError):
        desk.regrade(2)
    assert (desk.points(attempt_id), len(desk.rows(Mark))) == ((15, 15, 1), marks)


def test_only_the_instructor_of_the_class_regrades_and_only_to_a_version_that_is_there(desk: Desk) -> None:
    with pytest.raises(NotFound):
        desk.preview(7)
    stranger = factories.instructor(desk.database)
    with pytest.raises(NotFound):
        regrading.preview_regrade(desk.database, assignment_id=desk.lesson.assignment_id, instructor=stranger)


def test_the_page_of_an_assignment_knows_that_a_newer_version_is_there(
    desk: Desk, database: Database, now: datetime, tmp_path: Path
) -> None:
    new_version(database, tmp_path, now, MORE_POINTS)
    detail = assignments.one(
        database, assignment_id=desk.lesson.assignment_id, instructor=desk.lesson.instructor
    )
    assert (detail.version_number, detail.newest_version) == (1, 2)
