"""Scenarios, their frozen versions, and what a class is given to do."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.domain.standing import Counts, Solutions
from app.store.models.base import Base, Frozen, Key, Name, PublicId, Sha256, Word, one_of
from app.store.models.classes import SchoolClass


class Scenario(Base):
    __tablename__ = "scenario"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    slug: Mapped[Word] = mapped_column(unique=True)
    created_at: Mapped[datetime]
    archived_at: Mapped[datetime | None]


class ScenarioVersion(Frozen, Base):
    """A scenario's text as it stood. `content` is TOML, `sha256` the hash of its UTF-8 bytes."""

    __tablename__ = "scenario_version"
    __table_args__ = (UniqueConstraint("scenario_id", "number"),)

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    scenario_id: Mapped[int] = mapped_column(ForeignKey("scenario.id"))
    number: Mapped[int]
    content: Mapped[str] = mapped_column(Text)
    sha256: Mapped[Sha256]
    created_at: Mapped[datetime]

    scenario: Mapped[Scenario] = relationship()


class Assignment(Base):
    """The meaning of each rule stands in `app.domain.standing.Rules`."""

    __tablename__ = "assignment"
    __table_args__ = (
        CheckConstraint("due_at >= opens_at", name="dates"),
        CheckConstraint("closes_at >= due_at", name="closes_at"),
        CheckConstraint("attempts_allowed >= 1", name="attempts_allowed"),
        CheckConstraint("late_percent_per_day BETWEEN 0 AND 100", name="late_percent_per_day"),
        CheckConstraint("late_floor_percent BETWEEN 0 AND 100", name="late_floor_percent"),
        CheckConstraint("minutes >= 1", name="minutes"),
        CheckConstraint("unlock_percent BETWEEN 0 AND 100", name="unlock_percent"),
    )

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"), index=True)
    scenario_version_id: Mapped[int] = mapped_column(ForeignKey("scenario_version.id"), index=True)
    title: Mapped[Name]
    opens_at: Mapped[datetime]
    due_at: Mapped[datetime]
    closes_at: Mapped[datetime | None]
    attempts_allowed: Mapped[int | None]
    counts: Mapped[Counts] = mapped_column(one_of(Counts, "counts"), default=Counts.BEST)
    late_percent_per_day: Mapped[float] = mapped_column(default=0.0)
    late_floor_percent: Mapped[float] = mapped_column(default=0.0)
    minutes: Mapped[int | None]
    practice: Mapped[bool] = mapped_column(default=False)
    solutions: Mapped[Solutions] = mapped_column(
        one_of(Solutions, "solutions"), default=Solutions.AFTER_ATTEMPT
    )
    unlock_after_id: Mapped[int | None] = mapped_column(ForeignKey("assignment.id"))
    unlock_percent: Mapped[float | None]
    category_id: Mapped[int | None] = mapped_column(ForeignKey("category.id"))
    created_at: Mapped[datetime]
    created_by: Mapped[int] = mapped_column(ForeignKey("person.id"))

    school_class: Mapped[SchoolClass] = relationship()
    scenario_version: Mapped[ScenarioVersion] = relationship()
    unlock_after: Mapped["Assignment | None"] = relationship(remote_side="Assignment.id")
