"""Pressure and clips on the wire: names, fields, defaults and refusals."""

import math

import pytest

from app.calculations.registry import answer
from app.compute.units import convert
from tests.published.cases import case as published


def test_pressure_at_temperature_answers_the_textbook_problem() -> None:
    case = published("gas-openstax-car-tire")
    given = {
        "set_kpa": case["given"]["gauge_Pa"] / 1000,
        "set_c": case["given"]["t1_C"],
        "at_c": case["given"]["t2_C"],
        "ambient_kpa": case["given"]["atm_Pa"] / 1000,
    }

    found = answer("pressure-at-temperature", given)

    assert found["gauge_kpa"] * 1000 == pytest.approx(case["expect"]["gauge_Pa"], abs=case["tolerance"]["Pa"])
    assert found["change_kpa"] == found["gauge_kpa"] - given["set_kpa"]


def test_the_air_outside_has_the_standard_pressure_unless_told() -> None:
    given = {"set_kpa": 240, "set_c": 20, "at_c": 5}
    standard = published("units-exact")["expect"]["atm_Pa"] / 1000

    assert answer("pressure-at-temperature", given) == answer(
        "pressure-at-temperature", given | {"ambient_kpa": standard}
    )


def test_pressure_warning_answers_the_rule_of_a_quarter_below_the_placard() -> None:
    case = published("tpms-threshold-35psi")
    placard, minimum, warning = (
        float(convert(psi, "psi", "kPa"))
        for psi in (*case["given"].values(), case["expect"]["telltale_at_or_below_psi"])
    )

    given = {"placard_kpa": placard, "table_minimum_kpa": minimum}
    assert answer("pressure-warning", given)["warning_kpa"] == pytest.approx(warning)
    assert answer("pressure-warning", {"placard_kpa": 160})["warning_kpa"] == pytest.approx(minimum, abs=0.01)


@pytest.mark.parametrize("case_id", ["2.3mm", "3.0mm", "5.5mm"])
def test_clip_weight_answers_the_published_choice(case_id: str) -> None:
    case = published(f"weight-clip-choice-{case_id}")

    assert answer("clip-weight", {"flange_mm": case["given"]["flange_lip_thickness_mm"]}) == case["expect"]


def test_a_lip_that_no_clip_fits_is_answered_with_null() -> None:
    assert answer("clip-weight", {"flange_mm": 4.8}) == {"clip": None}


@pytest.mark.parametrize(
    ("name", "given", "field"),
    [
        ("pressure-at-temperature", {"set_kpa": -1, "set_c": 20, "at_c": 5}, "set_kpa"),
        ("pressure-at-temperature", {"set_kpa": 240, "set_c": -273.15, "at_c": 5}, "set_c"),
        ("pressure-at-temperature", {"set_kpa": 240, "set_c": 20, "at_c": -300}, "at_c"),
        (
            "pressure-at-temperature",
            {"set_kpa": 240, "set_c": 20, "at_c": 5, "ambient_kpa": 0},
            "ambient_kpa",
        ),
        ("pressure-warning", {"placard_kpa": "240"}, "placard_kpa"),
        ("pressure-warning", {"placard_kpa": 240, "table_minimum_kpa": math.nan}, "table_minimum_kpa"),
        ("clip-weight", {"flange_mm": 0}, "flange_mm"),
        ("clip-weight", {}, "flange_mm"),
    ],
)
def test_input_that_cannot_be_used_is_refused_by_name(
    name: str, given: dict[str, object], field: str
) -> None:
    assert answer(name, given)["error"]["field"] == field
