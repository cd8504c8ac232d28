"""What an assignment allows single students: other dates, attempts or time, or being excused."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import Any

from app.domain.standing import Exceptional, Rules
from app.services.accounts import Person
from app.services.assignments import MOST_ATTEMPTS, own_assignment
from app.services.classes import MOST_EXTRA_TIME
from app.services.errors import NotFound, Refused
from app.services.reach import note, refuse_when_put_away
from app.services.records import AssignmentRecord
from app.services.rules import exceptional, rules_of
from app.store import classes, exceptions
from app.store.db import Database

LONGEST_REASON = 200


@dataclass(frozen=True)
class ExceptionRow:
    """One student's exception. rules: what holds for the student with it."""

    student_id: str
    student_name: str
    sort_name: str
    exception: Exceptional
    rules: Rules
    made_at: datetime


def exceptions_of(database: Database, *, assignment_id: str, instructor: Person) -> list[ExceptionRow]:
    """The exceptions at an assignment, by family name. Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        factors = exceptions.extra_time_factors(session, [row.class_id])
        rows = [
            _row(row, each, factors.get((row.class_id, each.person_id), 1.0))
            for each in exceptions.exceptions_at(session, [row.id])
        ]
        return sorted(rows, key=lambda each: each.sort_name.casefold())


def rules_for(database: Database, *, assignment_id: str, instructor: Person, student_id: str) -> Rules:
    """What holds for one student of the class now. Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        enrolment = _enrolment(session, row, student_id)
        own = exceptions.exception_of(session, row.id, enrolment.person_id)
        return rules_of(row).for_student(
            None if own is None else exceptional(own), extra_time_factor=enrolment.extra_time_factor
        )


def set_exception(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    student_id: str,
    exception: Exceptional,
    now: datetime,
) -> None:
    """Give a student an exception in place of the one before; an empty one takes it away.

    Work that is done stays, and counts by the new rules at once. Raises NotFound and Refused.
    """
    exception = replace(exception, reason=" ".join(exception.reason.split()))
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        refuse_when_put_away(row.school_class)
        enrolment = _enrolment(session, row, student_id)
        _refuse_impossible(rules_of(row), exception)
        kept = exceptions.exception_of(session, row.id, enrolment.person_id)
        before = {} if kept is None else _words(asdict(exceptional(kept)))
        if exception == Exceptional():
            if kept is None:
                return
            session.delete(kept)
        elif kept is None:
            exceptions.add(
                session,
                asdict(exception)
                | {"assignment_id": row.id, "person_id": enrolment.person_id}
                | {"made_at": now, "made_by": instructor.id},
            )
        else:
            for column, value in (asdict(exception) | {"made_at": now, "made_by": instructor.id}).items():
                setattr(kept, column, value)
        note(
            session,
            now,
            instructor,
            "set exception",
            row.school_class,
            assignment=assignment_id,
            student=student_id,
            before=before,
            exception=_words(asdict(exception)),
        )


def _refuse_impossible(rules: Rules, exception: Exceptional) -> None:
    own = rules.for_student(exception)
    if own.due_at <= own.opens_at:
        field = "due_at" if exception.due_at else "opens_at"
        raise Refused(field, "The due time must come after the opening time. Choose both, or neither.")
    if exception.closes_at is not None and own.closes_at is not None and own.closes_at < own.due_at:
        raise Refused("closes_at", "It can't close before it is due. Choose the due time or a later one.")
    allowed, factor = exception.attempts_allowed, exception.time_factor
    if allowed is not None and not 1 <= allowed <= MOST_ATTEMPTS:
        raise Refused("attempts_allowed", f"Allow 1 to {MOST_ATTEMPTS} attempts, or leave it empty.")
    if factor is not None and not 1 <= factor <= MOST_EXTRA_TIME:
        raise Refused("time_factor", f"Enter 1 to {MOST_EXTRA_TIME:g}, like 1.5, or leave it empty.")
    if len(exception.reason) > LONGEST_REASON:
        raise Refused("reason", f"Shorten the reason to at most {LONGEST_REASON} characters.")
    if exception.excused and not exception.reason:
        raise Refused("reason", "Say why; the student reads it, like “ill that week”.")
    if exception.reason and exception == Exceptional(reason=exception.reason):
        raise Refused("reason", "A reason alone changes nothing. Say what is otherwise for this student.")


def _words(columns: Mapping[str, Any]) -> dict[str, str]:
    """What is set, as the audit keeps it."""
    return {name: str(value) for name, value in columns.items() if value not in (None, False, "")}


def _enrolment(session: Any, row: AssignmentRecord, student_id: str) -> Any:
    enrolment = classes.enrolment_of(session, row.class_id, student_id)
    if enrolment is None or enrolment.dropped_at is not None:
        raise NotFound("There is no such student in this class.")
    return enrolment


def _row(assignment: AssignmentRecord, row: Any, factor: float) -> ExceptionRow:
    exception = exceptional(row)
    return ExceptionRow(
        student_id=row.person.public_id,
        student_name=row.person.display_name,
        sort_name=row.person.sort_name,
        exception=exception,
        rules=rules_of(assignment).for_student(exception, extra_time_factor=factor),
        made_at=row.made_at,
    )
