"""Keeps who changed what."""

from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.store.models import Audit


def record(
    session: Session, *, at: datetime, person_key: int | None, action: str, subject: str, **detail: Any
) -> None:
    """Note an act. `person_key` None: done from the command line. `subject` as "class:<public_id>"."""
    session.add(Audit(at=at, person_id=person_key, action=action, subject=subject, detail=detail))


def newest(session: Session, *, action: str, subject: str) -> datetime | None:
    """When this was last done to it; None for never."""
    done = select(Audit.at).where(Audit.subject == subject, Audit.action == action)
    return session.scalar(done.order_by(Audit.id.desc()).limit(1))


def oldest(session: Session) -> datetime | None:
    """When the first act was noted; None while there is none."""
    return session.scalar(select(Audit.at).order_by(Audit.id).limit(1))
