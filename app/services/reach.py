"""What an instructor may reach, and the note that is kept of it."""

from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.store import audit, classes


def own_class(session: Any, class_id: str, instructor: Person) -> Any:
    """The row of a class this person teaches. Raises NotFound; whether another's exists is nobody's
    business."""
    row = classes.class_taught_by(session, class_id, instructor.id)
    if row is None:
        raise NotFound("There is no such class among yours.")
    return row


def own_student(session: Any, class_id: str, instructor: Person, student_id: str) -> tuple[Any, Any]:
    """A class this person teaches and the place of a student in it, dropped or not. Raises NotFound."""
    row = own_class(session, class_id, instructor)
    enrolment = classes.enrolment_of(session, row.id, student_id)
    if enrolment is None:
        raise NotFound("There is no such student in this class.")
    return row, enrolment


def refuse_when_put_away(row: Any, field: str = "class") -> None:
    """Raises Refused for an archived class: its work, its list and its settings stay as they are. What is
    about its people goes on: who teaches it, their cards and devices, and the erasing of a student."""
    if row.archived_at is not None:
        raise Refused(field, f"{row.name} is put away. Open it again in its settings to change anything.")


def note(session: Any, now: datetime, instructor: Person, action: str, row: Any, **detail: Any) -> None:
    """Keep in the audit what an instructor did to a class."""
    audit.record(
        session, at=now, person_key=instructor.id, action=action, subject=f"class:{row.public_id}", **detail
    )
