"""The calculators as pages: entries and their faults, units, the projector view, and who may see them."""

import re
from urllib.parse import urlencode

import pytest

from app.services import classes
from app.web.calculators.sheets import CALCULATORS
from tests import factories
from tests.web.calculators.reading import NO_RESULT, fault_at, headline, results, show, tables
from tests.web.conftest import signed_in

BAD = [
    ("balance", {"mass1": "9**9**9 g"}, "mass1", "is no unit"),
    ("balance", {"mass1": ""}, "mass1", "Enter this, like 20 g"),
    ("balance", {"mass2": ""}, "mass2", "clear all of unbalance 2"),
    ("balance", {"outboard_z": "-90"}, "outboard_z", "different z"),
    ("balance", {"inboard_radius": "0"}, "inboard_radius", "at least 0.000000001"),
    ("unbalance-force", {"speed": "nan"}, "speed", "is not a number"),
    ("unbalance-force", {"circumference": "0 mm"}, "circumference", "at least"),
    ("vibration-order", {"frequency": "0"}, "frequency", "at least"),
    ("runout", {"readings": "1 2 x"}, "readings", "Number 3"),
    ("runout", {"readings": "1 2 3"}, "readings", "8 at least"),
    ("runout", {"gauge": "furlong"}, "gauge", "Choose one of"),
    ("match-mounting", {"turn": "400"}, "turn", "at most once around"),
    ("tire-and-wheel", {"turned": "10 cw"}, "turned", "more than 15 degrees"),
    ("placement", {f"allowed_{letter}": "left" for letter in "ABCD"}, "allowed_A", "allow more"),
    ("tire-size", {"designation": "205-65-15"}, "designation", "This isn't a tire size"),
    ("tire-date", {"service_date": "31.5.2024"}, "service_date", "2024-05-31"),
    ("tire-date", {"tin": "5324", "service_date": "2026-05-31"}, "tin", "week 53"),
    ("stock-weights", {"stock": "5, 5"}, "stock", "each size once"),
    ("stock-weights", {"pieces": "2.5"}, "pieces", "whole number"),
    ("split-weight", {"spoke2": "108"}, "spoke1", "equal or opposite"),
    ("pressure", {"set_at": "-300 C"}, "set_at", "above -273.15"),
    ("units", {"to": "mm"}, "to", "oz measures mass"),
]


@pytest.mark.parametrize(
    ("slug", "entries", "entry", "says"), BAD, ids=[f"{b[0]}-{b[2]}-{i}" for i, b in enumerate(BAD)]
)
def test_a_bad_entry_says_so_at_its_field_and_leaves_no_result(reader, slug, entries, entry, says):
    html = show(reader, slug, status=422, **entries)
    assert says in fault_at(html, entry)
    assert NO_RESULT in headline(html)
    assert "Results" not in tables(html)
    assert "<svg" not in html
    typed = next(iter(entries.values()))
    assert not typed or typed in html


def test_every_calculator_has_a_bad_entry_to_refuse():
    assert {slug for slug, *_ in BAD} == set(CALCULATORS)


NASTY = ["", "nan", "1e999", "-1", "0", "400", "9" * 60, "1/0", "-\t5", "\x00<b>", "١٢", "5 g g"]


@pytest.mark.parametrize("slug", CALCULATORS)
def test_nothing_typed_makes_an_error_page(reader, slug):
    for entry in CALCULATORS[slug].entries:
        for typed in NASTY:
            answer = reader.get(f"/calculators/{slug}?{urlencode({entry.name: typed})}")
            assert answer.status_code in (200, 422), f"{entry.name}={typed!r}: {answer.status}"
            assert (answer.status_code == 200) == ("Results" in tables(answer.text)), (
                f"{entry.name}={typed!r}"
            )


@pytest.mark.parametrize("slug", CALCULATORS)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_each_opens_with_a_worked_example_its_rule_and_its_source(reader, slug, units):
    calculator = CALCULATORS[slug]
    html = show(reader, slug, units=units)
    assert NO_RESULT not in headline(html)
    assert 'class="formula"' in html
    assert {"Results", "The numbers put in"} <= set(tables(html))
    for text in (calculator.title, calculator.source, *calculator.models):
        assert text in html
    assert ("Teaching model" in html) == bool(calculator.models or slug == "placement")


@pytest.mark.parametrize("slug", CALCULATORS)
def test_the_projector_view_gives_the_same_answer_and_leads_back(reader, slug):
    html = show(reader, slug)
    assert 'class="sheet wide"' in html
    link = re.search(r'href="(/calculators/[^"]*view=projector[^"]*)"', html)[1].replace("&amp;", "&")
    wall = reader.get(link).text
    assert 'class="sheet wide projector"' in wall
    assert headline(wall) == headline(html)
    assert results(wall) == results(html)
    back = re.search(r'href="(/calculators/[^"]*\?[^"]*)"', wall)[1].replace("&amp;", "&")
    assert headline(reader.get(back).text) == headline(html)


