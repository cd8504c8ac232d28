"""Questions about attempts, their events and their marks."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, Select, bindparam, exists, func, select, update
from sqlalchemy.orm import Session, contains_eager, joinedload

from app.store.choices import AttemptState, MarkSource
from app.store.models import (
    Assignment,
    AssignmentException,
    Attempt,
    Mark,
    ScenarioVersion,
    SchoolClass,
    Teaching,
)


def _attempts() -> Select[tuple[Attempt]]:
    return (
        select(Attempt)
        .join(Attempt.assignment)
        .join(Assignment.school_class)
        .options(
            contains_eager(Attempt.assignment).contains_eager(Assignment.school_class),
            joinedload(Attempt.scenario_version).joinedload(ScenarioVersion.scenario),
            joinedload(Attempt.person),
        )
    )


def attempt_named(session: Session, attempt_id: str) -> Attempt:
    """An attempt that is known to be there, for the server itself, with assignment, class, version."""
    return session.scalars(_attempts().where(Attempt.public_id == attempt_id)).one()


def attempt_taught_by(session: Session, attempt_id: str, instructor_key: int) -> Attempt | None:
    """An attempt in a class that this person teaches, with assignment, class, version and person."""
    return session.scalar(
        _attempts()
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .where(Attempt.public_id == attempt_id, Teaching.person_id == instructor_key)
    )


def attempts_at(session: Session, assignment_keys: Iterable[int], student_key: int) -> Sequence[Attempt]:
    """A student's attempts at some assignments, in the order they were started."""
    return session.scalars(
        select(Attempt)
        .where(Attempt.assignment_id.in_(list(assignment_keys)), Attempt.person_id == student_key)
        .order_by(Attempt.assignment_id, Attempt.number)
    ).all()


def attempts_of_assignment(session: Session, assignment_key: int) -> Sequence[Attempt]:
    """Everyone's attempts at one assignment, each student's in the order they were started."""
    return session.scalars(
        select(Attempt)
        .where(Attempt.assignment_id == assignment_key)
        .order_by(Attempt.person_id, Attempt.number)
    ).all()


def attempts_in_class(session: Session, class_key: int) -> Sequence[Row[Any]]:
    """The columns that a gradebook needs of every attempt of a class."""
    return session.execute(
        select(
            Attempt.id,
            Attempt.assignment_id,
            Attempt.person_id,
            Attempt.public_id,
            Attempt.number,
            Attempt.state,
            Attempt.started_at,
            Attempt.handed_in_at,
            Attempt.points,
            Attempt.out_of,
        )
        .join(Assignment, Assignment.id == Attempt.assignment_id)
        .where(Assignment.class_id == class_key)
        .order_by(Attempt.assignment_id, Attempt.person_id, Attempt.number)
    ).all()


def open_attempts(
    session: Session,
    *,
    attempt_id: str | None = None,
    assignment_id: str | None = None,
    class_id: str | None = None,
    student_key: int | None = None,
) -> Sequence[Attempt]:
    """The open attempts of whatever is named that may have an end, with assignment, class, version and
    person. Those of an archived class stay as they are."""
    own_end = exists().where(
        AssignmentException.assignment_id == Attempt.assignment_id,
        AssignmentException.person_id == Attempt.person_id,
        AssignmentException.closes_at.is_not(None),
    )
    found = _attempts().where(
        Attempt.state == AttemptState.OPEN,
        SchoolClass.archived_at.is_(None),
        Assignment.minutes.is_not(None) | Assignment.closes_at.is_not(None) | own_end,
    )
    for column, wanted in (
        (Attempt.public_id, attempt_id),
        (Assignment.public_id, assignment_id),
        (SchoolClass.public_id, class_id),
        (Attempt.person_id, student_key),
    ):
        if wanted is not None:
            found = found.where(column == wanted)
    return session.scalars(found.order_by(Attempt.id)).all()


def add_attempt(session: Session, **columns: Any) -> Attempt:
    row = Attempt(**columns)
    session.add(row)
    session.flush()
    return row


_HAND_IN = (
    update(Attempt)
    .where(Attempt.id == bindparam("attempt_key"))
    .values(
        state=AttemptState.HANDED_IN,
        handed_in_at=bindparam("now"),
        points=bindparam("points_earned"),
        out_of=bindparam("points_possible"),
    )
)


def hand_in(session: Session, attempt_key: int, *, points: float, out_of: float, now: datetime) -> None:
    """Of the row alone: an attempt that the session has read stays as it was read."""
    values = {"attempt_key": attempt_key, "now": now, "points_earned": points, "points_possible": out_of}
    session.connection().execute(_HAND_IN, values)


def standing_marks(session: Session, attempt_key: int) -> Sequence[Mark]:
    """The marks that count now, one for each task."""
    return session.scalars(
        select(Mark).where(Mark.attempt_id == attempt_key, Mark.superseded_at.is_(None)).order_by(Mark.id)
    ).all()


def standing_marks_of_each(session: Session, attempt_keys: Iterable[int]) -> dict[int, list[Any]]:
    """Task, verdict, points and detail of the marks of several attempts that count now, by attempt."""
    found = (
        select(Mark.attempt_id, Mark.task_id, Mark.verdict, Mark.points, Mark.out_of, Mark.detail)
        .where(Mark.attempt_id.in_(list(attempt_keys)), Mark.superseded_at.is_(None))
        .order_by(Mark.id)
    )
    return by_attempt(session.connection().execute(found))


def by_attempt(rows: Iterable[Any]) -> dict[int, list[Any]]:
    """Rows of events or marks by the key of their attempt, in the order in which they came."""
    found: dict[int, list[Any]] = {}
    for row in rows:
        found.setdefault(row.attempt_id, []).append(row)
    return found


def add_mark(
    session: Session,
    *,
    attempt_key: int,
    task_id: str,
    source: MarkSource,
    points: float,
    out_of: float,
    verdict: str,
    detail: dict[str, Any],
    made_by: int | None,
    now: datetime,
) -> None:
    """Set a task's mark; the one before it stays, as superseded."""
    session.execute(
        update(Mark)
        .where(Mark.attempt_id == attempt_key, Mark.task_id == task_id, Mark.superseded_at.is_(None))
        .values(superseded_at=now)
    )
    session.add(
        Mark(
            attempt_id=attempt_key,
            task_id=task_id,
            source=source,
            points=points,
            out_of=out_of,
            verdict=verdict,
            detail=detail,
            made_at=now,
            made_by=made_by,
        )
    )
    session.flush()


def points_of(session: Session, attempt_key: int) -> float:
    """The sum of the standing marks."""
    return (
        session.scalar(
            select(func.sum(Mark.points)).where(Mark.attempt_id == attempt_key, Mark.superseded_at.is_(None))
        )
        or 0.0
    )
