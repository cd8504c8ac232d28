"""What the gradebook keeps beside marks: categories of assignments, and grades set by hand."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.store.models.base import Base, Key, PublicId, Word
from app.store.models.people import Person


class Category(Base):
    """Assignments of a class that count together; what its columns mean stands in `app.domain.totals`."""

    __tablename__ = "category"
    __table_args__ = (
        UniqueConstraint("class_id", "name"),
        CheckConstraint("weight > 0", name="weight"),
        CheckConstraint("drop_lowest >= 0", name="drop_lowest"),
    )

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"))
    name: Mapped[Word]
    weight: Mapped[float]
    drop_lowest: Mapped[int] = mapped_column(default=0)


class HandGrade(Base):
    """What an instructor set by hand for one student at one assignment. A change is a new row that
    supersedes the last one, so the history stays. points None: what the marks come to."""

    __tablename__ = "hand_grade"
    __table_args__ = (
        CheckConstraint("points >= 0", name="points"),
        Index(None, "assignment_id", "person_id"),
    )

    id: Mapped[Key]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    points: Mapped[float | None]
    reason: Mapped[str] = mapped_column(String(200))
    comment: Mapped[str] = mapped_column(String(1000))
    made_at: Mapped[datetime]
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))
    superseded_at: Mapped[datetime | None]

    maker: Mapped[Person] = relationship(foreign_keys=[made_by])
