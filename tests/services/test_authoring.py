"""Drafts are kept as typed, one page at a time, and become versions that never change."""

import io
import zipfile
from datetime import timedelta

import pytest

from app.domain.authored.entries import at, with_entry
from app.domain.scenario import parse
from app.library import document_of
from app.services import (
    assignments,
    authoring,
    authoring_files,
    authoring_images,
    authoring_publishing,
    scenarios,
)
from app.services.authoring import ChangedElsewhere
from app.services.authoring_publishing import OWN, NotReady
from app.services.errors import NotFound, Refused
from app.services.page_saves import PageSave
from app.settings import SCENARIOS
from app.store import drafts
from tests import factories
from tests.domain.authored.test_checking import complete
from tests.domain.writing import library
from tests.library.pictures import picture


@pytest.fixture
def author(database):
    return factories.instructor(database)


@pytest.fixture
def shipped(database):
    """The id of a scenario that came with the program."""
    return next(card.public_id for card in scenarios.library(database) if card.slug == "two-plane-balance")


def given_to_a_class(database, author, now, scenario_id):
    """The ids of an assignment and its one student."""
    class_id = factories.school_class(database, instructor=author)
    student = factories.student(database, class_id=class_id, instructor=author)
    assignment_id = assignments.assign(
        database,
        class_id=class_id,
        instructor=author,
        scenario_id=scenario_id,
        title="Lab 1",
        opens_at=now,
        due_at=now + timedelta(days=1),
        attempts_allowed=None,
        now=now,
    )
    return assignment_id, student


def titled(title):
    return lambda document: with_entry(document, "title", title)


def save(database, draft_id, author, now, *, title, revision, page=None):
    return authoring.save(
        database,
        draft_id=draft_id,
        author=author,
        change=titled(title),
        revision=revision,
        now=now,
        page_save=page,
    )


def a_draft(database, author, now):
    return authoring.start_blank(database, author=author, title="One weight", now=now)


def read(database, draft_id, author):
    return authoring.draft(database, draft_id=draft_id, author=author)


def ready(database, author, now, *, title="One weight"):
    """A draft that can be published."""
    draft_id = a_draft(database, author, now)
    authoring.save(
        database,
        draft_id=draft_id,
        author=author,
        change=lambda _: with_entry(complete(), "title", title),
        revision=1,
        now=now,
    )
    return draft_id


def publish(database, draft_id, author, now, note=""):
    return authoring_publishing.publish(database, draft_id=draft_id, author=author, note=note, now=now)


def test_a_draft_is_its_authors_own(database, author, now):
    draft_id, other = a_draft(database, author, now), factories.instructor(database)
    for act in (
        lambda: authoring.draft(database, draft_id=draft_id, author=other),
        lambda: save(database, draft_id, other, now, title="mine", revision=1),
        lambda: authoring.throw_away(database, draft_id=draft_id, author=other),
        lambda: publish(database, draft_id, other, now),
        lambda: authoring_files.export_draft(database, draft_id=draft_id, author=other),
        lambda: authoring_images.of_draft(database, draft_id=draft_id, author=other),
    ):
        with pytest.raises(NotFound):
            act()
    assert authoring.drafts_of(database, author=other) == []


def test_a_draft_is_kept_when_it_is_faulty(database, author, now):
    draft_id = a_draft(database, author, now)
    authoring.save(
        database,
        draft_id=draft_id,
        author=author,
        change=lambda document: with_entry(document, "minutes", "soon"),
        revision=1,
        now=now,
    )
    assert read(database, draft_id, author).document["minutes"] == "soon"
    (row,) = authoring.drafts_of(database, author=author)
    assert row.faults > 1


def test_each_save_of_one_page_follows_the_last(database, author, now):
    draft_id = a_draft(database, author, now)
    for count in (1, 2, 3):
        saved = save(
            database, draft_id, author, now, title=f"{count}", revision=1, page=PageSave("page-one", count)
        )
        assert (saved.title, saved.revision) == (f"{count}", count + 1)


def test_a_save_that_its_page_has_overtaken_changes_nothing(database, author, now):
    draft_id = a_draft(database, author, now)
    save(database, draft_id, author, now, title="newer", revision=1, page=PageSave("page-one", 2))
    late = save(database, draft_id, author, now, title="older", revision=1, page=PageSave("page-one", 1))
    assert (late.title, late.revision) == ("newer", 2)


def test_a_second_page_is_told_that_the_draft_was_changed_and_changes_nothing(database, author, now):
    draft_id = a_draft(database, author, now)
    save(database, draft_id, author, now, title="first", revision=1, page=PageSave("page-one", 1))
    with pytest.raises(ChangedElsewhere, match="another window"):
        save(database, draft_id, author, now, title="second", revision=1, page=PageSave("page-two", 1))
    with pytest.raises(ChangedElsewhere):
        save(database, draft_id, author, now, title="form", revision=1)
    assert read(database, draft_id, author).title == "first"
    # A page that knows of the change may go on from it.
    save(database, draft_id, author, now, title="second", revision=2, page=PageSave("page-two", 2))
    with pytest.raises(ChangedElsewhere):
        save(database, draft_id, author, now, title="first", revision=2, page=PageSave("page-one", 2))


