"""Every field that an author can fill in has words, and every word belongs to a field."""

import pytest

from app.domain.authored.shape import Kind, fields_of
from app.domain.scenario import Scenario
from app.web.teaching.authoring.words import WORDS, unit_of
from tests.domain.authored.tables import every_table

FIELDS = {
    f"{field.owner}.{field.name}": field for table in every_table(Scenario) for field in fields_of(table)
}


def test_every_field_of_a_scenario_has_words() -> None:
    lacking = sorted(set(FIELDS) - set(WORDS))
    assert lacking == [], (
        "these fields of a scenario have no words for the authors' forms; "
        f"add a line for each in app/web/teaching/authoring/words/: {', '.join(lacking)}"
    )


def test_no_words_are_kept_for_a_field_that_is_gone() -> None:
    assert sorted(set(WORDS) - set(FIELDS)) == []


@pytest.mark.parametrize("name", sorted(WORDS))
def test_a_label_is_a_short_sentence_start(name: str) -> None:
    words = WORDS[name]
    assert words.label == words.label.strip()
    assert 2 <= len(words.label) <= 60
    assert words.label[0].isupper()
    assert words.help == "" or words.help[-1] in ".)…”"


@pytest.mark.parametrize("name", sorted(set(WORDS) & set(FIELDS)))
def test_words_name_only_choices_that_there_are(name: str) -> None:
    assert set(WORDS[name].options) <= set(FIELDS[name].options)


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("HeavySpotSheet.mass_g", "g"),
        ("TireSheet.spring_rate_n_per_mm", "N/mm"),
        ("VehicleSheet.wheel_torque_nm", "N·m"),
        ("PlacardSheet.front_kpa", "kPa"),
        ("TaskSheet.points", ""),
    ],
)
def test_the_unit_comes_from_the_end_of_the_name(name: str, unit: str) -> None:
    assert unit_of(FIELDS[name]) == unit


def test_every_number_that_has_a_unit_in_its_name_shows_one() -> None:
    numbers = [field for field in FIELDS.values() if field.kind in (Kind.NUMBER, Kind.DRAWN)]
    assert len(numbers) > 30
    for field in numbers:
        if field.name.endswith(("_g", "_mm", "_deg", "_n", "_kpa", "_kg", "_km")):
            assert unit_of(field), f"{field.owner}.{field.name}"
