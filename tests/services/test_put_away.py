"""A class that is put away stays as it is, whatever its instructor asks for, until it is opened again."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import select

from app.domain.measures import UnitSystem
from app.domain.standing import Exceptional
from app.services import (
    assignments,
    cards,
    categories,
    classes,
    exceptions,
    hand_grades,
    hands_on,
    heats,
    moving,
    reflection_prompts,
    roster_import,
)
from app.services.errors import Refused
from app.store.models import Audit
from tests import factories
from tests.services.lessons import Lesson, lesson


@dataclass
class Desk:
    """Calls use cases as the instructor of a lesson: for its class, its student or its assignment."""

    database: Any
    given: Lesson
    now: datetime

    def of_class(self, act: Callable[..., object], **more: object) -> None:
        act(self.database, class_id=self.given.class_id, instructor=self.given.instructor, **more)

    def of_student(self, act: Callable[..., object], **more: object) -> None:
        self.of_class(act, student_id=self.given.student.public_id, now=self.now, **more)

    def of_assignment(self, act: Callable[..., object], **more: object) -> None:
        given = self.given
        act(
            self.database,
            assignment_id=given.assignment_id,
            instructor=given.instructor,
            now=self.now,
            **more,
        )

    @property
    def rules(self) -> dict[str, Any]:
        due_at = self.now + timedelta(days=2)
        return {"title": "Other", "opens_at": self.now, "due_at": due_at, "attempts_allowed": 1}

    @property
    def elsewhere(self) -> str:
        return factories.school_class(self.database, instructor=self.given.instructor, name="Auto 9")


ACTS: dict[str, Callable[[Desk], None]] = {
    "assign": lambda desk: desk.of_class(
        assignments.assign, scenario_id=desk.given.scenario_id, now=desk.now, **desk.rules
    ),
    "change an assignment": lambda desk: desk.of_assignment(assignments.change, **desk.rules),
    "make an exception": lambda desk: desk.of_assignment(
        exceptions.set_exception,
        student_id=desk.given.student.public_id,
        exception=Exceptional(attempts_allowed=9),
    ),
    "set a grade by hand": lambda desk: desk.of_assignment(
        hand_grades.set_by_hand,
        student_id=desk.given.student.public_id,
        points=1.0,
        reason="Shown at the machine",
        comment="",
    ),
    "ask a question": lambda desk: desk.of_assignment(reflection_prompts.add_prompt, text="What else?"),
    "set the points of sheets": lambda desk: desk.of_assignment(reflection_prompts.set_points, out_of=5.0),
    "change the settings": lambda desk: desk.of_class(
        classes.update_class,
        name="Other",
        time_zone="UTC",
        units=UnitSystem.US,
        calculators_on=True,
        now=desk.now,
    ),
    "add students": lambda desk: desk.of_class(cards.add_students, names=["Bo Diaz"], now=desk.now),
    "send a class list": lambda desk: desk.of_class(
        roster_import.receive, content=b"Name\nBo Diaz\n", now=desk.now
    ),
    "enrol": lambda desk: desk.of_class(moving.enrol_existing, student_ids=[], now=desk.now),
    "move away": lambda desk: desk.of_student(moving.move_student, to_class_id=desk.elsewhere),
    "drop": lambda desk: desk.of_student(classes.drop_student),
    "restore": lambda desk: desk.of_student(classes.restore_student),
    "give extra time": lambda desk: desk.of_student(classes.set_extra_time, extra_time_factor=2.0),
    "add a category": lambda desk: desk.of_class(
        categories.add_category, name="Labs", weight=1.0, drop_lowest=0, now=desk.now
    ),
    "add skills": lambda desk: desk.of_class(hands_on.add_skills, lines=["Balance"], now=desk.now),
    "make a contest": lambda desk: desk.of_class(
        heats.make_contest, title="Wheel change", teams={"Red": []}, now=desk.now
    ),
}


@pytest.fixture
def desk(database, now) -> Desk:
    return Desk(database, lesson(database, now=now), now)


def archive(desk: Desk, *, archived: bool) -> None:
    desk.of_class(classes.archive_class, archived=archived, now=desk.now)


def notes_of(desk: Desk) -> list[str]:
    subject = f"class:{desk.given.class_id}"
    with desk.database.read() as session:
        return list(session.scalars(select(Audit.action).where(Audit.subject == subject).order_by(Audit.id)))


@pytest.mark.parametrize("act", ACTS)
def test_a_class_that_is_put_away_is_changed_only_once_it_is_open_again(desk, act):
    archive(desk, archived=True)
    before = notes_of(desk)
    with pytest.raises(Refused, match="Auto 2 is put away"):
        ACTS[act](desk)
    assert notes_of(desk) == before
    archive(desk, archived=False)
    ACTS[act](desk)