def test_a_draft_that_grows_too_large_is_refused_and_stays(database, author, now):
    draft_id = a_draft(database, author, now)
    with pytest.raises(Refused, match="too large"):
        save(database, draft_id, author, now, title="x" * 500_000, revision=1)
    assert read(database, draft_id, author).title == "One weight"


@pytest.mark.parametrize("title", ["", "  ", "x" * 161])
def test_a_draft_needs_a_title(database, author, now, title):
    with pytest.raises(Refused, match="title"):
        authoring.start_blank(database, author=author, title=title, now=now)


def test_a_copy_begins_as_its_scenario_and_leaves_it_alone(database, author, now, shipped):
    draft_id = authoring.start_copy(database, author=author, scenario_id=shipped, now=now)
    draft = read(database, draft_id, author)
    assert draft.title == "One assembly on the balancer, copy"
    assert draft.scenario_id is None
    done = publish(database, draft_id, author, now)
    assert done.scenario_id != shipped
    assert done.number == 1


def test_what_came_with_the_program_is_copied_and_never_changed(database, author, now, shipped):
    with pytest.raises(Refused, match="make a copy"):
        authoring.start_next_version(database, author=author, scenario_id=shipped, now=now)


def test_no_scenario_that_comes_with_the_program_has_an_id_of_the_schools():
    assert [scenario_id for scenario_id in library() if scenario_id.startswith(OWN)] == []


def test_an_upgrade_adds_no_version_to_a_scenario_of_the_school(database, author, now, shipped):
    draft_id = authoring.start_copy(database, author=author, scenario_id=shipped, now=now)
    own = publish(database, draft_id, author, now).scenario_id
    assert scenarios.load_shipped(database, folder=SCENARIOS, now=now) == 0
    history = authoring_publishing.history(database, scenario_id=own, instructor=author)
    assert [row.number for row in history.versions] == [1]


def test_a_published_draft_is_a_version_that_can_be_given_and_the_draft_is_gone(database, author, now):
    draft_id = ready(database, author, now)
    done = publish(database, draft_id, author, now, note="  the  first ")
    assert (done.title, done.number) == ("One weight", 1)
    assert authoring.drafts_of(database, author=author) == []
    assert done.scenario_id in {card.public_id for card in scenarios.library(database)}
    (row,) = authoring_publishing.history(database, scenario_id=done.scenario_id, instructor=author).versions
    assert (row.published_by, row.note, row.created_at) == (author.display_name, "the first", now)
    assert at(row.document, "parts.0.tasks.0.title") == "Where"
    with database.read() as session:
        version = drafts.version_by(session, row.public_id)
        assert parse(version.content).id.startswith(f"{OWN}one-weight-")


def test_a_faulty_draft_is_not_published_and_says_why(database, author, now):
    draft_id = a_draft(database, author, now)
    with pytest.raises(NotReady) as refused:
        publish(database, draft_id, author, now)
    assert "summary" in {fault.place for fault in refused.value.faults}
    assert "One weight" not in {card.title for card in scenarios.library(database)}
    assert read(database, draft_id, author).title == "One weight"


def test_a_draft_that_asks_nothing_is_not_published(database, author, now):
    draft_id = ready(database, author, now)
    authoring.save(
        database,
        draft_id=draft_id,
        author=author,
        change=lambda document: with_entry(document, "parts.0.tasks", []),
        revision=2,
        now=now,
    )
    with pytest.raises(NotReady) as refused:
        publish(database, draft_id, author, now)
    assert [fault.place for fault in refused.value.faults] == ["parts"]


def test_two_scenarios_of_one_title_are_two(database, author, now):
    first, second = (publish(database, ready(database, author, now), author, now) for _ in range(2))
    assert first.scenario_id != second.scenario_id


def test_the_next_version_keeps_the_one_before_it(database, author, now):
    own = publish(database, ready(database, author, now), author, now).scenario_id
    draft_id = authoring.start_next_version(database, author=author, scenario_id=own, now=now)
    again = authoring.start_next_version(database, author=author, scenario_id=own, now=now)
    assert again == draft_id
    with pytest.raises(Refused, match="Nothing differs from version 1"):
        publish(database, draft_id, author, now)
    save(database, draft_id, author, now, title="Two weights", revision=1)
    done = publish(database, draft_id, author, now)
    assert (done.scenario_id, done.number) == (own, 2)
    history = authoring_publishing.history(database, scenario_id=own, instructor=author)
    assert [(row.number, row.title) for row in history.versions] == [(2, "Two weights"), (1, "One weight")]


