"""Drafts: scenarios that an instructor is writing. Begun, saved while they are typed, thrown away.

A draft is its author's own. It is saved whatever is typed into it; what is still at fault only keeps it from
being published (`app.services.authoring_publishing`).
"""

import hashlib
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.authored.checking import parsed
from app.domain.authored.entries import Document, with_entry
from app.domain.authored.starters import blank_document
from app.library import document_of
from app.library.images import NamedPicture
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.page_saves import PageSave
from app.store import drafts, scenarios
from app.store.db import Database

LONGEST_TITLE = 160
LARGEST_DRAFT = 400_000
MOST_DRAFTS = 200

CHANGED_ELSEWHERE = (
    "This draft was changed in another window since this page was opened. What stands on this page is not "
    "saved yet: press “Save” to put it in the place of the other, or reload the page to see that one."
)


class ChangedElsewhere(Refused):
    """Another page has changed the draft meanwhile: its author decides which of the two counts."""

    def __init__(self) -> None:
        super().__init__("draft", CHANGED_ELSEWHERE)


@dataclass(frozen=True)
class DraftRow:
    """A draft in its author's list. faults: in its shape, so far."""

    public_id: str
    title: str
    saved_at: datetime
    faults: int
    next_version: bool
    """Whether it becomes the next version of one of the school's scenarios."""


@dataclass(frozen=True)
class Draft:
    """A draft with what is written so far. scenario_id: of which it becomes the next version, else None."""

    public_id: str
    document: Document
    revision: int
    saved_at: datetime
    scenario_id: str | None

    @property
    def title(self) -> str:
        return title_of(self.document)


def title_of(document: Document) -> str:
    return str(document.get("title") or "Without a title")


def drafts_of(database: Database, *, author: Person) -> list[DraftRow]:
    """The newest change first."""
    with database.read() as session:
        rows = [
            (row.public_id, row.content, row.saved_at, row.scenario_id is not None)
            for row in drafts.drafts_of(session, author.id)
        ]
    return [_row(*row) for row in rows]


def _row(public_id: str, content: str, saved_at: datetime, next_version: bool) -> DraftRow:
    document = json.loads(content)
    return DraftRow(public_id, title_of(document), saved_at, len(parsed(document).faults), next_version)


def draft(database: Database, *, draft_id: str, author: Person) -> Draft:
    """Raises NotFound."""
    with database.read() as session:
        return _draft(own_draft(session, draft_id, author))


def own_draft(session: Any, draft_id: str, author: Person) -> Any:
    """The row of a draft of this person. Raises NotFound; whether another has one is nobody's business."""
    row = drafts.draft_by(session, draft_id, author.id)
    if row is None:
        raise NotFound("There is no such draft among yours.")
    return row


def start_blank(database: Database, *, author: Person, title: str, now: datetime) -> str:
    """The public id of a new draft with an ordinary car and one assembly. Raises Refused."""
    return _start(database, author, blank_document(_title(title), now.date()), now)


def start_copy(database: Database, *, author: Person, scenario_id: str, now: datetime) -> str:
    """The public id of a draft that begins as a copy of a scenario's newest version. Raises NotFound."""
    with database.read() as session:
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        content, images_of = version.content, version.id
    document = document_of(content)
    title = f"{document['title']}, copy"[:LONGEST_TITLE]
    return _start(database, author, with_entry(document, "title", title), now, images_of=images_of)


def start_next_version(database: Database, *, author: Person, scenario_id: str, now: datetime) -> str:
    """The public id of the author's draft for the next version of one of the school's own scenarios: the one
    there is already, else a new one. Raises NotFound, and Refused for a scenario that came with the program.
    """
    with database.read() as session:
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        key = version.scenario_id
        if key not in drafts.own_scenarios(session):
            raise Refused(
                "scenario", "This scenario came with the program: make a copy of it and change that."
            )
        own = [row for row in drafts.drafts_of(session, author.id) if row.scenario_id == key]
        if own:
            return str(own[0].public_id)
        content, images_of = version.content, version.id
    return _start(database, author, document_of(content), now, scenario_key=key, images_of=images_of)


