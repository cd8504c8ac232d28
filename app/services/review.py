"""What an instructor sees of a class's work: the gradebook, one attempt, and the marks given by hand."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any

from app.domain.answers import Raw, answer_as_shown
from app.domain.marking import Verdict
from app.domain.marking.by_hand import Earned, NotByRubric, mark_by_hand
from app.domain.tasks import TextTask
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.labs import AttemptRow, Result, attempt_row, hints_in, result_of
from app.services.reach import note, own_class
from app.services.records import AttemptRecord
from app.services.rules import rules_of_attempt
from app.services.versions import scenario_of
from app.store import assignments, attempts, classes
from app.store.choices import AttemptState, MarkSource
from app.store.choices import EventKind as EventKind  # of EventRow, for the pages too
from app.store.db import Database

LONGEST_COMMENT = 1000
CRITERION = "criterion-"
"""Before a criterion's id, the name of the entry with its points."""


class CellState(StrEnum):
    NOT_STARTED = "not started"
    IN_PROGRESS = "in progress"
    HANDED_IN = "handed in"
    LATE = "late"
    MISSING = "missing"


@dataclass(frozen=True)
class GradeColumn:
    assignment_id: str
    title: str
    out_of: float
    opens_at: datetime
    due_at: datetime


@dataclass(frozen=True)
class GradeCell:
    """One student at one assignment. points, attempt_id and waiting are of the attempt that counts, the best
    handed in and the earlier of equals; while none is handed in, attempt_id is the open one."""

    state: CellState
    points: float | None
    attempt_id: str | None
    attempts: int
    waiting: int


@dataclass(frozen=True)
class GradeRow:
    """total_points out of total_out_of: over the assignments that are handed in or past due."""

    student_id: str
    name: str
    sort_name: str
    sign_in_name: str
    cells: tuple[GradeCell, ...]
    total_points: float
    total_out_of: float


@dataclass(frozen=True)
class Gradebook:
    class_id: str
    class_name: str
    time_zone: str
    columns: tuple[GradeColumn, ...]
    rows: tuple[GradeRow, ...]


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


def gradebook(database: Database, *, class_id: str, instructor: Person, now: datetime) -> Gradebook:
    """Students who are in the class now, by family name, against its assignments. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        given = assignments.assignments_of_class(session, row.id)
        students = [each for each in classes.enrolments_of(session, row.id) if each.dropped_at is None]
        by_place: dict[tuple[int, int], list[Any]] = {}
        for each in attempts.attempts_in_class(session, row.id):
            by_place.setdefault((each.person_id, each.assignment_id), []).append(each)
        waiting = attempts.waiting_in_class(session, row.id, Verdict.WAITING)
        columns = tuple(
            GradeColumn(
                each.public_id,
                each.title,
                scenario_of(each.scenario_version).out_of,
                each.opens_at,
                each.due_at,
            )
            for each in given
        )
        return Gradebook(
            class_id=row.public_id,
            class_name=row.name,
            time_zone=row.time_zone,
            columns=columns,
            rows=tuple(
                _grade_row(
                    student.person,
                    columns,
                    [by_place.get((student.person_id, each.id), []) for each in given],
                    waiting,
                    now,
                )
                for student in students
            ),
        )


def _grade_row(
    person: Any,
    columns: Sequence[GradeColumn],
    own: Sequence[Sequence[Any]],
    waiting: Mapping[int, int],
    now: datetime,
) -> GradeRow:
    cells = tuple(_cell(rows, column, waiting, now) for rows, column in zip(own, columns, strict=True))
    counted = [
        (cell.points or 0.0, column.out_of)
        for cell, column in zip(cells, columns, strict=True)
        if cell.points is not None or column.due_at < now
    ]
    return GradeRow(
        student_id=person.public_id,
        name=person.display_name,
        sort_name=person.sort_name,
        sign_in_name=person.sign_in_name,
        cells=cells,
        total_points=math.fsum(points for points, _ in counted),
        total_out_of=math.fsum(out_of for _, out_of in counted),
    )


def _cell(rows: Sequence[Any], column: GradeColumn, waiting: Mapping[int, int], now: datetime) -> GradeCell:
    best = best_handed_in(rows)
    if best is not None:
        late = best.handed_in_at is not None and best.handed_in_at > column.due_at
        state = CellState.LATE if late else CellState.HANDED_IN
        return GradeCell(state, best.points, best.public_id, len(rows), waiting.get(best.id, 0))
    if rows:
        return GradeCell(CellState.IN_PROGRESS, None, rows[-1].public_id, len(rows), 0)
    state = CellState.MISSING if column.due_at < now else CellState.NOT_STARTED
    return GradeCell(state, None, None, 0, 0)


def best_handed_in(rows: Sequence[AttemptRecord]) -> AttemptRecord | None:
    """The handed-in attempt with the most points, the earlier of equals; None when none is handed in."""
    handed_in = [row for row in rows if row.state is AttemptState.HANDED_IN]
    return max(handed_in, key=lambda row: (row.points or 0.0, -row.number), default=None)


def attempt(database: Database, *, attempt_id: str, instructor: Person) -> AttemptReview:
    """One attempt with every answer, key, mark and event. Raises NotFound."""
    with database.read() as session:
        row = _own_attempt(session, attempt_id, instructor)
        events = attempts.events_of(session, row.id)
        others = attempts.attempts_at(session, [row.assignment_id], row.person_id)
        rules = rules_of_attempt(session, row)
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
        attempts.lock(session, row)
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
                hints_shown=hints_in(attempts.events_of(session, row.id)).get(task_id, 0),
            )
        except NotByRubric as fault:
            field = "points" if fault.criterion is None else f"{CRITERION}{fault.criterion}"
            raise Refused(field, str(fault)) from fault
        attempts.add_mark(
            session,
            attempt_id=row.id,
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
