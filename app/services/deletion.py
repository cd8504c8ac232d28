"""Deleting a student for good, with a receipt.

Nothing is kept under another name: an attempt without its student is of no use to anyone, and a class's
statistics are computed from what is there. What stays is a note in the audit, which holds the receipt and no
name. Copies outside the database can't be reached from here; the page names them.
"""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from app.services.accounts import Person
from app.services.errors import Refused
from app.services.names import same_name
from app.services.reach import note, own_class, own_student
from app.store import classes, erasing, rosters
from app.store.db import Database


@dataclass(frozen=True)
class Erasable:
    """A student who can be deleted here. elsewhere: they have been in a class of another instructor, who
    would lose work; then they can't."""

    student_id: str
    display_name: str
    class_names: tuple[str, ...]
    elsewhere: bool


@dataclass(frozen=True)
class Receipt:
    """What was deleted. rows: by table. mentions: where others wrote the name into texts of their own, by
    table. file_written_anew: no byte is left in the database's file; False where that has to be done yet."""

    number: str
    at: datetime
    rows: Mapping[str, int]
    mentions: Mapping[str, int]
    file_written_anew: bool


def erasable(database: Database, *, class_id: str, instructor: Person, student_id: str) -> Erasable:
    """Raises NotFound."""
    with database.read() as session:
        student = own_student(session, class_id, instructor, student_id)[1].person
        all_classes = classes.classes_of_person(session, student.id)
        taught = classes.class_keys_taught_by(session, instructor.id)
        return Erasable(
            student_id=student_id,
            display_name=student.display_name,
            class_names=tuple(each.name for each in all_classes if each.id in taught),
            elsewhere=any(each.id not in taught for each in all_classes),
        )


def erase_student(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    student_id: str,
    typed_name: str,
    now: datetime,
) -> Receipt:
    """Delete a student who is or was in the class, with everything they ever did here. typed_name: their
    name, typed to say that this is meant. Raises NotFound and Refused."""
    number = secrets.token_hex(6)
    with database.write() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        student = enrolment.person
        taught = classes.class_keys_taught_by(session, instructor.id)
        if any(each.id not in taught for each in classes.classes_of_person(session, student.id)):
            raise Refused(
                "typed_name", "This student has work in a class of another instructor. Ask them first."
            )
        if same_name(" ".join(typed_name.split())) != same_name(student.display_name):
            raise Refused("typed_name", f"Type the name as it stands here: {student.display_name}.")
        name = student.display_name
        keys = rosters.keys_of(session, [student.id]).get(student.id, {})
        names = {student.public_id, student.display_name, student.sort_name, student.sign_in_name}
        person_key = student.id
        session.expunge_all()  # what follows deletes rows behind the session's back
        counts = erasing.erase(session, person_key, names=names | set(keys.values()))
        rosters.forget_files(session)  # a class list that waits for its preview may hold the name
        still = erasing.mentions(session, name)
        note(session, now, instructor, "delete student", row, receipt=number, rows=counts)
    return Receipt(number, now, counts, still, erasing.write_file_anew(database))


def write_file_anew(database: Database, *, class_id: str, instructor: Person) -> bool:
    """Try again to write the database's file anew; returns whether it was done. Raises NotFound."""
    with database.read() as session:
        own_class(session, class_id, instructor)
    return erasing.write_file_anew(database)
