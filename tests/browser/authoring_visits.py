"""The pages on which scenarios are written. Each visit begins a draft of its own."""

from collections.abc import Callable
from datetime import UTC, datetime

from playwright.sync_api import Page

from app.domain.authored.entries import Document, with_entry
from app.library import document_of
from app.services import authoring, authoring_images, authoring_publishing
from tests.browser.stage import Stage
from tests.browser.visiting import Go, Visit, at, instructor, press, then, unfold
from tests.domain.writing import shipped_text
from tests.library.pictures import picture

DRAFTS = "/teaching/scenarios/drafts"


def _same(document: Document) -> Document:
    return document


def a_copy(stage: Stage, change: Callable[[Document], Document] = _same) -> str:
    """A draft that begins as a scenario with many kinds of field."""
    document = change(document_of(shipped_text("runout-and-match-mounting")))
    author, now = stage.classroom.instructor, datetime.now(UTC)
    return authoring.start_from(stage.server.database, author=author, document=document, pictures=(), now=now)


def draft(rest: str = "", change: Callable[[Document], Document] = _same) -> Go:
    return at(lambda stage: f"{DRAFTS}/{a_copy(stage, change)}{rest}")


def sheet(path: str) -> Go:
    return then(draft(f"/sheets/{path}"), unfold)


def blank(rest: str) -> Go:
    def address(stage: Stage) -> str:
        author, now = stage.classroom.instructor, datetime.now(UTC)
        draft_id = authoring.start_blank(stage.server.database, author=author, title="One weight", now=now)
        return f"{DRAFTS}/{draft_id}{rest}"

    return at(address)


def with_an_image(page: Page, stage: Stage) -> None:
    draft_id = a_copy(stage)
    authoring_images.add(
        stage.server.database,
        draft_id=draft_id,
        author=stage.classroom.instructor,
        name="a-cone",
        alt="A cone in a bore",
        upload=picture(size=(600, 400)),
        now=datetime.now(UTC),
    )
    page.goto(f"{DRAFTS}/{draft_id}/images")


def two_versions(page: Page, stage: Stage) -> None:
    """The history of a scenario that was published twice."""
    database, author, now = stage.server.database, stage.classroom.instructor, datetime.now(UTC)
    first = authoring_publishing.publish(database, draft_id=a_copy(stage), author=author, note="", now=now)
    again = authoring.start_next_version(database, author=author, scenario_id=first.scenario_id, now=now)
    authoring.save(
        database,
        draft_id=again,
        author=author,
        change=lambda document: with_entry(
            with_entry(document, "parts.0.text", "Another text.\n" * 9), "minutes", 41
        ),
        revision=1,
        now=now,
    )
    authoring_publishing.publish(database, draft_id=again, author=author, note="longer", now=now)
    page.goto(f"/teaching/scenarios/{first.scenario_id}/history")


def with_a_script(document: Document) -> Document:
    return with_entry(document, "parts.0.text", "<script>go()</script>")


WRITING = [
    Visit("teaching.drafts", "with drafts", instructor, then(draft(), at(DRAFTS))),
    Visit("teaching.start_draft", "without a title", instructor,
          then(at(DRAFTS), press("Begin the draft")), 422),
    Visit("teaching.draft", "complete", instructor, draft()),
    Visit("teaching.draft", "blank", instructor, blank("")),
    *(
        Visit("teaching.sheet", path, instructor, sheet(path))
        for path in ("about", "vehicle", "machine", "bench", "assemblies.0", "parts.0", "parts.0.tasks.0",
                     "reflection", "teacher", "well_posed")
    ),
    Visit("teaching.sheet", "with faults", instructor, then(blank("/sheets/about?faults=1"), unfold)),
    Visit("teaching.publish", "checked", instructor, draft("/publish")),
    Visit("teaching.publish", "with faults", instructor, draft("/publish", with_a_script)),
    Visit("teaching.throw_draft_away", "asking", instructor, draft("/throw-away")),
    Visit("teaching.try_draft", "empty", instructor, then(draft("/try"), unfold)),
    Visit("teaching.try_draft_now", "marked", instructor,
          then(draft("/try"), press("Mark these answers"), unfold)),
    Visit("teaching.try_draft", "not yet", instructor, blank("/try")),
    Visit("teaching.draft_answers", "two hundred", instructor, then(draft("/answers"), unfold)),
    Visit("teaching.draft_images", "none", instructor, draft("/images")),
    Visit("teaching.draft_images", "one", instructor, with_an_image),
    Visit("teaching.import_scenario", "empty", instructor, at(f"{DRAFTS}/import")),
    Visit("teaching.scenario_history", "two versions", instructor, two_versions),
]  # fmt: skip

FILES = {
    "teaching.draft_file": "a file",
    "teaching.scenario_file": "a file",
    "teaching.draft_image": "an image",
    "images.image": "an image",
}
"""Answers that are no pages."""