def test_the_projector_view_keeps_what_was_entered(reader):
    html = show(reader, "match-mounting", view="projector", tire="91 N", turn="25 cw")
    assert '<input type="hidden" name="tire" value="91 N">' in html
    assert re.search(r'<input type="text" id="entry-turn" name="turn" value="25 cw"', html)


class TestUnits:
    def test_a_typed_unit_counts_whatever_the_page_s_units_are(self, reader):
        ounces = results(show(reader, "unbalance-force", units="metric", mass="1 1/4 oz", radius="7.5 in"))
        grams = results(
            show(
                reader,
                "unbalance-force",
                units="us",
                mass="35.436904 g",
                radius="190.5 mm",
                speed="100 km/h",
                circumference="1975 mm",
            )
        )
        assert ounces["Peak force F"] == grams["Peak force F"]

    @pytest.mark.parametrize(
        ("slug", "entry", "typed", "metric"),
        [
            ("unbalance-force", "speed", "60 mph", "97 km/h"),
            ("pressure", "at", "14 F", "−10 °C"),
            ("pressure", "at", "−10 °C", "−10 °C"),
            ("vibration-order", "frequency", "840 rpm", "14.00 Hz"),
            ("match-mounting", "spring_rate", "1142 lb/in", "200 N/mm"),
            ("balance", "z1", "-2.75 in", "−70 mm"),
            ("split-weight", "angle", "4:30", "135°"),
        ],
    )
    def test_each_kind_reads_its_units(self, reader, slug, entry, typed, metric):
        label = next(each.label for each in CALCULATORS[slug].entries if each.name == entry)
        rows = tables(show(reader, slug, **{entry: typed}))["The numbers put in"]
        assert next(row[1] for row in rows if label.lower() in row[0].lower()) == metric

    def test_it_opens_in_the_units_of_the_class(self, pupil_client, database, teacher, class_id, now):
        answer = pupil_client.get("/calculators/balance")
        assert "0.7 oz" in answer.text
        settings = {
            "name": "Auto 2",
            "time_zone": "America/Chicago",
            "units": "metric",
            "calculators_on": True,
        }
        classes.update_class(database, class_id=class_id, instructor=teacher, now=now, **settings)
        assert "20 g" in pupil_client.get("/calculators/balance").text


class TestReach:
    @pytest.fixture
    def switch_off(self, database, teacher, now):
        def switch(class_id, name):
            classes.update_class(
                database,
                class_id=class_id,
                instructor=teacher,
                name=name,
                time_zone="America/Chicago",
                units="us",
                calculators_on=False,
                now=now,
            )

        return switch

    @pytest.mark.parametrize(
        "path", ["/calculators", "/calculators/balance", "/calculators/balance?view=projector"]
    )
    def test_a_student_reads_which_class_has_switched_them_off(
        self, pupil_client, class_id, switch_off, path
    ):
        assert pupil_client.get(path).status_code == 200
        switch_off(class_id, "Auto 7")
        answer = pupil_client.get(path)
        assert answer.status_code == 403
        assert "switched off in Auto 7" in answer.text
        assert "<svg" not in answer.text

    def test_another_class_s_student_keeps_them(self, app, database, teacher, class_id, switch_off):
        other = factories.school_class(database, instructor=teacher, name="Auto 3")
        neighbour = factories.student(database, class_id=other, instructor=teacher)
        switch_off(class_id, "Auto 2")
        assert signed_in(app, neighbour).get("/calculators").status_code == 200

    def test_the_instructor_keeps_them(self, teacher_client, class_id, switch_off):
        switch_off(class_id, "Auto 2")
        assert teacher_client.get("/calculators/runout").status_code == 200

    def test_an_unknown_calculator_is_no_page(self, pupil_client):
        assert pupil_client.get("/calculators/horoscope").status_code == 404

    def test_they_are_read_and_change_nothing(self, pupil_client):
        assert pupil_client.post("/calculators/balance").status_code == 405

    def test_the_list_leads_to_each(self, pupil_client, teacher_client):
        for client, model in ((pupil_client, False), (teacher_client, True)):
            html = client.get("/calculators").text
            assert all(f'href="/calculators/{slug}"' in html for slug in CALCULATORS)
            assert ("/calculators/model" in html) == model


TEACHING_MODELS = [  # as the wheel model's section 3 and 2.14 name them
    "k = k₀ (1 + 0.7 (p / p₀ − 1))",
    "All force harmonics grow with that rate",
    "sum of two vectors",
    "loose clamp reads nothing",
    "fixed to the shaft",
    "shelf label is a small unbalance on the tread",
    "1.00 at the driver’s front, 0.85, 0.65 and 0.50",
    "share of 0.3",
]


def test_instructors_read_what_each_teaching_model_leaves_out(teacher_client):
    html = teacher_client.get("/calculators/model").text
    assert [model for model in TEACHING_MODELS if model not in html] == []
    assert html.count("To ask the class") == html.count("Beyond it") > len(TEACHING_MODELS)


def test_students_have_no_page_on_the_model(pupil_client):
    assert pupil_client.get("/calculators/model").status_code == 403
