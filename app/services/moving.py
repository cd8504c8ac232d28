"""Students in several classes: joining a second one, and moving from one to another.

Work belongs to the assignments of the class it was done in: a move carries none of it along, and merges none,
also where both classes work the same scenario. The old class keeps it, and the student can be taken back.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.reach import note, own_class, refuse_when_put_away
from app.store import classes
from app.store.db import Database


@dataclass(frozen=True)
class OtherStudent:
    """A student of another class of this instructor."""

    public_id: str
    sort_name: str
    sign_in_name: str


def students_elsewhere(database: Database, *, class_id: str, instructor: Person) -> tuple[OtherStudent, ...]:
    """Who could join the class with the account they have, by family name. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        found = classes.students_taught_elsewhere(session, row.id, instructor.id)
        return tuple(OtherStudent(each.public_id, each.sort_name, each.sign_in_name) for each in found)


def enrol_existing(
    database: Database, *, class_id: str, instructor: Person, student_ids: Collection[str], now: datetime
) -> int:
    """Put students of other classes of this instructor into this one too; returns how many. They keep their
    sign-in cards. Raises NotFound when one of them isn't there, and Refused."""
    wanted = set(student_ids)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        found = [
            each
            for each in classes.students_taught_elsewhere(session, row.id, instructor.id)
            if each.public_id in wanted
        ]
        if len(found) < len(wanted):
            raise NotFound("One of these students isn't in another class of yours any more.")
        for each in found:
            classes.enrol(session, class_key=row.id, person_key=each.id, now=now)
        note(session, now, instructor, "enrol students", row, students=sorted(wanted))
    return len(found)


def move_student(
    database: Database, *, class_id: str, instructor: Person, student_id: str, to_class_id: str, now: datetime
) -> str:
    """Take a student out of one class and into another of this instructor; returns that class's name. Raises
    NotFound and Refused."""
    with database.write() as session:
        old, new = (own_class(session, each, instructor) for each in (class_id, to_class_id))
        if old.id == new.id:
            raise Refused("to_class", "Choose another class than the one they are in.")
        refuse_when_put_away(old)
        refuse_when_put_away(new, "to_class")
        leaving = classes.enrolment_of(session, old.id, student_id)
        if leaving is None or leaving.dropped_at is not None:
            raise NotFound("This student isn't in this class now.")
        leaving.dropped_at = now
        _join(session, new.id, student_id, leaving.person_id, now)
        note(session, now, instructor, "move student", old, student=student_id, to=new.public_id)
        note(session, now, instructor, "receive student", new, student=student_id, out_of=old.public_id)
        return str(new.name)


def _join(session: Any, class_key: int, student_id: str, person_key: int, now: datetime) -> None:
    there = classes.enrolment_of(session, class_key, student_id)
    if there is None:
        classes.enrol(session, class_key=class_key, person_key=person_key, now=now)
    else:
        there.dropped_at = None
