"""Images of drafts and versions: uploaded, named, shown; a version keeps those it was published with."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.library.exchange import MOST_PICTURES
from app.library.images import NamedPicture, Picture, UnusableImage, fault_in_alt, fault_in_name, picture_of
from app.services.accounts import Person
from app.services.authoring import own_draft, show_picture
from app.services.errors import NotFound, Refused
from app.store import drafts
from app.store.choices import Role
from app.store.db import Database


@dataclass(frozen=True)
class ImageLine:
    """An image as texts call it."""

    name: str
    alt: str
    width: int
    height: int


def of_draft(database: Database, *, draft_id: str, author: Person) -> list[ImageLine]:
    """By name. Raises NotFound."""
    with database.read() as session:
        return _lines(drafts.images_of_draft(session, own_draft(session, draft_id, author).id))


def of_version(database: Database, *, version_id: str) -> list[ImageLine]:
    """By name. Raises NotFound. For whoever may see the version: the caller has made sure of that."""
    with database.read() as session:
        version = drafts.version_by(session, version_id)
        if version is None:
            raise NotFound("There is no such version.")
        return _lines(drafts.images_of_version(session, version.id))


def _lines(rows: Sequence[Any]) -> list[ImageLine]:
    return [ImageLine(row.name, row.alt, row.image.width, row.image.height) for row in rows]


def add(
    database: Database, *, draft_id: str, author: Person, name: str, alt: str, upload: bytes, now: datetime
) -> None:
    """Put an image into a draft under a name; one that had the name goes. Raises NotFound and Refused."""
    alt = " ".join(alt.split())
    if fault := fault_in_name(name):
        raise Refused("name", fault)
    if fault := fault_in_alt(alt):
        raise Refused("alt", fault)
    try:
        picture = picture_of(upload)
    except UnusableImage as error:
        raise Refused("file", str(error)) from error
    with database.write() as session:
        row = own_draft(session, draft_id, author)
        others = [each for each in drafts.images_of_draft(session, row.id) if each.name != name]
        if len(others) >= MOST_PICTURES:
            raise Refused("file", f"A scenario has at most {MOST_PICTURES} images. Take one out first.")
        show_picture(session, row.id, NamedPicture(name, alt, picture))
        row.saved_at = now


def take_out(database: Database, *, draft_id: str, author: Person, name: str) -> None:
    """Take an image out of a draft; versions that show it keep it. Raises NotFound."""
    with database.write() as session:
        drafts.take_from_draft(session, own_draft(session, draft_id, author).id, name)


def image_of_draft(database: Database, *, draft_id: str, author: Person, name: str) -> Picture:
    """Raises NotFound."""
    with database.read() as session:
        return _named(drafts.images_of_draft(session, own_draft(session, draft_id, author).id), name)


def image_of_version(database: Database, *, version_id: str, person: Person, name: str) -> Picture:
    """For instructors, and for students who were given this version. Raises NotFound."""
    with database.read() as session:
        version = drafts.version_by(session, version_id)
        if version is None or not (
            person.role is Role.INSTRUCTOR or drafts.is_given_to(session, version.id, person.id)
        ):
            raise NotFound("There is no such image.")
        return _named(drafts.images_of_version(session, version.id), name)


def named_pictures(rows: Sequence[Any]) -> tuple[NamedPicture, ...]:
    return tuple(NamedPicture(row.name, row.alt, _picture(row)) for row in rows)


def _named(rows: Sequence[Any], name: str) -> Picture:
    row = next((row for row in rows if row.name == name), None)
    if row is None:
        raise NotFound("There is no such image.")
    return _picture(row)


def _picture(row: Any) -> Picture:
    image = row.image
    return Picture(image.media_type, image.width, image.height, image.content)
