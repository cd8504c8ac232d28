"""Every sheet of a draft shows what is written and keeps what is sent."""

from html import unescape

import pytest

from app.domain.authored.differences import differences
from app.domain.authored.entries import at, with_entry
from app.library import document_of
from app.services import authoring
from app.web.teaching.authoring.reading import document_from
from app.web.teaching.authoring.sections import every_section
from tests.domain.authored.test_checking import complete
from tests.domain.writing import library, shipped_text
from tests.web.authoring.sheet import entries_of

JSON = {"Accept": "application/json"}
DRAFTS = "/teaching/scenarios/drafts"


@pytest.fixture
def write(database, teacher, now):
    """A draft of the instructor with these tables."""

    def begin(document):
        return authoring.start_from(database, author=teacher, document=document, pictures=(), now=now)

    return begin


@pytest.fixture
def read(database, teacher):
    return lambda draft_id: authoring.draft(database, draft_id=draft_id, author=teacher)


@pytest.fixture
def draft_id(write):
    return write(complete())


def address(draft_id, path, query=""):
    return f"{DRAFTS}/{draft_id}/sheets/{path}{query}"


def send(client, draft_id, path, *, json=False, **changed):
    """Open a sheet, change some entries and send the form."""
    entries = entries_of(client.get(address(draft_id, path)))
    for name, value in changed.items():
        entries.setlist(name, value if isinstance(value, list) else [value])
    return client.post(address(draft_id, path), data=entries, headers=JSON if json else {})


@pytest.mark.slow
@pytest.mark.parametrize("scenario_id", library())
def test_a_scenario_whose_sheets_are_all_sent_unchanged_is_the_same(teacher_client, write, scenario_id):
    """No field of any shipped scenario is lost or bent by its form."""
    before = document_of(shipped_text(scenario_id))
    draft_id, document = write(before), before
    sections = list(every_section(before))
    assert len(sections) > 8
    for section in sections:
        entries = entries_of(teacher_client.get(address(draft_id, section.path)))
        document = document_from(entries, section, document)
    assert differences(before, document) == ()


@pytest.mark.parametrize(
    "path", ["nothing", "parts", "parts.7", "assemblies.x", "parts.0.tasks", "title", "format"]
)
def test_a_sheet_that_is_not_there_is_no_page(teacher_client, draft_id, path):
    assert teacher_client.get(address(draft_id, path)).status_code == 404


def test_anothers_draft_is_no_page(stranger_client, draft_id):
    for place in ("", "/publish", "/try", "/answers", "/images", "/file", "/throw-away", "/sheets/about"):
        assert stranger_client.get(f"{DRAFTS}/{draft_id}{place}").status_code == 404, place


def test_what_is_typed_is_kept_as_it_was_typed(teacher_client, draft_id, read):
    send(teacher_client, draft_id, "vehicle", **{"vehicle.wheel_torque_nm": " about 110 "})
    assert at(read(draft_id).document, "vehicle.wheel_torque_nm") == "about 110"
    page = unescape(teacher_client.get(address(draft_id, "vehicle")).text)
    assert 'value="about 110"' in page
    assert "Enter a number, like 12.5." in page


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ({"how": "fixed", "": "30"}, 30),
        ({"how": "range", "low": "10", "high": "20", "step": ""}, {"low": 10, "high": 20}),
        ({"how": "range", "low": "10", "high": "20", "step": ".5"}, {"low": 10, "high": 20, "step": 0.5}),
        ({"how": "range", "low": "", "high": "20", "step": ""}, {"low": "", "high": 20}),
        ({"how": "list", "one_of": "5, 10; 15 20"}, {"one_of": [5, 10, 15, 20]}),
        ({"how": "fixed", "": "\N{MINUS SIGN}5"}, -5),
        ({"how": "fixed", "": "nan"}, "nan"),
        ({"how": "fixed", "": "1e999"}, "1e999"),
    ],
)
def test_a_number_is_the_same_for_all_a_range_or_one_of_a_list(teacher_client, draft_id, read, sent, kept):
    name = "assemblies.0.heavy_spots.0.mass_g"
    entries = {f"{name}.{part}" if part else name: value for part, value in sent.items()}
    send(teacher_client, draft_id, "assemblies.0", **entries)
    assert at(read(draft_id).document, name) == kept


