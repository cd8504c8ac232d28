"""Closing an attempt: by its student, or by the server once its time is over.

The server's clock rules. An attempt past its end is handed in with what is saved, as of its end, whenever
anybody looks at it or at a list it stands in; no job has to run for it.
"""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from app.domain.marking import Mark, mark_all
from app.domain.standing import Rules
from app.services import bench
from app.services.accounts import Person
from app.services.errors import UnreadableAnswers
from app.services.labs import (
    EndedBy,
    answers_in,
    hints_in,
    own_attempt,
    problems_of,
    refuse_when_put_away,
    store_first_marks,
    variant_of_attempt,
)
from app.services.records import AttemptRecord, EventRecord, OwnAttemptRecord
from app.services.rules import rules_of_attempt, rules_of_attempts
from app.store import attempt_events, attempts
from app.store.choices import AttemptState, EventKind
from app.store.db import Database

Find = Callable[[Any], AttemptRecord]
"""Finds the attempt in a session."""


def hand_in(database: Database, *, attempt_id: str, student: Person, now: datetime) -> None:
    """Hand in what is saved: mark it all and close the attempt. A second time changes nothing.

    Raises NotFound, and with the attempt still open Refused and UnreadableAnswers; once its time is over it
    is handed in as it is.
    """

    def find(session: Any) -> OwnAttemptRecord:
        return own_attempt(session, attempt_id, student)

    with database.read() as session:
        row = find(session)
        events = attempt_events.events_of(session, row.id)
    if row.state is not AttemptState.OPEN:
        return
    refuse_when_put_away(row.assignment, "answers")
    rules = rules_of_attempt(row)
    ends = rules.ends_at(row.started_at)
    at = now if ends is None else min(now, ends)
    by = _ended_by(row, rules) if rules.is_over(row.started_at, now) else None
    _close(database, find, row, events, at=at, by=by)


def hand_in_what_is_over(
    database: Database,
    *,
    now: datetime,
    student: Person | None = None,
    attempt_id: str | None = None,
    assignment_id: str | None = None,
    class_id: str | None = None,
) -> int:
    """Hand in the open attempts whose time is over, of whatever is named; returns how many they were.

    Whoever asks: it only does what the clock has decided."""
    with database.read() as session:
        rows = attempts.open_attempts(
            session,
            attempt_id=attempt_id,
            assignment_id=assignment_id,
            class_id=class_id,
            student_key=None if student is None else student.id,
        )
        rules = rules_of_attempts(session, rows)
        over = [row for row in rows if rules[row.id].is_over(row.started_at, now)]
        events = {row.id: attempt_events.events_of(session, row.id) for row in over}
    for row in over:
        ends, by = rules[row.id].ends_at(row.started_at), _ended_by(row, rules[row.id])
        _close(database, _finder(row.public_id), row, events[row.id], at=ends or now, by=by)
    return len(over)


def _finder(attempt_id: str) -> Find:
    def find(session: Any) -> AttemptRecord:
        return attempts.attempt_named(session, attempt_id)

    return find


def _ended_by(row: AttemptRecord, rules: Rules) -> EndedBy:
    at_closing = rules.closes_at is not None and rules.closes_at == rules.ends_at(row.started_at)
    return EndedBy.CLOSING if at_closing else EndedBy.TIME_LIMIT


def _close(
    database: Database,
    find: Find,
    row: AttemptRecord,
    events: Sequence[EventRecord],
    *,
    at: datetime,
    by: EndedBy | None,
) -> None:
    """Nobody else writes while one does, so the marks are made before the write, and again when something was
    saved meanwhile. by None: its student, who is first asked to mend what can't be read."""
    while True:
        marks = _marks(row, events, strict=by is None)
        with database.write() as session:
            row = find(session)
            if row.state is not AttemptState.OPEN:
                return
            refuse_when_put_away(row.assignment, "answers")
            if attempt_events.last_event_number(session, row.id) == len(events):
                _keep(session, row, marks, at, by)
                return
            events = attempt_events.events_of(session, row.id)


def _marks(row: AttemptRecord, events: Sequence[EventRecord], *, strict: bool) -> Sequence[Mark]:
    """Raises UnreadableAnswers when strict; otherwise such an answer earns nothing, with the reason."""
    variant, answers = variant_of_attempt(row), answers_in(events)
    problems = problems_of(variant, answers) if strict else {}
    if problems:
        raise UnreadableAnswers(problems)
    return mark_all(variant, answers, bench.left_by(row, events), hints_in(events))


def _keep(session: Any, row: AttemptRecord, marks: Sequence[Mark], now: datetime, by: EndedBy | None) -> None:
    body = {} if by is None else {"by": by.value}
    attempt_events.add_event(session, attempt_key=row.id, kind=EventKind.HAND_IN, body=body, now=now)
    store_first_marks(session, row, marks, now=now)
    attempts.hand_in(
        session,
        row.id,
        points=sum(mark.points for mark in marks),
        out_of=sum(mark.out_of for mark in marks),
        now=now,
    )
