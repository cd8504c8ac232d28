"""What an instructor may reach, and the note that is kept of it."""

from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.errors import NotFound
from app.store import audit, classes


def own_class(session: Any, class_id: str, instructor: Person) -> Any:
    """The row of a class this person teaches. Raises NotFound; whether another's exists is nobody's
    business."""
    row = classes.class_taught_by(session, class_id, instructor.id)
    if row is None:
        raise NotFound("There is no such class among yours.")
    return row


def note(session: Any, now: datetime, instructor: Person, action: str, row: Any, **detail: Any) -> None:
    """Keep in the audit what an instructor did to a class."""
    audit.record(
        session, at=now, person_id=instructor.id, action=action, subject=f"class:{row.public_id}", **detail
    )
