"""A scenario as one file: written from a version or a draft, and read into a new draft."""

from dataclasses import dataclass
from datetime import datetime

from app.domain.authored.checking import checked
from app.domain.authored.entries import Document
from app.domain.authored.starters import as_name
from app.domain.faults import Fault
from app.domain.scenario import ScenarioFaults
from app.library import document_of
from app.library.exchange import ScenarioFile, exported, imported
from app.services.accounts import Person
from app.services.authoring import draft as draft_of
from app.services.authoring import own_draft, start_from
from app.services.authoring_images import named_pictures
from app.services.errors import NotFound, Refused
from app.store import drafts, scenarios
from app.store.db import Database


class NotImportable(Refused):
    """A file that is no scenario; `faults` say why."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("file", "This file can’t be used as a scenario.")
        self.faults = faults


@dataclass(frozen=True)
class Export:
    """A file and what to call it, without its ending."""

    name: str
    file: ScenarioFile


def export_scenario(database: Database, *, scenario_id: str) -> Export:
    """The newest version of a scenario, with its images. Raises NotFound."""
    with database.read() as session:
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        pictures = named_pictures(drafts.images_of_version(session, version.id))
        document = document_of(version.content)
    return Export(_name(document), exported(document, pictures))


def export_draft(database: Database, *, draft_id: str, author: Person) -> Export:
    """Raises NotFound, and Refused for a draft in which something is at fault: nobody could read the file."""
    draft = draft_of(database, draft_id=draft_id, author=author)
    if checked(draft.document).faults:
        raise Refused("draft", "Mend what is at fault first: a file of this draft could not be read.")
    with database.read() as session:
        pictures = named_pictures(drafts.images_of_draft(session, own_draft(session, draft_id, author).id))
    return Export(_name(draft.document), exported(draft.document, pictures))


def import_file(database: Database, *, author: Person, content: bytes, now: datetime) -> str:
    """The public id of a new draft with the scenario of a file. Raises NotImportable with the reasons."""
    try:
        read = imported(content)
    except ScenarioFaults as error:
        raise NotImportable(tuple(error.faults)) from error
    return start_from(database, author=author, document=read.document, pictures=read.pictures, now=now)


def _name(document: Document) -> str:
    return as_name(str(document.get("title", ""))) or "scenario"
