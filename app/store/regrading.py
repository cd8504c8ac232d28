"""All work at one assignment at once: to mark it again, and to see whether it has changed meanwhile."""

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from itertools import islice
from typing import Any, NamedTuple

from sqlalchemy import ColumnElement, Row, String, Text, cast, func, insert, literal, select, update
from sqlalchemy.orm import Session, contains_eager

from app.store.choices import EventKind, MarkSource
from app.store.models import Assignment, Attempt, Event, Mark, Person, Scenario, ScenarioVersion

AT_ONCE = 500
"""Keys in one statement: databases bound how many they take."""


class StandingMark(NamedTuple):
    """What a mark that counts now says."""

    id: int
    task_id: str
    by_instructor: bool
    points: float
    out_of: float
    verdict: str
    detail: dict[str, Any]


_ATTEMPT, _PERSON, _EVENT, _MARK = (each.__table__.c for each in (Attempt, Person, Event, Mark))


def attempts_at(session: Session, assignment_key: int) -> Sequence[Row[Any]]:
    """The columns of every attempt and its student's names, each student's in the order they were started."""
    return session.execute(
        select(*_ATTEMPT, _PERSON.display_name, _PERSON.sort_name)
        .join_from(Attempt.__table__, Person.__table__)
        .where(_ATTEMPT.assignment_id == assignment_key)
        .order_by(_ATTEMPT.person_id, _ATTEMPT.number)
    ).all()


WORK = (EventKind.ANSWER, EventKind.HINT, EventKind.ACTION)
"""What of an attempt is marked."""


def work_of(session: Session, attempt_keys: Sequence[int]) -> dict[int, Mapping[EventKind, list[Any]]]:
    """The bodies of what was answered, shown and done in these attempts, each kind in order, by attempt.

    At most a few thousand keys. All of a kind comes as one text for each attempt: handing it over row by row
    takes longer than reading it.
    """
    texts: list[ColumnElement[str]] = [_numbered_bodies().filter(_EVENT.kind == kind) for kind in WORK]
    found = session.execute(
        select(_EVENT.attempt_id, *texts)
        .where(_EVENT.attempt_id.in_(attempt_keys))
        .group_by(_EVENT.attempt_id)
    ).all()
    if not found:
        return {}
    keys, *columns = zip(*found, strict=True)
    kinds = [_read(f"[{text or ''}]" for text in column) for column in columns]
    return {
        key: {kind: [body for _, body in sorted(bodies)] for kind, bodies in zip(WORK, row, strict=True)}
        for key, *row in zip(keys, *kinds, strict=True)
    }


def _numbered_bodies() -> Any:
    """`[1,{…}],[2,{…}]`, in the order that suits the database: the numbers, each once, put it right."""
    number, body = cast(_EVENT.number, String), cast(_EVENT.body, Text)
    return func.aggregate_strings(literal("[") + number + literal(",") + body + literal("]"), ",")


def standing_marks_of(session: Session, attempt_keys: Sequence[int]) -> dict[int, list[StandingMark]]:
    """The marks of these attempts that count now, by attempt; at most a few thousand keys."""
    rows = session.execute(
        select(
            _MARK.attempt_id,
            _MARK.id,
            _MARK.task_id,
            (_MARK.source == MarkSource.INSTRUCTOR).label("by_instructor"),
            _MARK.points,
            _MARK.out_of,
            _MARK.verdict,
            cast(_MARK.detail, Text),
        )
        .where(_MARK.attempt_id.in_(attempt_keys), _MARK.superseded_at.is_(None))
        .order_by(_MARK.id)
    ).all()
    found: dict[int, list[StandingMark]] = {}
    for (attempt, *columns, _), detail in zip(rows, _read(row[-1] for row in rows), strict=True):
        found.setdefault(attempt, []).append(StandingMark._make((*columns, detail)))
    return found


def _read(texts: Iterable[str]) -> list[Any]:
    """Many JSON texts, read in one go."""
    return json.loads(f"[{','.join(texts)}]")  # type: ignore[no-any-return]


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


_ADD_MARKS = insert(Mark)


def add_marks(session: Session, marks: Sequence[dict[str, Any]]) -> None:
    """Many marks, of all their columns."""
    if marks:
        session.connection().execute(_ADD_MARKS, marks)


def change_attempts(session: Session, changes: Sequence[dict[str, Any]]) -> None:
    """Many attempts; each change holds the attempt's `id` and the columns that are new."""
    if changes:
        session.execute(update(Attempt), changes)


def _chunks(keys: Iterable[int]) -> Iterable[list[int]]:
    rest = iter(keys)
    while chunk := list(islice(rest, AT_ONCE)):
        yield chunk
