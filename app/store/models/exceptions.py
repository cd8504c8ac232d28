"""What an assignment allows a single student."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.store.models.base import Base, Key
from app.store.models.people import Person


class AssignmentException(Base):
    """One student's exception; an empty column leaves the class's rule. Its meaning stands in
    `app.domain.standing.Exceptional`. Not called `Exception`: Python has that name.
    """

    __tablename__ = "assignment_exception"
    __table_args__ = (
        UniqueConstraint("assignment_id", "person_id"),
        CheckConstraint("attempts_allowed >= 1", name="attempts_allowed"),
        CheckConstraint("time_factor >= 1", name="time_factor"),
    )

    id: Mapped[Key]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    opens_at: Mapped[datetime | None]
    due_at: Mapped[datetime | None]
    closes_at: Mapped[datetime | None]
    attempts_allowed: Mapped[int | None]
    time_factor: Mapped[float | None]
    excused: Mapped[bool]
    reason: Mapped[str] = mapped_column(String(200))
    made_at: Mapped[datetime]
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))

    person: Mapped[Person] = relationship(foreign_keys=[person_id])
