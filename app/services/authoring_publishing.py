"""From a draft to a version that classes can be given, and what became of the versions since."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.authored.checking import checked
from app.domain.authored.entries import Document, with_entry
from app.domain.authored.starters import as_name
from app.domain.faults import Fault
from app.library import checked_scenario, content_of, document_of
from app.services.accounts import Person
from app.services.authoring import Draft, own_draft
from app.services.authoring import draft as draft_of
from app.services.errors import NotFound, Refused
from app.store import audit, drafts, scenarios
from app.store.db import Database

OWN = "school-"
"""Before the id of every scenario that is written in the browser. No scenario that comes with the program
begins so: an upgrade never adds a version to one of the school's own."""

LONGEST_NOTE = 120


class NotReady(Refused):
    """A draft that can't be published yet; `faults` say what to mend."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("draft", "This draft can't be published yet.")
        self.faults = faults


@dataclass(frozen=True)
class Published:
    scenario_id: str
    title: str
    number: int


@dataclass(frozen=True)
class VersionRow:
    """One version of a scenario. published_by: None for one that came with the program."""

    public_id: str
    number: int
    title: str
    created_at: datetime
    published_by: str | None
    note: str
    document: Document


@dataclass(frozen=True)
class Use:
    """An assignment of one of the instructor's classes, and which version it has."""

    assignment_id: str
    title: str
    class_id: str
    class_name: str
    version_number: int
    is_newest: bool


@dataclass(frozen=True)
class History:
    """is_own: written in the browser, so that it gets new versions there."""

    scenario_id: str
    is_own: bool
    archived: bool
    versions: tuple[VersionRow, ...]
    uses: tuple[Use, ...]


def faults_before_publishing(document: Document) -> tuple[Fault, ...]:
    """Everything that keeps a draft from being published. Takes as long as a check of a scenario does."""
    found = checked(document)
    if found.scenario is not None and not found.scenario.tasks:
        return (*found.faults, Fault("parts", "The lab asks nothing yet: add a task to one of its parts."))
    return found.faults


def publish(database: Database, *, draft_id: str, author: Person, note: str, now: datetime) -> Published:
    """Make a draft the next version of its scenario, or the first of a new one; the draft is then gone.

    note: what is new, for the history. Raises NotFound, NotReady with the faults, and Refused when nothing
    differs from the newest version or the draft was changed while it was checked.
    """
    draft = draft_of(database, draft_id=draft_id, author=author)
    note = _note(note)
    if faults := faults_before_publishing(draft.document):
        raise NotReady(faults)
    slug = _slug_of(database, draft)
    content = content_of(with_entry(draft.document, "id", slug))
    scenario = checked_scenario(content)
    sha256 = hashlib.sha256(content.encode()).hexdigest()
    with database.write() as session:
        row = own_draft(session, draft_id, author)
        if row.revision != draft.revision:
            raise Refused(
                "draft", "The draft was changed while it was checked. Look at it, then publish again."
            )
        holder = row.scenario or scenarios.add_scenario(session, slug=slug, now=now)
        images = drafts.images_of_draft(session, row.id)
        if row.scenario is not None:
            _refuse_without_news(session, holder.id, sha256, images)
        version = drafts.publish(
            session,
            scenario_key=holder.id,
            author_key=author.id,
            content=content,
            sha256=sha256,
            note=note,
            now=now,
        )
        drafts.show_in_version(session, version.id, images)
        drafts.delete_draft(session, row)
        _note_act(session, now, author, "publish scenario", holder, version=version.number)
        return Published(holder.public_id, scenario.title, version.number)


def history(database: Database, *, scenario_id: str, instructor: Person) -> History:
    """The versions of a scenario, newest first, and the instructor's assignments of it. Raises NotFound."""
    with database.read() as session:
        row = drafts.scenario_by(session, scenario_id)
        if row is None:
            raise NotFound("There is no such scenario.")
        publications = drafts.publications_of(session, row.id)
        versions = drafts.versions_of(session, row.id)
        newest = versions[0].number
        uses = drafts.assignments_of_scenario(session, row.id, instructor.id)
        return History(
            scenario_id=scenario_id,
            is_own=bool(publications),
            archived=row.archived_at is not None,
            versions=tuple(_version_row(each, publications.get(each.id)) for each in versions),
            uses=tuple(
                Use(
                    assignment_id=each.public_id,
                    title=each.title,
                    class_id=each.school_class.public_id,
                    class_name=each.school_class.name,
                    version_number=each.scenario_version.number,
                    is_newest=each.scenario_version.number == newest,
                )
                for each in uses
            ),
        )


def archive(database: Database, *, scenario_id: str, instructor: Person, now: datetime) -> None:
    """Take a scenario out of the library; what classes were given stays. Raises NotFound."""
    _set_archived(database, scenario_id, instructor, now, to=now)


def bring_back(database: Database, *, scenario_id: str, instructor: Person, now: datetime) -> None:
    """Put an archived scenario back into the library. Raises NotFound."""
    _set_archived(database, scenario_id, instructor, now, to=None)


def archived(database: Database) -> list[tuple[str, str]]:
    """Public id and title of every archived scenario."""
    with database.read() as session:
        newest = [
            (row.public_id, scenarios.newest_version_of(session, row.public_id))
            for row in drafts.archived_scenarios(session)
        ]
        return [
            (public_id, document_of(version.content)["title"]) for public_id, version in newest if version
        ]


def _set_archived(
    database: Database, scenario_id: str, instructor: Person, now: datetime, *, to: datetime | None
) -> None:
    with database.write() as session:
        row = drafts.scenario_by(session, scenario_id)
        if row is None:
            raise NotFound("There is no such scenario.")
        row.archived_at = to
        _note_act(session, now, instructor, "archive scenario" if to else "bring scenario back", row)


def _note_act(session: Any, now: datetime, person: Person, action: str, scenario: Any, **detail: Any) -> None:
    subject = f"scenario:{scenario.public_id}"
    audit.record(session, at=now, person_key=person.id, action=action, subject=subject, **detail)


def _slug_of(database: Database, draft: Draft) -> str:
    """The id of the draft's scenario; for a new one, one that nobody has."""
    if draft.scenario_id is None:
        return f"{OWN}{as_name(draft.title, 36) or 'scenario'}-{secrets.token_hex(3)}"
    with database.read() as session:
        row = drafts.scenario_by(session, draft.scenario_id)
        return str(row.slug) if row is not None else ""


def _refuse_without_news(session: Any, scenario_key: int, sha256: str, images: Any) -> None:
    newest = drafts.versions_of(session, scenario_key)[0]
    kept = [(each.name, each.image_id, each.alt) for each in drafts.images_of_version(session, newest.id)]
    if newest.sha256 == sha256 and kept == [(each.name, each.image_id, each.alt) for each in images]:
        raise Refused("draft", f"Nothing differs from version {newest.number}: there is nothing to publish.")


def _version_row(version: Any, publication: Any) -> VersionRow:
    document = document_of(version.content)
    return VersionRow(
        public_id=version.public_id,
        number=version.number,
        title=document["title"],
        created_at=version.created_at,
        published_by=publication.person.display_name if publication else None,
        note=publication.note if publication else "",
        document=document,
    )


def _note(typed: str) -> str:
    note = " ".join(typed.split())
    if len(note) > LONGEST_NOTE:
        raise Refused("note", f"Shorten this to {LONGEST_NOTE} characters.")
    return note
