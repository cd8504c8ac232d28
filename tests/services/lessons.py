"""A class with an assignment, for the tests of the use cases around it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from app.domain.answers import Raw, positions_of
from app.domain.marking import right_answer_text, right_option
from app.domain.tasks import ChoiceTask, OrderTask, PlacementTask, SeveralTask, TextTask
from app.domain.variants import Variant
from app.services import assignments, practice, scenarios
from app.services.accounts import Person
from app.store.db import Database
from tests import factories


@dataclass(frozen=True)
class Lesson:
    instructor: Person
    student: Person
    class_id: str
    scenario_id: str
    assignment_id: str


def lesson(
    database: Database,
    *,
    now: datetime,
    slug: str = "two-plane-balance",
    attempts_allowed: int | None = 2,
    opens_in: timedelta = timedelta(days=-1),
    due_in: timedelta = timedelta(days=1),
) -> Lesson:
    """An instructor, a class with one student, and a shipped scenario given to it."""
    scenario_id = next(card.public_id for card in scenarios.library(database) if card.slug == slug)
    instructor = factories.instructor(database)
    class_id = factories.school_class(database, instructor=instructor)
    student = factories.student(database, class_id=class_id, instructor=instructor)
    assignment_id = assignments.assign(
        database,
        class_id=class_id,
        instructor=instructor,
        scenario_id=scenario_id,
        title="Lab 1",
        opens_at=now + opens_in,
        due_at=now + due_in,
        attempts_allowed=attempts_allowed,
        now=now,
    )
    return Lesson(instructor, student, class_id, scenario_id, assignment_id)


def hand_in(
    database: Database, *, attempt_id: str, student: Person, now: datetime, answers: Mapping[str, Raw]
) -> None:
    """Save these answers and hand in."""
    practice.save_answers(database, attempt_id=attempt_id, student=student, answers=answers, now=now)
    practice.hand_in(database, attempt_id=attempt_id, student=student, now=now)


def right_answers(variant: Variant) -> dict[str, Raw]:
    """What a student types who gets everything right; a text is only a text."""
    return {task.id: _right(task, variant) for task in variant.scenario.tasks}


def _right(task: object, variant: Variant) -> Raw:
    match task:
        case ChoiceTask():
            return right_option(task, variant.model)
        case OrderTask():
            return {step: str(place) for place, step in enumerate(task.right_order, 1)}
        case PlacementTask():
            return positions_of(int(variant.model.value(task.key).argmin()), variant.scenario)
        case SeveralTask():
            return list(task.right) or right_answer_text(task, variant).split(", ")
        case TextTask():
            return "The least variation goes nearest to the driver."
        case _:
            return right_answer_text(task, variant)