def test_a_key_is_chosen_from_a_list_or_written_as_a_formula(teacher_client, draft_id, read):
    path, key = "parts.0.tasks.0", "parts.0.tasks.0.key"
    send(teacher_client, draft_id, path, **{f"{key}.what": "single.mass_g", f"{key}.of": "*"})
    assert at(read(draft_id).document, key) == "assembly[*].single.mass_g"
    formula = "assembly[A].left.inboard.mass_g + assembly[A].left.outboard.mass_g"
    send(teacher_client, draft_id, path, **{f"{key}.formula": formula})
    assert at(read(draft_id).document, key) == formula
    assert formula in unescape(teacher_client.get(address(draft_id, path)).text)


def test_the_list_of_quantities_is_grouped_and_holds_what_the_task_can_ask_for(teacher_client, draft_id):
    page = teacher_client.get(address(draft_id, "parts.0.tasks.0")).text
    assert '<optgroup label="Angles">' in page
    assert 'value="single.angle_deg" selected' in page
    assert 'value="decision"' not in page
    assert 'value="car.comfort"' not in page


def test_a_line_that_differs_between_students_is_one_of_several_lines(teacher_client, draft_id, read):
    name = "assemblies.0.tire.designation"
    send(teacher_client, draft_id, "assemblies.0", **{name: "205/55R16 91V\n195/65R15 91H\n"})
    assert at(read(draft_id).document, name) == {"one_of": ["205/55R16 91V", "195/65R15 91H"]}
    send(teacher_client, draft_id, "assemblies.0", **{name: "205/55R16 91V"})
    assert at(read(draft_id).document, name) == "205/55R16 91V"


def test_signs_that_no_page_can_show_are_left_out(teacher_client, draft_id, read):
    send(teacher_client, draft_id, "about", title="One\u202eweight\x00", summary="a\r\nb\u2066")
    assert (read(draft_id).title, read(draft_id).document["summary"]) == ("Oneweight", "a\nb")


@pytest.mark.parametrize(
    ("path", "asked", "changed", "left"),
    [
        ("assemblies.0", "add assemblies.0.heavy_spots", "assemblies.0.heavy_spots", 2),
        ("assemblies.0", "remove assemblies.0.heavy_spots 0", "assemblies.0.heavy_spots", 0),
        ("reflection", "add reflection", "reflection", 1),
        ("parts.0", "add parts.0.shows", "parts.0.shows", 2),
    ],
)
def test_entries_of_a_list_are_added_and_taken_out(
    teacher_client, draft_id, read, path, asked, changed, left
):
    assert send(teacher_client, draft_id, path, do=asked).status_code == 303
    assert len(at(read(draft_id).document, changed) or []) == left


def test_what_is_typed_beside_a_button_is_kept_too(teacher_client, draft_id, read):
    name = "assemblies.0.heavy_spots"
    send(teacher_client, draft_id, "assemblies.0", **{f"{name}.0.name": "Label", "do": f"add {name}"})
    assert [spot["name"] for spot in at(read(draft_id).document, name)] == ["Label", "Tread"]


def test_entries_are_moved_up_and_down(teacher_client, write, read):
    draft_id = write(document_of(shipped_text("two-plane-balance")))

    def ids():
        return [each["id"] for each in read(draft_id).document["reflection"]]

    first, second, third = ids()
    send(teacher_client, draft_id, "reflection", do="down reflection 0")
    assert ids() == [second, first, third]
    send(teacher_client, draft_id, "reflection", do="up reflection 1")
    assert ids() == [first, second, third]


def test_a_table_that_may_be_left_out_is_added_and_taken_away(teacher_client, draft_id, read):
    name = "assemblies.0.wheel.bead_seats"
    send(teacher_client, draft_id, "assemblies.0", do=f"put {name}")
    assert at(read(draft_id).document, f"{name}.inboard.0.order") == 1
    assert send(teacher_client, draft_id, "assemblies.0").status_code == 303
    assert at(read(draft_id).document, name)
    send(teacher_client, draft_id, "assemblies.0", do=f"drop {name}")
    assert at(read(draft_id).document, name) is None


@pytest.mark.parametrize(
    "asked",
    [
        "add",
        "fly parts 0",
        "add nothing",
        "remove parts 9",
        "remove parts x",
        "drop vehicle",
        "up title 0",
        "put parts",
    ],
)
def test_a_change_that_makes_no_sense_is_no_page_and_changes_nothing(teacher_client, draft_id, read, asked):
    before = read(draft_id).document
    assert send(teacher_client, draft_id, "about", do=asked).status_code in (404, 422)
    assert differences(before, read(draft_id).document) == ()


