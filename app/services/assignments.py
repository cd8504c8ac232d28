"""Assignments: a scenario version given to a class with dates and rules."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.measures import UnitSystem
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.reach import note, own_class
from app.services.records import AssignmentRecord
from app.services.versions import scenario_of
from app.store import assignments, scenarios
from app.store.choices import AttemptState
from app.store.db import Database

LONGEST_TITLE = 120
MOST_ATTEMPTS = 50


@dataclass(frozen=True)
class AssignmentRow:
    """An assignment and how far its class is: students in all, with an attempt begun, with one handed in."""

    public_id: str
    title: str
    scenario_title: str
    opens_at: datetime
    due_at: datetime
    attempts_allowed: int | None
    students: int
    started: int
    handed_in: int


@dataclass(frozen=True)
class AssignmentDetail:
    row: AssignmentRow
    class_id: str
    class_name: str
    time_zone: str
    units: UnitSystem
    scenario_id: str
    version_number: int


def assign(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    scenario_id: str,
    title: str,
    opens_at: datetime,
    due_at: datetime,
    attempts_allowed: int | None,
    now: datetime,
) -> str:
    """Give the newest version of a scenario to a class; returns the assignment's public id.

    The assignment keeps this version whatever becomes of the scenario. Raises NotFound and Refused.
    """
    fields = _fields(title, opens_at, due_at, attempts_allowed)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        if row.archived_at is not None:
            raise Refused("class_id", "This class is archived. Reopen it first, or choose another.")
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        added = assignments.add_assignment(
            session,
            class_id=row.id,
            scenario_version_id=version.id,
            created_by=instructor.id,
            now=now,
            **fields,
        )
        note(session, now, instructor, "assign", row, assignment=added.public_id)
        return added.public_id


def change(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    title: str,
    opens_at: datetime,
    due_at: datetime,
    attempts_allowed: int | None,
    now: datetime,
) -> None:
    """Change title, dates and attempts; work already done stays. Raises NotFound and Refused."""
    fields = _fields(title, opens_at, due_at, attempts_allowed)
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        for column, value in fields.items():
            setattr(row, column, value)
        note(session, now, instructor, "change assignment", row.school_class, assignment=assignment_id)


def of_class(database: Database, *, class_id: str, instructor: Person) -> list[AssignmentRow]:
    """What a class was given, in the order in which it opens. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        students = assignments.students_in_class(session, row.id)
        progress = assignments.progress_in_class(session, row.id)
        return [_row(each, students, progress) for each in assignments.assignments_of_class(session, row.id)]


def one(database: Database, *, assignment_id: str, instructor: Person) -> AssignmentDetail:
    """Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        school_class = row.school_class
        students = assignments.students_in_class(session, school_class.id)
        progress = assignments.progress_in_class(session, school_class.id)
        return AssignmentDetail(
            row=_row(row, students, progress),
            class_id=school_class.public_id,
            class_name=school_class.name,
            time_zone=school_class.time_zone,
            units=school_class.units,
            scenario_id=row.scenario_version.scenario.public_id,
            version_number=row.scenario_version.number,
        )


def own_assignment(session: Any, assignment_id: str, instructor: Person) -> AssignmentRecord:
    """The row of an assignment in a class this person teaches. Raises NotFound."""
    row = assignments.assignment_taught_by(session, assignment_id, instructor.id)
    if row is None:
        raise NotFound("There is no such assignment in your classes.")
    return row


def _row(row: AssignmentRecord, students: int, progress: Sequence[Any]) -> AssignmentRow:
    mine = [each for each in progress if each.assignment_id == row.id]
    return AssignmentRow(
        public_id=row.public_id,
        title=row.title,
        scenario_title=scenario_of(row.scenario_version).title,
        opens_at=row.opens_at,
        due_at=row.due_at,
        attempts_allowed=row.attempts_allowed,
        students=students,
        started=len({each.person_id for each in mine}),
        handed_in=len({each.person_id for each in mine if each.state is AttemptState.HANDED_IN}),
    )


def _fields(title: str, opens_at: datetime, due_at: datetime, attempts_allowed: int | None) -> dict[str, Any]:
    title = " ".join(title.split())
    if not title or len(title) > LONGEST_TITLE:
        raise Refused("title", f"Give the assignment a title of at most {LONGEST_TITLE} characters.")
    if due_at <= opens_at:
        raise Refused("due_at", "The due time must come after the opening time.")
    if attempts_allowed is not None and not 1 <= attempts_allowed <= MOST_ATTEMPTS:
        raise Refused(
            "attempts_allowed",
            f"Allow 1 to {MOST_ATTEMPTS} attempts, or leave it empty for as many as they like.",
        )
    return {"title": title, "opens_at": opens_at, "due_at": due_at, "attempts_allowed": attempts_allowed}
