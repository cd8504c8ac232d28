"""Questions about reflection sheets."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.store.models import Reflection


def reflections_of(
    session: Session, assignment_key: int, student_key: int | None = None
) -> Sequence[Reflection]:
    """What one student, or everyone, wrote for an assignment."""
    query = select(Reflection).where(Reflection.assignment_id == assignment_key)
    if student_key is not None:
        query = query.where(Reflection.person_id == student_key)
    return session.scalars(query).all()


def reflection_to_change(
    session: Session, assignment_key: int, student_key: int, prompt_id: str
) -> Reflection | None:
    """What a student wrote under one prompt, kept from others until the transaction ends."""
    return session.scalar(
        select(Reflection)
        .where(
            Reflection.assignment_id == assignment_key,
            Reflection.person_id == student_key,
            Reflection.prompt_id == prompt_id,
        )
        .with_for_update()
    )


def add_reflection(
    session: Session, *, assignment_id: int, person_id: int, prompt_id: str, now: datetime
) -> Reflection:
    """An empty text under a prompt."""
    row = Reflection(
        assignment_id=assignment_id, person_id=person_id, prompt_id=prompt_id, text="", saved_at=now
    )
    session.add(row)
    session.flush()
    return row
