"""Documents are read and changed by paths, and never in place."""

import copy

import pytest

from app.domain.authored.entries import (
    NoSuchEntry,
    added,
    at,
    every_entry,
    list_at,
    moved,
    path_of,
    removed,
    steps_of,
    with_entry,
)

DOCUMENT = {"title": "x", "parts": [{"tasks": [{"id": "a"}, {"id": "b"}, {"id": "c"}]}]}
TASKS = "parts.0.tasks"


@pytest.fixture(autouse=True)
def _unchanged():
    before = copy.deepcopy(DOCUMENT)
    yield
    assert before == DOCUMENT


def ids(document):
    return [each["id"] for each in list_at(document, TASKS)]


def test_a_place_of_a_fault_and_a_path_are_the_same():
    assert (
        steps_of("parts[0].tasks[12].key")
        == steps_of("parts.0.tasks.12.key")
        == ("parts", 0, "tasks", 12, "key")
    )
    assert path_of("parts", 0, "title") == "parts.0.title"


def test_nothing_stands_at_a_path_that_leads_nowhere():
    assert at(DOCUMENT, "parts.0.tasks.1.id") == "b"
    for path in ("parts.3", "parts.0.tasks.1.id.more", "nothing", "title.0.x"):
        assert at(DOCUMENT, path) is None


def test_a_value_is_set_where_it_stands_and_tables_on_the_way_are_made():
    assert at(with_entry(DOCUMENT, "parts.0.tasks.1.id", "new"), "parts.0.tasks.1.id") == "new"
    assert at(with_entry(DOCUMENT, "vehicle.placard.size", "s"), "vehicle.placard") == {"size": "s"}


def test_none_takes_a_value_away():
    assert "title" not in with_entry(DOCUMENT, "title", None)
    assert ids(with_entry(DOCUMENT, "parts.0.tasks.1", None)) == ["a", "c"]


@pytest.mark.parametrize("path", ["parts.1.title", "parts.0.tasks.3", "title.0"])
def test_an_entry_that_is_not_there_is_not_changed(path):
    with pytest.raises(NoSuchEntry):
        with_entry(DOCUMENT, path, "x")


def test_entries_are_added_at_the_end_taken_out_and_moved_by_one():
    assert ids(added(DOCUMENT, TASKS, {"id": "d"})) == ["a", "b", "c", "d"]
    assert ids(removed(DOCUMENT, TASKS, 0)) == ["b", "c"]
    assert ids(moved(DOCUMENT, TASKS, 0, 1)) == ["b", "a", "c"]
    assert ids(moved(DOCUMENT, TASKS, 2, -1)) == ["a", "c", "b"]


def test_at_an_end_an_entry_stays():
    assert ids(moved(DOCUMENT, TASKS, 0, -1)) == ["a", "b", "c"]
    assert ids(moved(DOCUMENT, TASKS, 2, 1)) == ["a", "b", "c"]


def test_every_plain_value_is_found_by_its_path():
    assert every_entry(DOCUMENT)["parts.0.tasks.2.id"] == "c"