def start_from(
    database: Database,
    *,
    author: Person,
    document: Document,
    pictures: Sequence[NamedPicture],
    now: datetime,
) -> str:
    """The public id of a draft with these tables and pictures, such as those of an imported file."""
    return _start(database, author, document, now, pictures=pictures)


def _start(
    database: Database,
    author: Person,
    document: Document,
    now: datetime,
    *,
    scenario_key: int | None = None,
    images_of: int | None = None,
    pictures: Sequence[NamedPicture] = (),
) -> str:
    content = _content(document)
    with database.write() as session:
        if len(drafts.drafts_of(session, author.id)) >= MOST_DRAFTS:
            raise Refused("title", f"You have {MOST_DRAFTS} drafts. Publish some or throw some away first.")
        row = drafts.add_draft(
            session, author_key=author.id, scenario_key=scenario_key, content=content, now=now
        )
        for each in drafts.images_of_version(session, images_of) if images_of is not None else ():
            drafts.show_in_draft(session, row.id, name=each.name, image_key=each.image_id, alt=each.alt)
        for named in pictures:
            show_picture(session, row.id, named)
        return str(row.public_id)


def show_picture(session: Any, draft_key: int, named: NamedPicture) -> None:
    """Keep a picture and show it in a draft."""
    picture = named.picture
    image = drafts.keep_image(
        session,
        sha256=hashlib.sha256(picture.content).hexdigest(),
        media_type=picture.media_type,
        width=picture.width,
        height=picture.height,
        content=picture.content,
    )
    drafts.show_in_draft(session, draft_key, name=named.name, image_key=image.id, alt=named.alt)


def save(
    database: Database,
    *,
    draft_id: str,
    author: Person,
    change: Callable[[Document], Document],
    revision: int,
    now: datetime,
    page_save: PageSave | None = None,
) -> Draft:
    """Change a draft; durable when this returns. revision: on which one its page stands.

    A save that its own page has overtaken changes nothing. Raises NotFound, Refused for a draft that grows
    too large, and ChangedElsewhere when another page has changed it meanwhile.
    """
    with database.write() as session:
        row = own_draft(session, draft_id, author)
        if page_save is not None and page_save.is_overtaken_by(row.page, row.page_revision):
            return _draft(row)
        own_last = page_save is not None and page_save.page == row.page
        if not own_last and revision != row.revision:
            raise ChangedElsewhere
        row.content = _content(change(json.loads(row.content)))
        row.revision += 1
        row.page = page_save.page if page_save else None
        row.page_revision = page_save.revision if page_save else None
        row.saved_at = now
        return _draft(row)


def throw_away(database: Database, *, draft_id: str, author: Person) -> str:
    """Delete a draft for good; returns its title. Raises NotFound."""
    with database.write() as session:
        row = own_draft(session, draft_id, author)
        title = title_of(json.loads(row.content))
        drafts.delete_draft(session, row)
        return title


def _draft(row: Any) -> Draft:
    return Draft(
        public_id=row.public_id,
        document=json.loads(row.content),
        revision=row.revision,
        saved_at=row.saved_at,
        scenario_id=row.scenario.public_id if row.scenario else None,
    )


def _content(document: Document) -> str:
    content = json.dumps(document, ensure_ascii=False)
    if len(content) > LARGEST_DRAFT:
        raise Refused(
            "draft", "This draft has grown too large to keep. Shorten its texts, or take parts out."
        )
    return content


def _title(typed: str) -> str:
    title = " ".join(typed.split())
    if not title or len(title) > LONGEST_TITLE:
        raise Refused("title", f"Give the scenario a title of at most {LONGEST_TITLE} characters.")
    return title
