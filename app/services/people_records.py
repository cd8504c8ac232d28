"""Everything that is held about one student, as plain data: what a student or a parent may ask a school for.

It is found by the tables' own references, the same way in which a deletion finds it: the two can't differ.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.at_the_machine import CheckLine, HeatLine, LabLine, check_lines, heat_lines, lab_lines
from app.services.reach import note, own_class, own_student
from app.store import classes, person_rows
from app.store.db import Database


@dataclass(frozen=True)
class StudentRecord:
    """tables: every row by table, as JSON can hold it. elsewhere: whether the student has been in classes of
    others too, of which nothing is told here."""

    student_id: str
    display_name: str
    sign_in_name: str
    class_names: tuple[str, ...]
    time_zone: str
    made_at: datetime
    labs: tuple[LabLine, ...]
    checks: tuple[CheckLine, ...]
    heats: tuple[HeatLine, ...]
    tables: Mapping[str, list[dict[str, Any]]]
    elsewhere: bool


def record_of(
    database: Database, *, class_id: str, instructor: Person, student_id: str, now: datetime
) -> StudentRecord:
    """A student who is or was in the class, with all that was done in this instructor's classes. That it was
    asked for is noted. Raises NotFound."""
    with database.write() as session:
        row, _ = own_student(session, class_id, instructor, student_id)
        note(session, now, instructor, "read record", row, student=student_id)
    with database.read() as session:  # long enough that nobody should wait for it to save
        row, enrolment = own_student(session, class_id, instructor, student_id)
        return _record(session, row, enrolment.person, instructor, now)


def records_of_class(
    database: Database, *, class_id: str, instructor: Person, now: datetime
) -> list[StudentRecord]:
    """The records of everyone who is or was in the class, by family name: what is kept of a term. That they
    were asked for is noted. Raises NotFound."""
    with database.write() as session:
        note(session, now, instructor, "read records", own_class(session, class_id, instructor))
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        return [
            _record(session, row, enrolment.person, instructor, now)
            for enrolment in classes.enrolments_of(session, row.id)
        ]


def _record(session: Any, row: Any, student: Any, instructor: Person, now: datetime) -> StudentRecord:
    all_classes = classes.classes_of_person(session, student.id)
    taught = classes.class_keys_taught_by(session, instructor.id)
    own = [each for each in all_classes if each.id in taught]
    keys = [each.id for each in own]
    return StudentRecord(
        student_id=student.public_id,
        display_name=student.display_name,
        sign_in_name=student.sign_in_name,
        class_names=tuple(each.name for each in own),
        time_zone=row.time_zone,
        made_at=now,
        labs=lab_lines(session, student.id, keys),
        checks=check_lines(session, student.id, own),
        heats=heat_lines(session, student.id, own, now),
        tables=person_rows.rows_by_table(session, student.id, class_keys=keys),
        elsewhere=len(own) < len(all_classes),
    )
