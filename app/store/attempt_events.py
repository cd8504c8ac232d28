"""What happened in an attempt: its saved answers and actions, in order.

Every page and every save of a lab asks these questions. They are made once and asked of the connection
itself: the mapper would take longer than the database.
"""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Select, bindparam, func, insert, select
from sqlalchemy.orm import Session

from app.store.attempts import by_attempt
from app.store.choices import EventKind
from app.store.models import Event

_EVENTS = (
    select(Event.number, Event.kind, Event.body, Event.at)
    .where(Event.attempt_id == bindparam("attempt_key"))
    .order_by(Event.number)
)


def events_of(session: Session, attempt_key: int) -> Sequence[Any]:
    """Number, kind, body and time of each event of an attempt, in order."""
    return session.connection().execute(_EVENTS, {"attempt_key": attempt_key}).all()


def _newest(*more: Any) -> Select[Any]:
    return (
        select(Event.body)
        .where(
            Event.attempt_id == bindparam("attempt_key"),
            Event.kind == EventKind.ANSWER,
            Event.body["task"].as_string() == bindparam("task_id"),
            *more,
        )
        .order_by(Event.number.desc())
        .limit(1)
    )


_NEWEST = _newest()
_NEWEST_OF_PAGE = _newest(Event.body["page"].as_string() == bindparam("page"))


def newest_answer(
    session: Session, attempt_key: int, task_id: str, *, page: str | None = None
) -> dict[str, Any] | None:
    """What was saved last for a task, by this opening of its page where one is named; None for nothing."""
    wanted = {"attempt_key": attempt_key, "task_id": task_id}
    connection = session.connection()
    if page is None:
        return connection.execute(_NEWEST, wanted).scalar()
    return connection.execute(_NEWEST_OF_PAGE, wanted | {"page": page}).scalar()


def events_of_each(session: Session, attempt_keys: Iterable[int]) -> dict[int, list[Any]]:
    """As `events_of` for several attempts, by attempt."""
    found = (
        select(Event.attempt_id, Event.number, Event.kind, Event.body, Event.at)
        .where(Event.attempt_id.in_(list(attempt_keys)))
        .order_by(Event.attempt_id, Event.number)
    )
    return by_attempt(session.connection().execute(found))


def add_event(
    session: Session, *, attempt_key: int, kind: EventKind, body: dict[str, Any], now: datetime
) -> int:
    """Append an event and return its number within the attempt: nobody else writes while this one does."""
    return add_events(session, attempt_key=attempt_key, kind=kind, bodies=[body], now=now)


_ADD = insert(Event)


def add_events(
    session: Session, *, attempt_key: int, kind: EventKind, bodies: Sequence[dict[str, Any]], now: datetime
) -> int:
    """Append events in their order and return the last one's number; at least one."""
    last = last_event_number(session, attempt_key)
    event = {"attempt_id": attempt_key, "kind": kind, "at": now}
    rows = [event | {"number": number, "body": body} for number, body in enumerate(bodies, start=last + 1)]
    session.connection().execute(_ADD, rows)
    return last + len(bodies)


_LAST_NUMBER = select(func.max(Event.number)).where(Event.attempt_id == bindparam("attempt_key"))
_LAST_NUMBER_OF_KIND = _LAST_NUMBER.where(Event.kind == bindparam("kind"))


def last_event_number(session: Session, attempt_key: int, kind: EventKind | None = None) -> int:
    """The number of an attempt's newest event, which is how many it has; of one kind where it is given."""
    wanted: dict[str, Any] = {"attempt_key": attempt_key}
    if kind is None:
        return session.connection().execute(_LAST_NUMBER, wanted).scalar() or 0
    return session.connection().execute(_LAST_NUMBER_OF_KIND, wanted | {"kind": kind}).scalar() or 0
