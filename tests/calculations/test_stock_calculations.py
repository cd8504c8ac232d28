"""Weights from the box, split weights and units over the wire."""

import pytest

from app.calculations import registry
from tests.published.cases import case


def test_the_pieces_come_with_their_sum_and_by_how_much_it_misses():
    given = {"target_g": 47, "stock_g": [5, 10, 20, 30], "max_pieces": 3}
    assert registry.answer("weights-from-stock", given) == {
        "pieces_g": [30.0, 10.0, 5.0],
        "sum_g": 45.0,
        "error_g": -2.0,
    }


def test_no_piece_at_all_is_an_answer():
    given = {"target_g": 2, "stock_g": [5], "max_pieces": 1}
    assert registry.answer("weights-from-stock", given) == {"pieces_g": [], "sum_g": 0.0, "error_g": -2.0}


def test_a_weight_is_split_behind_two_spokes():
    given = {"mass_g": 30, "angle_deg": 0, "at_deg": [330, 30]}
    masses = registry.answer("split-weight", given)["masses_g"]
    assert masses == pytest.approx([30 / 3**0.5, 30 / 3**0.5])


@pytest.mark.parametrize("at_deg", [[10, 40], [10, 10], [10, 190]])
def test_a_weight_that_does_not_lie_between_the_spokes_is_refused_in_those_words(at_deg):
    answer = registry.answer("split-weight", {"mass_g": 30, "angle_deg": 0, "at_deg": at_deg})
    assert answer["error"]["field"] == "at_deg"
    assert "does not lie between" in answer["error"]["message"]


def test_a_quarter_ounce_is_the_published_grams():
    published = case("units-quarter-ounce")
    answer = registry.answer("convert", {"value": published["given"]["oz"], "from": "oz", "to": "g"})
    assert answer["value"] == pytest.approx(published["expect"]["g"], abs=published["tolerance"]["g"])


@pytest.mark.parametrize(
    ("value", "source", "target", "field"),
    [
        (1, "g", "mm", "to"),
        (1, "stone", "g", "from"),
        (1, "g", "stone", "to"),
        (-1, "oz", "g", "value"),
        (-460, "F", "C", "value"),
        (-1, "K", "K", "value"),
    ],
)
def test_what_can_not_be_converted_is_refused_by_its_name_on_the_wire(value, source, target, field):
    answer = registry.answer("convert", {"value": value, "from": source, "to": target})
    assert answer["error"]["field"] == field


def test_a_pull_to_the_left_stays_one_in_another_unit():
    assert registry.answer("convert", {"value": -10, "from": "N", "to": "kN"}) == {"value": -0.01}
