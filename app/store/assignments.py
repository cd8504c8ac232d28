"""Questions about what classes were given to do."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Select, case, func, select
from sqlalchemy.orm import Session, contains_eager, joinedload

from app.store.choices import AttemptState
from app.store.models import Assignment, Attempt, Enrolment, ScenarioVersion, SchoolClass, Teaching

_WITH_VERSION = joinedload(Assignment.scenario_version).joinedload(ScenarioVersion.scenario)


def add_assignment(session: Session, *, now: datetime, **columns: Any) -> Assignment:
    row = Assignment(created_at=now, **columns)
    session.add(row)
    session.flush()
    return row


def assignment_taught_by(session: Session, assignment_id: str, instructor_key: int) -> Assignment | None:
    """The assignment with class and version, when this person teaches its class."""
    return session.scalar(
        select(Assignment)
        .join(Assignment.school_class)
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .where(Assignment.public_id == assignment_id, Teaching.person_id == instructor_key)
        .options(contains_eager(Assignment.school_class), _WITH_VERSION)
    )


def assignment_given_to(session: Session, assignment_id: str, student_key: int) -> Assignment | None:
    """The assignment with class and version, when this person is in its class now, archived or not."""
    return session.scalar(_given_to(student_key).where(Assignment.public_id == assignment_id))


def assignments_by_key(session: Session, keys: Iterable[int]) -> Sequence[Assignment]:
    """These assignments with class and version."""
    return session.scalars(
        select(Assignment)
        .join(Assignment.school_class)
        .where(Assignment.id.in_(list(keys)))
        .options(contains_eager(Assignment.school_class), _WITH_VERSION)
        .order_by(Assignment.id)
    ).all()


def assignments_given_to(session: Session, student_key: int) -> Sequence[Assignment]:
    """All that is given to a student's classes, archived ones left out, soonest due first."""
    return session.scalars(
        _given_to(student_key)
        .where(SchoolClass.archived_at.is_(None))
        .order_by(Assignment.due_at, Assignment.id)
    ).all()


def _given_to(student_key: int) -> Select[tuple[Assignment]]:
    return (
        select(Assignment)
        .join(Assignment.school_class)
        .join(Enrolment, Enrolment.class_id == SchoolClass.id)
        .where(Enrolment.person_id == student_key, Enrolment.dropped_at.is_(None))
        .options(contains_eager(Assignment.school_class), _WITH_VERSION)
    )


def assignments_of_class(session: Session, class_key: int) -> Sequence[Assignment]:
    """With their versions, in the order in which they open."""
    return session.scalars(
        select(Assignment)
        .join(Assignment.school_class)
        .where(Assignment.class_id == class_key)
        .options(contains_eager(Assignment.school_class), _WITH_VERSION)
        .order_by(Assignment.opens_at, Assignment.id)
    ).all()


def progress_in_class(session: Session, class_key: int) -> dict[int, tuple[int, int]]:
    """How many of the students who are in the class now have started and how many have handed in, by the
    assignment's key; none where nobody has."""
    handed_in = case((Attempt.state == AttemptState.HANDED_IN, Attempt.person_id))
    rows = session.execute(
        select(
            Attempt.assignment_id,
            func.count(Attempt.person_id.distinct()),
            func.count(handed_in.distinct()),
        )
        .join(Assignment, Assignment.id == Attempt.assignment_id)
        .join(
            Enrolment,
            (Enrolment.class_id == Assignment.class_id) & (Enrolment.person_id == Attempt.person_id),
        )
        .where(Assignment.class_id == class_key, Enrolment.dropped_at.is_(None))
        .group_by(Attempt.assignment_id)
    )
    return {key: (started, done) for key, started, done in rows}


def newest_attempts(session: Session, assignment_key: int) -> Sequence[Attempt]:
    """The newest attempt of each student at an assignment, with its version."""
    newest = (
        select(Attempt.person_id, func.max(Attempt.number).label("number"))
        .where(Attempt.assignment_id == assignment_key)
        .group_by(Attempt.person_id)
        .subquery()
    )
    return session.scalars(
        select(Attempt)
        .join(newest, (newest.c.person_id == Attempt.person_id) & (newest.c.number == Attempt.number))
        .where(Attempt.assignment_id == assignment_key)
        .options(joinedload(Attempt.scenario_version).joinedload(ScenarioVersion.scenario))
    ).all()


def students_in_class(session: Session, class_key: int) -> int:
    return (
        session.scalar(
            select(func.count(Enrolment.id)).where(
                Enrolment.class_id == class_key, Enrolment.dropped_at.is_(None)
            )
        )
        or 0
    )
