"""Scenarios while they are written: drafts, who published which version, and the images of both."""

from datetime import datetime

from sqlalchemy import ForeignKey, LargeBinary, String, Text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.store.models.base import Base, Frozen, Key, Name, PublicId, Sha256, Word
from app.store.models.people import Person
from app.store.models.scenarios import Scenario, ScenarioVersion


class Draft(Base):
    """A scenario that its author is still writing. `content` is JSON and may hold anything typed.

    scenario_id: the school's own scenario of which it becomes the next version, None for a new one.
    revision: rises with every change; `page` and `page_revision` say which save of which opened page
    brought the newest.
    """

    __tablename__ = "draft"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    scenario_id: Mapped[int | None] = mapped_column(ForeignKey("scenario.id"), index=True)
    content: Mapped[str] = mapped_column(Text)
    revision: Mapped[int] = mapped_column(default=1)
    page: Mapped[str | None] = mapped_column(String(40))
    page_revision: Mapped[int | None]
    created_at: Mapped[datetime]
    saved_at: Mapped[datetime]

    scenario: Mapped[Scenario | None] = relationship()


class Publication(Frozen, Base):
    """Who published a version in the browser. A version without one came with the program."""

    __tablename__ = "publication"

    scenario_version_id: Mapped[int] = mapped_column(ForeignKey("scenario_version.id"), primary_key=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    note: Mapped[Name]

    scenario_version: Mapped[ScenarioVersion] = relationship()
    person: Mapped[Person] = relationship()


class Image(Frozen, Base):
    """A picture as this program encoded it, kept once however many drafts and versions show it."""

    __tablename__ = "image"

    id: Mapped[Key]
    sha256: Mapped[Sha256] = mapped_column(unique=True)
    media_type: Mapped[Word]
    width: Mapped[int]
    height: Mapped[int]
    content: Mapped[bytes] = mapped_column(LargeBinary)


class DraftImage(Base):
    """An image under the name by which the draft's texts call it."""

    __tablename__ = "draft_image"

    draft_id: Mapped[int] = mapped_column(ForeignKey("draft.id"), primary_key=True)
    name: Mapped[Word] = mapped_column(primary_key=True)
    image_id: Mapped[int] = mapped_column(ForeignKey("image.id"), index=True)
    alt: Mapped[str] = mapped_column(String(300))

    image: Mapped[Image] = relationship()


class VersionImage(Frozen, Base):
    """An image that a version keeps."""

    __tablename__ = "version_image"

    scenario_version_id: Mapped[int] = mapped_column(ForeignKey("scenario_version.id"), primary_key=True)
    name: Mapped[Word] = mapped_column(primary_key=True)
    image_id: Mapped[int] = mapped_column(ForeignKey("image.id"), index=True)
    alt: Mapped[str] = mapped_column(String(300))

    image: Mapped[Image] = relationship()
