"""What a student does and what it is worth: attempts, their events and marks."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, String, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.domain.measures import UnitSystem
from app.store.choices import AttemptState, EventKind, MarkSource
from app.store.models.base import Base, Frozen, Key, PublicId, Word, one_of
from app.store.models.people import Person
from app.store.models.scenarios import Assignment, ScenarioVersion


class Attempt(Base):
    """`seed` is a 64-bit unsigned number as decimal text: no database has that number as a column type."""

    __tablename__ = "attempt"
    __table_args__ = (UniqueConstraint("assignment_id", "person_id", "number"),)

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    number: Mapped[int]
    seed: Mapped[str] = mapped_column(String(20))
    drawing_version: Mapped[int]
    scenario_version_id: Mapped[int] = mapped_column(ForeignKey("scenario_version.id"), index=True)
    units: Mapped[UnitSystem] = mapped_column(one_of(UnitSystem, "units"))
    state: Mapped[AttemptState] = mapped_column(one_of(AttemptState, "state"), default=AttemptState.OPEN)
    started_at: Mapped[datetime]
    handed_in_at: Mapped[datetime | None]
    points: Mapped[float | None]
    out_of: Mapped[float | None]

    assignment: Mapped[Assignment] = relationship()
    person: Mapped[Person] = relationship()
    scenario_version: Mapped[ScenarioVersion] = relationship()


class Event(Frozen, Base):
    """One thing that happened in an attempt: an action at the bench, a saved answer. Replayed in order."""

    __tablename__ = "event"
    __table_args__ = (UniqueConstraint("attempt_id", "number"),)

    id: Mapped[Key]
    attempt_id: Mapped[int] = mapped_column(ForeignKey("attempt.id"))
    number: Mapped[int]
    kind: Mapped[EventKind] = mapped_column(one_of(EventKind, "kind"))
    body: Mapped[dict[str, Any]]
    at: Mapped[datetime]


WAITING = text("verdict = 'waiting' AND superseded_at IS NULL")
"""What the instructor has yet to mark. A query that says it in these words reads the index of it alone."""


class Mark(Base):
    """A mark is superseded, never erased."""

    __tablename__ = "mark"
    __table_args__ = (
        Index(None, "attempt_id", "task_id"),
        Index("ix_mark_waiting", "attempt_id", sqlite_where=WAITING, postgresql_where=WAITING),
    )

    id: Mapped[Key]
    attempt_id: Mapped[int] = mapped_column(ForeignKey("attempt.id"))
    task_id: Mapped[Word]
    source: Mapped[MarkSource] = mapped_column(one_of(MarkSource, "source"))
    points: Mapped[float]
    out_of: Mapped[float]
    verdict: Mapped[Word]
    detail: Mapped[dict[str, Any]]
    made_at: Mapped[datetime]
    made_by: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    superseded_at: Mapped[datetime | None]
