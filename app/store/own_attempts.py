"""A student's own attempt, which every page and every save of a lab asks for.

The question is made once and asked of the connection itself: the mapper would take longer than the database.
"""

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from app.store.models import (
    Assignment,
    AssignmentException,
    Attempt,
    Enrolment,
    ScenarioVersion,
    SchoolClass,
)

_PARTS: dict[str, Sequence[Any]] = {
    "attempt": list(Attempt.__table__.columns),
    "assignment": list(Assignment.__table__.columns),
    "school_class": list(SchoolClass.__table__.columns),
    "scenario_version": list(ScenarioVersion.__table__.columns),
    "otherwise": [
        Enrolment.extra_time_factor,
        AssignmentException.id.label("exception_key"),
        AssignmentException.opens_at,
        AssignmentException.due_at,
        AssignmentException.closes_at,
        AssignmentException.attempts_allowed,
        AssignmentException.time_factor,
        AssignmentException.excused,
        AssignmentException.reason,
    ],
}
_NAMES = {part: [column.key for column in columns] for part, columns in _PARTS.items()}
_OWN_ATTEMPT = (
    select(*(column for columns in _PARTS.values() for column in columns))
    .select_from(Attempt)
    .join(Attempt.assignment)
    .join(Assignment.school_class)
    .join(Attempt.scenario_version)
    .join(
        Enrolment,
        (Enrolment.class_id == Assignment.class_id) & (Enrolment.person_id == Attempt.person_id),
    )
    .outerjoin(
        AssignmentException,
        (AssignmentException.assignment_id == Attempt.assignment_id)
        & (AssignmentException.person_id == Attempt.person_id),
    )
    .where(
        Attempt.public_id == bindparam("attempt_id"),
        Attempt.person_id == bindparam("student_key"),
        Enrolment.dropped_at.is_(None),
    )
)


def own_attempt(session: Session, attempt_id: str, student_key: int) -> Any:
    """The columns of a student's own attempt, with those of `assignment`, its `school_class` and
    `scenario_version` below; None for a dropped student.

    `otherwise`: what is so for this student alone, the extra time and the columns of the exception;
    `exception_key` is None where there is none.
    """
    wanted = {"attempt_id": attempt_id, "student_key": student_key}
    row = session.connection().execute(_OWN_ATTEMPT, wanted).one_or_none()
    if row is None:
        return None
    values = iter(row)
    parts = {
        part: SimpleNamespace(**dict(zip(names, values, strict=False))) for part, names in _NAMES.items()
    }
    attempt = parts.pop("attempt")
    parts["assignment"].school_class = parts.pop("school_class")
    vars(attempt).update(parts)
    return attempt
