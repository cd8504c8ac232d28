"""Reflection sheets: what is asked, what a student wrote, and how the sheet went to and fro."""

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, ForeignKey, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.store.choices import ReflectionState
from app.store.models.base import Base, Key, Word, new_public_id, one_of
from app.store.models.people import Person


class ReflectionRule(Base):
    """What the reflection sheets of an assignment are worth; no row: no points are given."""

    __tablename__ = "reflection_rule"
    __table_args__ = (CheckConstraint("out_of > 0", name="out_of"),)

    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"), primary_key=True)
    out_of: Mapped[float]


class ReflectionPrompt(Base):
    """A prompt of the instructor's own; `text` is None for a prompt of the scenario, which has a row only
    once it was closed."""

    __tablename__ = "reflection_prompt"
    __table_args__ = (UniqueConstraint("assignment_id", "prompt_id"),)

    id: Mapped[Key]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    prompt_id: Mapped[Word] = mapped_column(default=new_public_id)
    text: Mapped[str | None] = mapped_column(Text)
    added_at: Mapped[datetime]
    added_by: Mapped[int] = mapped_column(ForeignKey("person.id"))
    closed_at: Mapped[datetime | None]


class ReflectionSheet(Base):
    """One student's sheet. `changes` counts the changes of its texts; `points` are those of the newest step.
    No row: nothing was written yet."""

    __tablename__ = "reflection_sheet"
    __table_args__ = (
        UniqueConstraint("assignment_id", "person_id"),
        CheckConstraint("points >= 0", name="points"),
    )

    id: Mapped[Key]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    state: Mapped[ReflectionState] = mapped_column(one_of(ReflectionState, "state"))
    changes: Mapped[int] = mapped_column(default=0)
    points: Mapped[float | None]

    steps: Mapped[list["ReflectionStep"]] = relationship(order_by="ReflectionStep.number")


class ReflectionStep(Base):
    """A sheet went from one hand to the other: added, never changed. `texts` are the sheet's texts by prompt
    as they stood."""

    __tablename__ = "reflection_step"
    __table_args__ = (UniqueConstraint("sheet_id", "number"),)

    id: Mapped[Key]
    sheet_id: Mapped[int] = mapped_column(ForeignKey("reflection_sheet.id"))
    number: Mapped[int]
    state: Mapped[ReflectionState] = mapped_column(one_of(ReflectionState, "state"))
    comment: Mapped[str] = mapped_column(Text)
    points: Mapped[float | None]
    out_of: Mapped[float | None]
    texts: Mapped[dict[str, Any]]
    made_at: Mapped[datetime]
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))

    maker: Mapped[Person] = relationship()


class Reflection(Base):
    """What a student wrote under one prompt. `page` and `page_revision` say which save of which opened page
    brought it (None: a form), so that an older one of the same page that arrives later is passed over.
    `opened_page` is the sheet, as it was opened, that brought it, and `change_number` which change of the
    sheet it was: a sheet that was opened before that change and isn't this one is out of date."""

    __tablename__ = "reflection"
    __table_args__ = (UniqueConstraint("assignment_id", "person_id", "prompt_id"),)

    id: Mapped[Key]
    assignment_id: Mapped[int] = mapped_column(ForeignKey("assignment.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    prompt_id: Mapped[Word]
    text: Mapped[str] = mapped_column(Text)
    page: Mapped[str | None] = mapped_column(String(40))
    page_revision: Mapped[int | None]
    saved_at: Mapped[datetime]
    opened_page: Mapped[str | None] = mapped_column(String(40))
    change_number: Mapped[int | None]

    asides: Mapped[list["ReflectionAside"]] = relationship(order_by="ReflectionAside.id")


class ReflectionAside(Base):
    """What was typed under a prompt on a page that was out of date: kept beside the text until the student
    decides."""

    __tablename__ = "reflection_aside"
    __table_args__ = (UniqueConstraint("reflection_id", "opened_page"),)

    id: Mapped[Key]
    reflection_id: Mapped[int] = mapped_column(ForeignKey("reflection.id"))
    opened_page: Mapped[str] = mapped_column(String(40))
    text: Mapped[str] = mapped_column(Text)
    page: Mapped[str | None] = mapped_column(String(40))
    page_revision: Mapped[int | None]
    saved_at: Mapped[datetime]