def test_an_instructor_sees_which_own_classes_have_an_older_version(database, author, now):
    own = publish(database, ready(database, author, now), author, now).scenario_id
    assignment_id, _ = given_to_a_class(database, author, now, own)
    draft_id = authoring.start_next_version(database, author=author, scenario_id=own, now=now)
    save(database, draft_id, author, now, title="Two weights", revision=1)
    publish(database, draft_id, author, now)
    (use,) = authoring_publishing.history(database, scenario_id=own, instructor=author).uses
    assert (use.assignment_id, use.version_number, use.is_newest) == (assignment_id, 1, False)
    other = factories.instructor(database)
    assert authoring_publishing.history(database, scenario_id=own, instructor=other).uses == ()


def test_an_archived_scenario_is_out_of_the_library_until_it_is_brought_back(database, author, now, shipped):
    authoring_publishing.archive(database, scenario_id=shipped, instructor=author, now=now)
    assert shipped not in {card.public_id for card in scenarios.library(database)}
    assert authoring_publishing.archived(database) == [(shipped, "One assembly on the balancer")]
    authoring_publishing.bring_back(database, scenario_id=shipped, instructor=author, now=now)
    assert shipped in {card.public_id for card in scenarios.library(database)}


def test_a_version_keeps_its_images_and_its_next_draft_begins_with_them(database, author, now):
    draft_id = ready(database, author, now)
    add_picture(database, draft_id, author, now)
    own = publish(database, draft_id, author, now).scenario_id
    version = authoring_publishing.history(database, scenario_id=own, instructor=author).versions[0].public_id
    next_id = authoring.start_next_version(database, author=author, scenario_id=own, now=now)
    authoring_images.take_out(database, draft_id=next_id, author=author, name="a-cone")
    publish(database, next_id, author, now)
    (kept,) = authoring_images.of_version(database, version_id=version)
    assert (kept.name, kept.alt, kept.width) == ("a-cone", "A cone in a bore", 60)
    newest = authoring_publishing.history(database, scenario_id=own, instructor=author).versions[0]
    assert newest.number == 2
    assert authoring_images.of_version(database, version_id=newest.public_id) == []


def add_picture(database, draft_id, author, now, **other):
    entries = {"name": "a-cone", "alt": "A cone in a bore", "upload": picture(), **other}
    authoring_images.add(database, draft_id=draft_id, author=author, now=now, **entries)


@pytest.mark.parametrize(
    ("field", "entries"),
    [("name", {"name": "A cone"}), ("alt", {"alt": " "}), ("file", {"upload": b"no picture"})],
)
def test_an_image_without_name_words_or_pixels_is_refused(database, author, now, field, entries):
    draft_id = a_draft(database, author, now)
    with pytest.raises(Refused) as refused:
        add_picture(database, draft_id, author, now, **entries)
    assert refused.value.field == field
    assert authoring_images.of_draft(database, draft_id=draft_id, author=author) == []


def test_a_student_sees_the_images_of_a_version_that_the_class_was_given_and_of_no_other(
    database, author, now
):
    draft_id = ready(database, author, now)
    add_picture(database, draft_id, author, now)
    own = publish(database, draft_id, author, now).scenario_id
    version = authoring_publishing.history(database, scenario_id=own, instructor=author).versions[0].public_id
    _, student = given_to_a_class(database, author, now, own)
    see = authoring_images.image_of_version
    assert see(database, version_id=version, person=student, name="a-cone").media_type == "image/png"
    assert see(database, version_id=version, person=author, name="a-cone").content
    elsewhere = factories.student(
        database,
        class_id=factories.school_class(database, instructor=author, name="Auto 9"),
        instructor=author,
    )
    for person, name in ((elsewhere, "a-cone"), (student, "another")):
        with pytest.raises(NotFound):
            see(database, version_id=version, person=person, name=name)


def test_a_file_that_was_exported_comes_in_as_a_draft_with_its_images(database, author, now):
    draft_id = ready(database, author, now)
    add_picture(database, draft_id, author, now)
    export = authoring_files.export_draft(database, draft_id=draft_id, author=author)
    assert (export.name, export.file.ending) == ("one-weight", "zip")
    new_id = authoring_files.import_file(database, author=author, content=export.file.content, now=now)
    assert read(database, new_id, author).document == document_of(_toml_in(export.file.content))
    (image,) = authoring_images.of_draft(database, draft_id=new_id, author=author)
    assert image.name == "a-cone"


def _toml_in(archive: bytes) -> str:
    return zipfile.ZipFile(io.BytesIO(archive)).read("scenario.toml").decode()


def test_a_faulty_draft_is_not_exported_and_a_faulty_file_makes_no_draft(database, author, now):
    draft_id = a_draft(database, author, now)
    with pytest.raises(Refused, match="Mend what is at fault"):
        authoring_files.export_draft(database, draft_id=draft_id, author=author)
    with pytest.raises(authoring_files.NotImportable) as refused:
        authoring_files.import_file(database, author=author, content=b"title = 1", now=now)
    assert {"title", "format"} <= {fault.place for fault in refused.value.faults}
    assert len(authoring.drafts_of(database, author=author)) == 1
