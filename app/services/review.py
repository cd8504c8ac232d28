"""What an instructor sees of one attempt, and the marks given by hand."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.answers import Raw, answer_as_shown
from app.domain.marking.by_hand import Earned, NotByRubric, mark_by_hand
from app.domain.tasks import TextTask
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.labs import AttemptRow, Result, attempt_row, hints_in, result_of
from app.services.reach import note, refuse_when_put_away
from app.services.records import AttemptRecord
from app.services.rules import rules_of_attempts
from app.services.versions import scenario_of
from app.store import attempt_events, attempts
from app.store.choices import AttemptState, MarkSource
from app.store.choices import EventKind as EventKind  # of EventRow, for the pages too
from app.store.db import Database

LONGEST_COMMENT = 1000
CRITERION = "criterion-"
"""Before a criterion's id, the name of the entry with its points."""


@dataclass(frozen=True)
class EventRow:
    number: int
    kind: EventKind
    task_id: str | None
    answer: Raw
    at: datetime


@dataclass(frozen=True)
class AttemptReview:
    """An attempt in an instructor's class; result is None while it is open, `answers` are what is saved."""

    attempt_id: str
    student_id: str
    student_name: str
    class_id: str
    assignment_id: str
    result: Result
    handed_in: bool
    others: tuple[AttemptRow, ...]
    events: tuple[EventRow, ...]


def attempt(database: Database, *, attempt_id: str, instructor: Person) -> AttemptReview:
    """One attempt with every answer, key, mark and event. Raises NotFound."""
    with database.read() as session:
        row = _own_attempt(session, attempt_id, instructor)
        events = attempt_events.events_of(session, row.id)
        others = attempts.attempts_at(session, [row.assignment_id], row.person_id)
        rules = rules_of_attempts(session, [row])[row.id]
        return AttemptReview(
            attempt_id=row.public_id,
            student_id=row.person.public_id,
            student_name=row.person.display_name,
            class_id=row.assignment.school_class.public_id,
            assignment_id=row.assignment.public_id,
            result=result_of(row, events, attempts.standing_marks(session, row.id), rules),
            handed_in=row.state is AttemptState.HANDED_IN,
            others=tuple(attempt_row(each, rules) for each in others),
            events=tuple(
                EventRow(
                    event.number,
                    event.kind,
                    event.body.get("task"),
                    answer_as_shown(event.body.get("answer")),
                    event.at,
                )
                for event in events
            ),
        )


def mark_text(
    database: Database,
    *,
    attempt_id: str,
    instructor: Person,
    task_id: str,
    points: Earned,
    comment: str,
    now: datetime,
) -> None:
    """Mark a text answer by hand; an earlier mark stays as superseded. What its hints cost is taken off.

    points: of a rubric with criteria, by the id of each. Raises NotFound and Refused.
    """
    comment = comment.strip()
    if len(comment) > LONGEST_COMMENT:
        raise Refused("comment", f"Shorten the comment to at most {LONGEST_COMMENT} characters.")
    with database.write() as session:
        row = _own_attempt(session, attempt_id, instructor)
        refuse_when_put_away(row.assignment.school_class)
        task = scenario_of(row.scenario_version).task(task_id)
        if not isinstance(task, TextTask) or row.state is not AttemptState.HANDED_IN:
            raise NotFound("There is no handed-in text answer to mark here.")
        earlier = next(mark for mark in attempts.standing_marks(session, row.id) if mark.task_id == task_id)
        try:
            mark = mark_by_hand(
                task,
                points,
                marked_by=instructor.display_name,
                your_answer=earlier.detail.get("your_answer", ""),
                hints_shown=hints_in(attempt_events.events_of(session, row.id)).get(task_id, 0),
            )
        except NotByRubric as fault:
            field = "points" if fault.criterion is None else f"{CRITERION}{fault.criterion}"
            raise Refused(field, str(fault)) from fault
        attempts.add_mark(
            session,
            attempt_key=row.id,
            task_id=task_id,
            source=MarkSource.INSTRUCTOR,
            points=mark.points,
            out_of=mark.out_of,
            verdict=mark.verdict,
            detail={
                "reason": mark.reason,
                "your_answer": mark.your_answer,
                "right_answer": "",
                "taken_off": mark.taken_off,
                "comment": comment,
                "criteria": dict(points) if isinstance(points, Mapping) else {},
            },
            made_by=instructor.id,
            now=now,
        )
        row.points = attempts.points_of(session, row.id)
        note(
            session,
            now,
            instructor,
            "mark text",
            row.assignment.school_class,
            attempt=attempt_id,
            task=task_id,
        )


def _own_attempt(session: Any, attempt_id: str, instructor: Person) -> AttemptRecord:
    row = attempts.attempt_taught_by(session, attempt_id, instructor.id)
    if row is None:
        raise NotFound("There is no such attempt in your classes.")
    return row
