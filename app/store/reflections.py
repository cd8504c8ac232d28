"""Questions about reflection sheets."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.store.models import Reflection


def reflections_of(
    session: Session, assignment_id: int, student_id: int | None = None
) -> Sequence[Reflection]:
    """What one student, or everyone, wrote for an assignment."""
    query = select(Reflection).where(Reflection.assignment_id == assignment_id)
    if student_id is not None:
        query = query.where(Reflection.person_id == student_id)
    return session.scalars(query).all()


def write_reflection(
    session: Session, *, assignment_id: int, student_id: int, prompt_id: str, text: str, now: datetime
) -> int:
    """Keep a student's text and return its revision, 1 for the first."""
    row = session.scalar(
        select(Reflection)
        .where(
            Reflection.assignment_id == assignment_id,
            Reflection.person_id == student_id,
            Reflection.prompt_id == prompt_id,
        )
        .with_for_update()
    )
    if row is None:
        row = Reflection(
            assignment_id=assignment_id,
            person_id=student_id,
            prompt_id=prompt_id,
            text=text,
            revision=1,
            saved_at=now,
        )
        session.add(row)
    elif row.text != text:
        row.text, row.revision, row.saved_at = text, row.revision + 1, now
    session.flush()
    return row.revision
