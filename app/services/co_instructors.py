"""Who teaches a class together. Each may do everything in it; one at least stays."""

from dataclasses import dataclass
from datetime import datetime

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.names import as_sign_in_name
from app.services.reach import note, own_class
from app.store import classes, people
from app.store.choices import Role
from app.store.db import Database


@dataclass(frozen=True)
class InstructorRow:
    public_id: str
    display_name: str
    sign_in_name: str


def instructors_of(database: Database, *, class_id: str, instructor: Person) -> tuple[InstructorRow, ...]:
    """By name. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        return tuple(
            InstructorRow(each.public_id, each.display_name, each.sign_in_name)
            for each in classes.instructors_of(session, row.id)
        )


def add_instructor(
    database: Database, *, class_id: str, instructor: Person, sign_in_name: str, now: datetime
) -> str:
    """Let another instructor teach the class too; returns the name they are known by. Raises NotFound and
    Refused."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        other = people.person_by_sign_in_name(session, as_sign_in_name(sign_in_name))
        if other is None or other.role is not Role.INSTRUCTOR:
            raise Refused(
                "sign_in_name",
                "No instructor signs in with this name. Whoever runs the server makes accounts for new ones.",
            )
        if any(each.id == other.id for each in classes.instructors_of(session, row.id)):
            raise Refused("sign_in_name", f"{other.display_name} teaches this class already.")
        classes.add_instructor(session, row.id, other.id)
        note(session, now, instructor, "add co-instructor", row, other=other.public_id)
        return other.display_name


def remove_instructor(
    database: Database, *, class_id: str, instructor: Person, instructor_id: str, now: datetime
) -> str:
    """Take an instructor off the class, also oneself; returns the name. Raises NotFound, and Refused for the
    last one."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        teaching = classes.instructors_of(session, row.id)
        leaving = next((each for each in teaching if each.public_id == instructor_id), None)
        if leaving is None:
            raise NotFound("This person doesn't teach this class.")
        if len(teaching) == 1:
            raise Refused("instructor", "A class needs an instructor. Add another one first.")
        classes.remove_instructor(session, row.id, leaving.id)
        note(session, now, instructor, "remove co-instructor", row, other=instructor_id)
        return leaving.display_name
