"""What differs between two versions, by field."""

from app.domain.authored.differences import Difference, How, differences
from app.domain.authored.entries import added, at, moved, removed, with_entry
from app.library import document_of
from tests.domain.writing import shipped_text

BEFORE = document_of(shipped_text("two-plane-balance"))


def test_equal_documents_do_not_differ():
    assert differences(BEFORE, BEFORE) == ()


def test_a_changed_number_is_named_with_both_values():
    after = with_entry(BEFORE, "parts.0.tasks.1.points", 3)
    assert differences(BEFORE, after) == (Difference("parts.0.tasks.1.points", How.CHANGED, 2, 3),)


def test_spelling_out_a_default_is_no_difference():
    assert differences(BEFORE, with_entry(BEFORE, "vehicle.rear_share", 0.3)) == ()


def test_the_id_by_which_a_school_keeps_a_scenario_is_no_difference():
    assert differences(BEFORE, with_entry(BEFORE, "id", "school-x")) == ()


def test_a_task_that_was_taken_out_is_one_difference_and_those_behind_it_are_none():
    after = removed(BEFORE, "parts.0.tasks", 0)
    assert differences(BEFORE, after) == (
        Difference("parts.0.tasks.0", How.REMOVED, at(BEFORE, "parts.0.tasks.0"), None),
    )


def test_an_added_task_is_one_difference():
    task = {"id": "new", "kind": "text", "title": "t", "prompt": "p", "points": 1, "rubric": "r"}
    after = added(BEFORE, "parts.1.tasks", task)
    assert differences(BEFORE, after) == (Difference("parts.1.tasks.5", How.ADDED, None, task),)


def test_tasks_that_changed_places_are_said_to_have_moved():
    found = differences(BEFORE, moved(BEFORE, "parts.0.tasks", 0, 1))
    assert found == (
        Difference("parts.0.tasks.0", How.MOVED, 2, 1),
        Difference("parts.0.tasks.1", How.MOVED, 1, 2),
    )


def test_heavy_spots_are_known_by_their_names():
    after = with_entry(BEFORE, "assemblies.0.heavy_spots.1.z_mm", -90)
    assert [each.path for each in differences(BEFORE, after)] == ["assemblies.0.heavy_spots.1.z_mm"]


def test_a_table_that_is_new_is_one_difference():
    after = with_entry(BEFORE, "bench", {})
    assert differences(BEFORE, after) == (Difference("bench", How.ADDED, None, {}),)
