"""All work at one assignment at once: to mark it again, and to see whether it has changed meanwhile."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import islice
from typing import Any

from sqlalchemy import func, insert, select, update
from sqlalchemy.orm import Session, contains_eager, joinedload

from app.store.attempts import by_attempt
from app.store.models import Assignment, Attempt, Event, Mark, Scenario, ScenarioVersion

AT_ONCE = 500
"""Keys in one statement: databases bound how many they take."""


def attempts_at(session: Session, assignment_key: int) -> Sequence[Attempt]:
    """Every attempt with its person and version, each student's in the order they were started."""
    return session.scalars(
        select(Attempt)
        .join(Attempt.person)
        .where(Attempt.assignment_id == assignment_key)
        .options(
            contains_eager(Attempt.person),
            joinedload(Attempt.scenario_version).joinedload(ScenarioVersion.scenario),
        )
        .order_by(Attempt.person_id, Attempt.number)
    ).all()


def events_of(session: Session, attempt_keys: Sequence[int]) -> dict[int, list[Any]]:
    """What the events of these attempts say, in order, by attempt; at most a few thousand keys."""
    return by_attempt(
        session.execute(
            select(Event.attempt_id, Event.kind, Event.body)
            .where(Event.attempt_id.in_(attempt_keys))
            .order_by(Event.attempt_id, Event.number)
        )
    )


def standing_marks_of(session: Session, attempt_keys: Sequence[int]) -> dict[int, list[Any]]:
    """What the standing marks of these attempts say, by attempt; at most a few thousand keys."""
    return by_attempt(
        session.execute(
            select(
                Mark.id,
                Mark.attempt_id,
                Mark.task_id,
                Mark.source,
                Mark.points,
                Mark.out_of,
                Mark.verdict,
                Mark.detail,
            )
            .where(Mark.attempt_id.in_(attempt_keys), Mark.superseded_at.is_(None))
            .order_by(Mark.id)
        )
    )


def versions_of(session: Session, scenario_id: str) -> Sequence[ScenarioVersion]:
    """Every version of a scenario, the oldest first."""
    return session.scalars(
        select(ScenarioVersion)
        .join(ScenarioVersion.scenario)
        .where(Scenario.public_id == scenario_id)
        .options(contains_eager(ScenarioVersion.scenario))
        .order_by(ScenarioVersion.number)
    ).all()


def stamp_of(session: Session, assignment_key: int) -> str:
    """Differs whenever work or marks at the assignment do: its version, its attempts by state, and the newest
    event and mark."""
    version = session.scalar(select(Assignment.scenario_version_id).where(Assignment.id == assignment_key))
    states = session.execute(
        select(Attempt.state, func.count(Attempt.id))
        .where(Attempt.assignment_id == assignment_key)
        .group_by(Attempt.state)
        .order_by(Attempt.state)
    ).all()
    newest = [
        session.scalar(
            select(func.max(kind.id))
            .join(Attempt, Attempt.id == kind.attempt_id)
            .where(Attempt.assignment_id == assignment_key)
        )
        for kind in (Event, Mark)
    ]
    return "-".join(str(part) for part in (version, *(count for _, count in states), *newest))


def supersede(session: Session, mark_keys: Iterable[int], now: datetime) -> None:
    for keys in _chunks(mark_keys):
        session.execute(update(Mark).where(Mark.id.in_(keys)).values(superseded_at=now))


def add_marks(session: Session, marks: Sequence[dict[str, Any]]) -> None:
    """Many marks, of all their columns."""
    if marks:
        session.execute(insert(Mark), marks)


def change_attempts(session: Session, changes: Sequence[dict[str, Any]]) -> None:
    """Many attempts; each change holds the attempt's `id` and the columns that are new."""
    if changes:
        session.execute(update(Attempt), changes)


def _chunks(keys: Iterable[int]) -> Iterable[list[int]]:
    rest = iter(keys)
    while chunk := list(islice(rest, AT_ONCE)):
        yield chunk
