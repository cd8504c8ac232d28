"""What is still to mend in a draft, and what can be drawn of it all the same."""

from datetime import date

import pytest

from app.domain.authored.checking import FILL_IN, checked, parsed, without_faults
from app.domain.authored.entries import added, at, path_of, with_entry
from app.domain.authored.markup import markup_faults
from app.domain.authored.places import field_at
from app.domain.authored.sampling import key_of_task, sample_variant
from app.domain.authored.shape import fields_of
from app.domain.authored.starters import as_name, blank_document, new_entry, with_fresh_ids, with_names
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from app.library import document_of
from tests.domain.authored.tables import every_table
from tests.domain.writing import shipped_text

WORDS = dict.fromkeys(("aim", "prior_knowledge", "common_mistakes", "discuss"), "…")
TASK = {
    "id": "task-1",
    "kind": "number",
    "title": "Where",
    "prompt": "Where does it go?",
    "points": 1,
    "key": "assembly[A].single.angle_deg",
    "tolerance": {"absolute": 5},
}


def blank():
    return blank_document("One weight", date(2026, 9, 1))


def complete():
    document = with_entry(with_entry(blank(), "summary", "…"), "skills", ["…"])
    document = with_entry(with_entry(document, "teacher", WORDS), "parts.0.text", "…")
    return added(document, "parts.0.tasks", TASK)


def faults(document):
    return {fault.place: fault.message for fault in checked(document).faults}


def test_a_blank_draft_lacks_nothing_but_words():
    found = parsed(blank())
    assert {fault.message for fault in found.faults} == {FILL_IN}
    assert "summary" in {fault.place for fault in found.faults}


def test_a_blank_draft_with_words_and_one_task_can_be_used():
    assert faults(complete()) == {}


def test_a_blank_draft_is_drawn_at_once():
    scenario = without_faults(blank(), complete())
    assert scenario is not None
    sample = sample_variant(scenario, 1, UnitSystem.METRIC)
    assert sample is not None
    assert sample.accepted


@pytest.mark.parametrize(
    ("path", "value", "place", "message"),
    [
        ("minutes", "soon", "minutes", "Enter a whole number, like 3."),
        ("vehicle.wheel_torque_nm", "12x", "vehicle.wheel_torque_nm", "Enter a number, like 12.5."),
        ("vehicle.service_date", "tomorrow", "vehicle.service_date", "Enter a day."),
        (
            "assemblies.0.heavy_spots.0.mass_g",
            {"low": 30, "high": 20},
            "assemblies.0.heavy_spots.0.mass_g",
            "Low must not be above high",
        ),
        ("parts.0.tasks.0.key", None, "parts.0.tasks.0.key", FILL_IN),
    ],
)
def test_a_fault_has_the_path_of_its_field_and_words_for_a_form(path, value, place, message):
    assert faults(with_entry(complete(), path, value))[place] == message


def test_what_only_a_whole_check_finds_has_the_path_of_its_field_too():
    document = with_entry(complete(), "parts.0.tasks.0.tolerance", {"absolute": 90})
    assert list(faults(document)) == ["parts.0.tasks.0.tolerance.absolute"]


def test_faulty_tasks_and_measurements_are_left_out_of_the_drawing_and_the_rest_stays():
    document = added(complete(), "parts.0.tasks", {"kind": "number", "id": "task-2"})
    document = added(document, "parts.0.shows", {"kind": "crystal ball"})
    scenario = without_faults(document, complete())
    assert scenario is not None
    assert [task.id for task in scenario.tasks] == ["task-1"]
    assert len(scenario.parts[0].shows) == 1


def test_a_faulty_table_gives_way_to_the_blank_drafts():
    scenario = without_faults(with_entry(complete(), "vehicle.wheel_torque_nm", "?"), complete())
    assert scenario is not None
    assert scenario.vehicle.wheel_torque_nm == 110


def test_the_live_key_of_a_task_is_that_of_the_sample():
    found = parsed(complete()).scenario
    assert found is not None
    sample = sample_variant(found, 1, UnitSystem.METRIC)
    assert sample is not None
    (line,) = key_of_task("task-1", sample.variant)
    spot = sample.variant.truth.assemblies["A"].heavy_spots
    opposite = (float(spot.angle_deg[0]) + 180) % 360
    assert line.right_answer == f"{opposite:.0f}°"


def test_every_list_of_a_scenario_has_a_first_entry_to_begin_with():
    lists = [field for table in every_table(Scenario) for field in fields_of(table) if field.tables]
    assert len(lists) > 20
    for field in lists:
        for kind in field.kinds or (None,):
            assert isinstance(new_entry(field, kind, blank()), dict)


def test_a_new_assembly_and_a_new_task_are_called_as_nothing_else_is():
    document = complete()
    assert new_entry(field_at(document, "assemblies"), None, document)["id"] == "B"
    assert new_entry(field_at(document, "parts.0.tasks"), "number", document)["id"] == "task-2"


def test_a_copied_part_has_tasks_of_its_own():
    document = complete()
    part = with_fresh_ids(at(document, "parts.0"), field_at(document, "parts"), document)
    longer = added(document, "parts", part)
    assert at(longer, path_of("parts", 1, "tasks", 0, "id")) == "task-2"
    assert faults(longer) == {}


def test_entries_without_a_name_get_one_from_their_words():
    document = with_entry(complete(), "reflection", [{"text": "What now?"}, {"text": "What now?"}])
    named = with_names(document, Scenario)
    assert [each["id"] for each in named["reflection"]] == ["what-now", "what-now-1"]


@pytest.mark.parametrize(
    ("words", "name"),
    [("Where it goes", "where-it-goes"), ("  Ü, é! ", "u-e"), ("…", ""), ("x" * 90, "x" * 40)],
)
def test_a_name_is_made_of_plain_letters(words, name):
    assert as_name(words) == name


@pytest.mark.parametrize(
    "text",
    [
        "<script>go()</script>",
        "a <b>bold</b> word",
        "[x](javascript:go())",
        "<!-- hidden -->",
        "<IMG src=x onerror=go()>",
    ],
)
def test_html_and_scripts_are_named_with_their_place(text):
    (fault,) = markup_faults(with_entry(complete(), "parts.0.text", text))
    assert fault.place == "parts.0.text"
    assert "Markdown" in fault.message


@pytest.mark.parametrize("text", ["5 < 6 and 7 > 6", "a<5 g", "**bold**, `code`", "2 > 1", "x <- y"])
def test_plain_words_are_no_html(text):
    assert markup_faults(with_entry(complete(), "parts.0.text", text)) == ()


def test_a_shipped_scenario_has_nothing_to_mend_as_a_draft():
    assert faults(document_of(shipped_text("runout-and-match-mounting"))) == {}
