"""A student's work: what is due, opening a lab, saving answers, handing in, and the result."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any

from app.domain.answers import Raw
from app.domain.draws import DRAWING_VERSION
from app.domain.marking import Mark, mark_all
from app.domain.scenario import Scenario
from app.services import bench
from app.services.accounts import Person
from app.services.errors import NotFound, Refused, UnreadableAnswers
from app.services.labs import (
    AttemptRow,
    Lab,
    Result,
    answers_in,
    attempt_row,
    is_put_away,
    lab_of,
    problems_of,
    refuse_when_put_away,
    result_of,
    store_mark,
    variant_of_attempt,
)
from app.services.page_saves import PageSave
from app.services.records import AssignmentRecord, AttemptRecord, EventRecord
from app.services.versions import attempt_seed, scenario_of
from app.store import assignments, attempts
from app.store.choices import AttemptState, EventKind
from app.store.db import Database

LONGEST_ANSWER = 6000
"""Characters of one saved answer, whatever its kind; each kind has a tighter bound of its own."""


class DueState(StrEnum):
    NOT_OPEN = "not open yet"
    TO_DO = "to do"
    IN_PROGRESS = "in progress"
    HANDED_IN = "handed in"
    OVERDUE = "overdue"


@dataclass(frozen=True)
class DueRow:
    """One assignment as its student sees it in the list. best_points: of the best attempt handed in."""

    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    opens_at: datetime
    due_at: datetime
    attempts_allowed: int | None
    attempts_used: int
    open_attempt_id: str | None
    last_handed_in_id: str | None
    best_points: float | None
    out_of: float
    state: DueState
    may_start: bool
    put_away: bool


@dataclass(frozen=True)
class AssignmentForStudent:
    due: DueRow
    scenario: Scenario
    attempts: tuple[AttemptRow, ...]


@dataclass(frozen=True)
class Saved:
    """number: of the newest event; problem: why an answer, saved as typed, can't be read yet."""

    number: int
    problem: str | None


def due_list(database: Database, *, student: Person, now: datetime) -> list[DueRow]:
    """Everything given to the student's classes, soonest due first."""
    with database.read() as session:
        given = assignments.assignments_given_to(session, student.id)
        own = attempts.attempts_at(session, [row.id for row in given], student.id)
        return [_due_row(row, [each for each in own if each.assignment_id == row.id], now) for row in given]


def assignment(
    database: Database, *, assignment_id: str, student: Person, now: datetime
) -> AssignmentForStudent:
    """What a student is told before starting, and the own attempts so far. Raises NotFound."""
    with database.read() as session:
        row = _given(session, assignment_id, student)
        own = attempts.attempts_at(session, [row.id], student.id)
        return AssignmentForStudent(
            due=_due_row(row, own, now),
            scenario=scenario_of(row.scenario_version),
            attempts=tuple(attempt_row(each, row.due_at) for each in own),
        )


def start_attempt(database: Database, *, assignment_id: str, student: Person, now: datetime) -> str:
    """The public id of the open attempt, a new one with new numbers when there is none.

    Raises NotFound, and Refused when the class is put away, the lab isn't open yet or every attempt is used.
    """
    with database.write() as session:
        row = _given(session, assignment_id, student)
        own = attempts.attempts_at(session, [row.id], student.id)
        due = _due_row(row, own, now)
        if due.open_attempt_id is not None:
            return due.open_attempt_id
        refuse_when_put_away(row, "assignment")
        if now < row.opens_at:
            raise Refused("assignment", "This lab isn't open yet. Look at its opening time.")
        if not due.may_start:
            raise Refused("assignment", "Every attempt at this lab is used. Ask your instructor for another.")
        version = row.scenario_version
        number = len(own) + 1
        seed = attempt_seed(
            sha256=version.sha256, assignment=row.public_id, student=student.public_id, number=number
        )
        started = attempts.add_attempt(
            session,
            assignment_id=row.id,
            person_id=student.id,
            number=number,
            seed=str(seed),
            drawing_version=DRAWING_VERSION,
            scenario_version_id=version.id,
            units=row.school_class.units,
            state=AttemptState.OPEN,
            started_at=now,
        )
        return started.public_id


