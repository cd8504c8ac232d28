"""What a class was given and what its students made of it, through the real services."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from app.domain.answers import Raw
from app.services import assignments, practice, scenarios
from app.services.accounts import Person
from app.services.labs import Lab
from app.store.db import Database
from tests.services import lessons
from tests.services.lessons import right_answers


def scenario_named(database: Database, slug: str) -> str:
    """The public id of a shipped scenario."""
    return next(card.public_id for card in scenarios.library(database) if card.slug == slug)


def give(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    now: datetime,
    slug: str = "two-plane-balance",
    **changed: Any,
) -> str:
    """The public id of an assignment that opened yesterday and is due in three days."""
    rules: dict[str, Any] = {
        "title": "Lab 1",
        "opens_at": now - timedelta(days=1),
        "due_at": now + timedelta(days=3),
        "attempts_allowed": 2,
    }
    return assignments.assign(
        database,
        class_id=class_id,
        instructor=instructor,
        scenario_id=scenario_named(database, slug),
        now=now,
        **(rules | changed),
    )


def begin(
    database: Database,
    *,
    assignment_id: str,
    student: Person,
    now: datetime,
    answers: Mapping[str, Raw] | None = None,
) -> Lab:
    """A lab that was started; these answers are saved in it."""
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=student, now=now)
    practice.save_answers(database, attempt_id=attempt_id, student=student, answers=answers or {}, now=now)
    return practice.lab(database, attempt_id=attempt_id, student=student)


def hand_in(
    database: Database,
    *,
    assignment_id: str,
    student: Person,
    now: datetime,
    instead: Mapping[str, Raw] | None = None,
) -> Lab:
    """A lab that was handed in with every answer right, but for those given `instead`."""
    lab = begin(database, assignment_id=assignment_id, student=student, now=now)
    answers = right_answers(lab.variant) | dict(instead or {})
    lessons.hand_in(database, attempt_id=lab.attempt_id, student=student, answers=answers, now=now)
    return practice.lab(database, attempt_id=lab.attempt_id, student=student)
