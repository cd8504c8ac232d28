"""Classes: making and changing them, and the students in them. An instructor reaches only own classes."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import available_timezones

from app.domain.measures import UnitSystem
from app.services.accounts import Person
from app.services.errors import NotAllowed, Refused
from app.services.reach import note, own_class, own_student, refuse_when_put_away
from app.store import classes
from app.store.choices import Role
from app.store.db import Database

LONGEST_CLASS_NAME = 80
MOST_EXTRA_TIME = 4.0


@dataclass(frozen=True)
class ClassRow:
    """`students` is None for a student, who isn't told."""

    public_id: str
    name: str
    time_zone: str
    units: UnitSystem
    calculators_on: bool
    students: int | None
    archived_at: datetime | None


@dataclass(frozen=True)
class StudentRow:
    public_id: str
    display_name: str
    sort_name: str
    sign_in_name: str
    extra_time_factor: float
    last_seen: datetime | None
    dropped_at: datetime | None


@dataclass(frozen=True)
class ClassDetail:
    """`students` are in the class now, `dropped` were; both by family name."""

    public_id: str
    name: str
    time_zone: str
    units: UnitSystem
    calculators_on: bool
    archived_at: datetime | None
    students: tuple[StudentRow, ...]
    dropped: tuple[StudentRow, ...]


def make_class(
    database: Database, *, instructor: Person, name: str, time_zone: str, units: UnitSystem, now: datetime
) -> str:
    """Returns the new class's public id. Raises Refused, and NotAllowed for a student."""
    if instructor.role is not Role.INSTRUCTOR:
        raise NotAllowed("Only an instructor makes a class.")
    fields = class_fields(name, time_zone, units)
    with database.write() as session:
        row = classes.add_class(session, instructor_key=instructor.id, **fields, now=now)
        note(session, now, instructor, "make class", row, **fields)
        return row.public_id


def classes_of(database: Database, *, instructor: Person) -> list[ClassRow]:
    """The classes this person teaches, archived ones too, by name."""
    with database.read() as session:
        return [
            _class_row(row, students) for row, students in classes.classes_taught_by(session, instructor.id)
        ]


def classes_of_student(database: Database, *, student: Person) -> list[ClassRow]:
    """The classes this person is in now, by name."""
    with database.read() as session:
        return [_class_row(row, None) for row in classes.classes_attended_by(session, student.id)]


def class_page(database: Database, *, class_id: str, instructor: Person) -> ClassDetail:
    """Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        enrolments = classes.enrolments_of(session, row.id)
        last_seen = classes.last_seen_in(session, row.id)
        students = [_student_row(enrolment, last_seen) for enrolment in enrolments]
        return ClassDetail(
            public_id=row.public_id,
            name=row.name,
            time_zone=row.time_zone,
            units=row.units,
            calculators_on=row.calculators_on,
            archived_at=row.archived_at,
            students=tuple(student for student in students if student.dropped_at is None),
            dropped=tuple(student for student in students if student.dropped_at is not None),
        )


def update_class(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    name: str,
    time_zone: str,
    units: UnitSystem,
    calculators_on: bool,
    now: datetime,
) -> None:
    """Raises NotFound and Refused. Attempts that were started keep the units they were started in."""
    fields = class_fields(name, time_zone, units) | {"calculators_on": calculators_on}
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        for column, value in fields.items():
            setattr(row, column, value)
        note(session, now, instructor, "change class", row, **fields)


def archive_class(
    database: Database, *, class_id: str, instructor: Person, archived: bool, now: datetime
) -> None:
    """Put a class away, or take it out again; nothing in it is lost. Raises NotFound."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        if (row.archived_at is not None) != archived:
            row.archived_at = now if archived else None
            note(session, now, instructor, "archive class" if archived else "reopen class", row)


def drop_student(
    database: Database, *, class_id: str, instructor: Person, student_id: str, now: datetime
) -> None:
    """Take a student out of the class; the work is kept. Raises NotFound and Refused."""
    with database.write() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        refuse_when_put_away(row)
        if enrolment.dropped_at is None:
            enrolment.dropped_at = now
            note(session, now, instructor, "drop student", row, student=student_id)


def restore_student(
    database: Database, *, class_id: str, instructor: Person, student_id: str, now: datetime
) -> None:
    """Take a dropped student back, with all earlier work. Raises NotFound and Refused."""
    with database.write() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        refuse_when_put_away(row)
        if enrolment.dropped_at is not None:
            enrolment.dropped_at = None
            note(session, now, instructor, "restore student", row, student=student_id)


def set_extra_time(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    student_id: str,
    extra_time_factor: float,
    now: datetime,
) -> None:
    """Give a student 1 to 4 times the usual time in this class; a running time limit is stretched at once.
    Raises NotFound and Refused."""
    if not 1 <= extra_time_factor <= MOST_EXTRA_TIME:
        raise Refused(
            "extra_time_factor", "Enter 1 for the usual time, or up to 4, like 1.5 for half as much again."
        )
    with database.write() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        refuse_when_put_away(row)
        enrolment.extra_time_factor = extra_time_factor
        note(
            session,
            now,
            instructor,
            "set extra time",
            row,
            student=student_id,
            factor=extra_time_factor,
        )


def class_fields(name: str, time_zone: str, units: UnitSystem) -> dict[str, Any]:
    """The columns of a class as it is typed. Raises Refused."""
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_CLASS_NAME:
        raise Refused("name", f"Give the class a name of at most {LONGEST_CLASS_NAME} characters.")
    if time_zone not in available_timezones():
        raise Refused("time_zone", "Choose a time zone from the list, like America/Chicago.")
    return {"name": name, "time_zone": time_zone, "units": units}


def _class_row(row: Any, students: int | None) -> ClassRow:
    return ClassRow(
        row.public_id, row.name, row.time_zone, row.units, row.calculators_on, students, row.archived_at
    )


def _student_row(enrolment: Any, last_seen: dict[int, datetime]) -> StudentRow:
    person = enrolment.person
    return StudentRow(
        public_id=person.public_id,
        display_name=person.display_name,
        sort_name=person.sort_name,
        sign_in_name=person.sign_in_name,
        extra_time_factor=enrolment.extra_time_factor,
        last_seen=last_seen.get(person.id),
        dropped_at=enrolment.dropped_at,
    )