def lab(database: Database, *, attempt_id: str, student: Person) -> Lab:
    """A student's own lab with what is saved. Raises NotFound."""
    with database.read() as session:
        row = _own_attempt(session, attempt_id, student)
        return lab_of(row, attempts.events_of(session, row.id))


def save_answer(
    database: Database,
    *,
    attempt_id: str,
    student: Person,
    task_id: str,
    answer: Raw,
    now: datetime,
    page_save: PageSave | None = None,
) -> Saved:
    """Keep one answer as an event; durable when this returns. Raises NotFound, Refused once handed in."""
    answers = {task_id: answer}
    return save_answers(
        database, attempt_id=attempt_id, student=student, answers=answers, now=now, page_save=page_save
    )


def save_answers(
    database: Database,
    *,
    attempt_id: str,
    student: Person,
    answers: Mapping[str, Raw],
    now: datetime,
    page_save: PageSave | None = None,
) -> Saved:
    """Keep the answers that differ from what is saved, each as an event. Raises NotFound and Refused.

    With `page_save` an answer that came too late, after a newer one of its page, changes nothing.
    """
    with database.read() as session:
        row = _own_attempt(session, attempt_id, student)
    _refuse_what_can_not_be_kept(scenario_of(row.scenario_version), answers)
    with database.write() as session:
        row = _own_attempt(session, attempt_id, student)
        attempts.lock(session, row)
        if row.state is not AttemptState.OPEN:
            raise Refused("answers", "This lab is handed in; its answers can't be changed any more.")
        refuse_when_put_away(row.assignment, "answers")
        number = _append_answers(session, row, answers, page_save, now)
    problems = problems_of(variant_of_attempt(row), answers)
    return Saved(number, next(iter(problems.values()), None))


def hand_in(database: Database, *, attempt_id: str, student: Person, now: datetime) -> None:
    """Hand in what is saved: mark it all and close the attempt. A second time changes nothing.

    Nobody else writes while one does, so the marks are made before the write, and again when another answer
    was saved meanwhile. Raises NotFound, and with the attempt still open Refused and UnreadableAnswers.
    """
    handed_in = False
    while not handed_in:
        with database.read() as session:
            row = _own_attempt(session, attempt_id, student)
            events = attempts.events_of(session, row.id)
        if row.state is not AttemptState.OPEN:
            return
        refuse_when_put_away(row.assignment, "answers")
        marks = _marks(row, events)
        with database.write() as session:
            row = _own_attempt(session, attempt_id, student)
            attempts.lock(session, row)
            if row.state is not AttemptState.OPEN:
                return
            refuse_when_put_away(row.assignment, "answers")
            handed_in = attempts.last_event_number(session, row.id) == len(events)
            if handed_in:
                _close(session, row, marks, now)


def _marks(row: AttemptRecord, events: Sequence[EventRecord]) -> Sequence[Mark]:
    """Raises UnreadableAnswers."""
    variant, answers = variant_of_attempt(row), answers_in(events)
    problems = problems_of(variant, answers)
    if problems:
        raise UnreadableAnswers(problems)
    return mark_all(variant, answers, bench.left_by(row, events))


def _close(session: Any, row: AttemptRecord, marks: Sequence[Mark], now: datetime) -> None:
    attempts.add_event(session, attempt_id=row.id, kind=EventKind.HAND_IN, body={}, now=now)
    for mark in marks:
        store_mark(session, row, mark, now=now)
    attempts.hand_in(
        session,
        row.id,
        points=sum(mark.points for mark in marks),
        out_of=sum(mark.out_of for mark in marks),
        now=now,
    )