def test_a_script_is_told_what_is_at_fault_what_is_missing_and_how_it_looks_now(
    teacher_client, draft_id, read
):
    answer = send(
        teacher_client,
        draft_id,
        "assemblies.0",
        json=True,
        page="page0one",
        page_revision="1",
        **{"assemblies.0.heavy_spots.0.name": "Splice", "assemblies.0.wheel.width_in": "wide"},
    )
    said = answer.json
    assert (answer.status_code, said["saved"], said["revision"]) == (200, True, read(draft_id).revision)
    assert said["problems"] == {"f-assemblies-0-wheel-width_in": "Enter a number, like 12.5."}
    assert set(said["parts"]) == {"preview", "missing"}


def test_the_drawing_beside_the_form_shows_what_was_just_typed(teacher_client, draft_id):
    answer = send(
        teacher_client, draft_id, "assemblies.0", json=True, **{"assemblies.0.heavy_spots.0.name": "Splice"}
    )
    assert "<svg" in answer.json["parts"]["preview"]
    assert "Splice" in answer.json["parts"]["preview"]


def test_the_live_key_follows_what_the_task_asks_for(teacher_client, draft_id):
    key = "parts.0.tasks.0.key"
    answers = [
        send(
            teacher_client, draft_id, "parts.0.tasks.0", json=True, **{f"{key}.what": what, f"{key}.of": "A"}
        )
        for what in ("single.angle_deg", "single.mass_g")
    ]
    degrees, ounces = (answer.json["parts"]["preview"] for answer in answers)
    assert "°</dd>" in degrees
    assert " oz</dd>" in ounces


def test_a_late_save_of_the_same_page_changes_nothing(teacher_client, draft_id, read):
    page = {"page": "page0one", "json": True}
    send(teacher_client, draft_id, "about", title="newer", page_revision="2", **page)
    send(teacher_client, draft_id, "about", title="older", page_revision="1", **page)
    assert read(draft_id).title == "newer"


def test_the_page_that_is_out_of_date_is_told_so_and_keeps_what_was_typed(teacher_client, draft_id, read):
    path = address(draft_id, "about")
    first, second = (entries_of(teacher_client.get(path)) for _ in range(2))
    first["title"] = "First"
    assert teacher_client.post(path, data=first).status_code == 303
    second["title"] = "Second"
    told = teacher_client.post(path, data=second, headers=JSON)
    assert told.status_code == 409
    assert "another window" in told.json["message"]
    page = teacher_client.post(path, data=second)
    assert page.status_code == 409
    assert "another window" in page.text
    assert read(draft_id).title == "First"
    again = entries_of(page)
    assert again["title"] == "Second"
    assert teacher_client.post(path, data=again).status_code == 303
    assert read(draft_id).title == "Second"


@pytest.mark.parametrize("revision", ["", "x", "-1", "9" * 12])
def test_a_form_without_its_revision_is_refused(teacher_client, draft_id, revision):
    assert send(teacher_client, draft_id, "about", revision=revision).status_code == 400


def test_a_form_without_its_token_keeps_what_was_typed_and_saves_nothing(teacher_client, draft_id, read):
    answer = send(teacher_client, draft_id, "about", title="Forged", csrf_token="x")
    assert answer.status_code == 422
    assert 'value="Forged"' in answer.text
    assert read(draft_id).title == "One weight"
    assert send(teacher_client, draft_id, "about", csrf_token="x", json=True).status_code == 400


def test_empty_fields_are_only_called_faults_once_somebody_asks(teacher_client, write):
    draft_id = write(with_entry(complete(), "summary", None))
    quiet = teacher_client.get(address(draft_id, "about")).text
    assert "Still to be filled in" in quiet
    assert "Fill this in." not in quiet
    asked = teacher_client.get(address(draft_id, "about", "?faults=1")).text
    assert '<a href="#f-summary">Summary: Fill this in.</a>' in asked
    assert 'id="f-summary-error"' in asked


def test_every_fault_in_the_outline_leads_to_its_field(teacher_client, write):
    document = with_entry(complete(), "vehicle.placard.front_kpa", "?")
    page = teacher_client.get(f"{DRAFTS}/{write(document)}").text
    assert "sheets/vehicle?faults=1#f-vehicle-placard-front_kpa" in page
    assert "Vehicle · Placard · Front pressure" in page


def test_defaults_are_shown_and_not_written_down(teacher_client, draft_id, read):
    page = teacher_client.get(address(draft_id, "machine")).text
    assert 'value="5, 10, 15' in page
    send(teacher_client, draft_id, "machine")
    assert "machine" not in read(draft_id).document
    send(teacher_client, draft_id, "machine", **{"machine.metric.step": "1"})
    assert at(read(draft_id).document, "machine.metric.step") == 1
