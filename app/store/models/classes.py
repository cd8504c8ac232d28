"""Classes, who teaches them and who is in them."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.domain.measures import UnitSystem
from app.store.models.base import Base, Key, Name, PublicId, Word, one_of
from app.store.models.people import Person


class SchoolClass(Base):
    __tablename__ = "class"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    name: Mapped[Name]
    time_zone: Mapped[Word]
    units: Mapped[UnitSystem] = mapped_column(one_of(UnitSystem, "units"))
    calculators_on: Mapped[bool] = mapped_column(default=True)
    created_at: Mapped[datetime]
    archived_at: Mapped[datetime | None]


class ClassKey(Base):
    """What a school's own lists know a class by."""

    __tablename__ = "class_key"

    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"), primary_key=True)
    roster_id: Mapped[Name]


class Teaching(Base):
    """An instructor of a class."""

    __tablename__ = "teaching"

    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"), primary_key=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), primary_key=True, index=True)


class Enrolment(Base):
    """A student of a class. Dropping a student keeps the row, and with it the student's work."""

    __tablename__ = "enrolment"
    __table_args__ = (
        UniqueConstraint("class_id", "person_id"),
        CheckConstraint("extra_time_factor >= 1", name="extra_time_factor"),
    )

    id: Mapped[Key]
    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    extra_time_factor: Mapped[float] = mapped_column(default=1.0)
    enrolled_at: Mapped[datetime]
    dropped_at: Mapped[datetime | None]

    person: Mapped[Person] = relationship()