def result(database: Database, *, attempt_id: str, student: Person) -> Result | None:
    """The marks of a student's own handed-in lab, None while it is open. Raises NotFound."""
    with database.read() as session:
        row = _own_attempt(session, attempt_id, student)
        if row.state is not AttemptState.HANDED_IN:
            return None
        return result_of(row, attempts.events_of(session, row.id), attempts.standing_marks(session, row.id))


def _refuse_what_can_not_be_kept(scenario: Scenario, answers: Mapping[str, Raw]) -> None:
    for task_id, answer in answers.items():
        if scenario.task(task_id) is None:
            raise NotFound("There is no such task in this lab.")
        if len(str(answer)) > LONGEST_ANSWER:
            raise Refused(task_id, f"This is too long to keep; at most {LONGEST_ANSWER} characters fit.")


def _append_answers(
    session: Any,
    row: AttemptRecord,
    answers: Mapping[str, Raw],
    page_save: PageSave | None,
    now: datetime,
) -> int:
    events = attempts.events_of(session, row.id)
    number = events[-1].number if events else 0
    for task_id, answer in answers.items():
        if _is_news(events, task_id, answer, page_save):
            number = attempts.add_event(
                session,
                attempt_id=row.id,
                kind=EventKind.ANSWER,
                body={"task": task_id, "answer": answer} | (asdict(page_save) if page_save else {}),
                now=now,
            )
    return number


def _is_news(events: Sequence[EventRecord], task_id: str, answer: Raw, page_save: PageSave | None) -> bool:
    """A page's save is news unless the page has sent a newer one: also where it changes nothing, so that an
    older one that is still under way is known to be old."""
    answers = [event.body for event in events if event.kind is EventKind.ANSWER]
    bodies = [body for body in answers if body["task"] == task_id]
    if page_save is not None:
        return not any(page_save.is_overtaken_by(body.get("page"), body.get("revision")) for body in bodies)
    return bool(bodies[-1]["answer"] != answer if bodies else answer)


def _given(session: Any, assignment_id: str, student: Person) -> AssignmentRecord:
    row = assignments.assignment_given_to(session, assignment_id, student.id)
    if row is None:
        raise NotFound("There is no such lab among yours.")
    return row


def _own_attempt(session: Any, attempt_id: str, student: Person) -> AttemptRecord:
    row = attempts.attempt_by(session, attempt_id, student.id)
    if row is None:
        raise NotFound("There is no such lab among yours.")
    return row


def _due_row(row: AssignmentRecord, own: Sequence[AttemptRecord], now: datetime) -> DueRow:
    handed_in = [each for each in own if each.state is AttemptState.HANDED_IN]
    still_open = next((each for each in own if each.state is AttemptState.OPEN), None)
    unused = row.attempts_allowed is None or len(own) < row.attempts_allowed
    return DueRow(
        assignment_id=row.public_id,
        title=row.title,
        class_name=row.school_class.name,
        time_zone=row.school_class.time_zone,
        opens_at=row.opens_at,
        due_at=row.due_at,
        attempts_allowed=row.attempts_allowed,
        attempts_used=len(own),
        open_attempt_id=still_open.public_id if still_open else None,
        last_handed_in_id=handed_in[-1].public_id if handed_in else None,
        best_points=max((each.points or 0.0 for each in handed_in), default=None),
        out_of=scenario_of(row.scenario_version).out_of,
        state=_due_state(row, still_open, handed_in, now),
        may_start=now >= row.opens_at and still_open is None and unused and not is_put_away(row),
        put_away=is_put_away(row),
    )


def _due_state(
    row: AssignmentRecord,
    still_open: AttemptRecord | None,
    handed_in: Sequence[AttemptRecord],
    now: datetime,
) -> DueState:
    if still_open is not None:
        return DueState.IN_PROGRESS
    if handed_in:
        return DueState.HANDED_IN
    if now < row.opens_at:
        return DueState.NOT_OPEN
    return DueState.OVERDUE if now > row.due_at else DueState.TO_DO
