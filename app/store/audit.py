"""Keeps who changed what."""

from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from app.store.models import Audit


def record(
    session: Session, *, at: datetime, person_id: int | None, action: str, subject: str, **detail: Any
) -> None:
    """Note an act. `person_id` None: done from the command line. `subject` as "class:<public_id>"."""
    session.add(Audit(at=at, person_id=person_id, action=action, subject=subject, detail=detail))
