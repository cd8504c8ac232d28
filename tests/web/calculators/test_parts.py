"""The parts a calculator is made of: formulas as HTML, and an input put together place by place."""

import pytest

from app.domain.measures import UnitSystem, UnreadableMeasure
from app.web.calculators.calculator import Entered, EntryFault, ask, nested
from app.web.calculators.kinds import NUMBER, PLACE, SPEED, TEMPERATURE, Several
from app.web.calculators.lettering import lettered

METRIC, US = UnitSystem.METRIC, UnitSystem.US


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("{F} = {m} {ω}^2", "<var>F</var> = <var>m</var> <var>ω</var><sup>2</sup>"),
        ("{C_in}", "<var>C<sub>in</sub></var>"),
        ("{<b>_&} < 3", "<var>&lt;b&gt;<sub>&amp;</sub></var> &lt; 3"),
        ("no signs", "no signs"),
    ],
)
def test_a_formula_has_italic_symbols_indices_and_powers(text, html):
    assert lettered(text) == html


def test_an_input_is_put_together_by_place():
    flat = {"a": 1, "b.c": 2, "d[0].e": 3, "d[0].f": 4, "d[1].e": 5, "g[0]": 6, "g[1]": 7}
    assert nested(flat) == {"a": 1, "b": {"c": 2}, "d": [{"e": 3, "f": 4}, {"e": 5}], "g": [6, 7]}


@pytest.mark.parametrize(
    ("values", "entry"),
    [
        ({"size": -1.0, "stock": [5.0]}, "size"),
        ({"size": 1.0, "stock": [5.0, 0.0]}, "stock"),
        ({"size": 1.0, "stock": []}, "stock"),
        ({"size": None, "stock": [5.0]}, "size"),
    ],
)
def test_a_refusal_is_taken_to_the_entry_that_it_is_about(values, entry):
    places = {"target_g": "size", "stock_g": "stock"}
    with pytest.raises(EntryFault) as refused:
        ask("weights-from-stock", Entered(METRIC, values), places, {"max_pieces": 2})
    assert refused.value.entry == entry


def test_a_refusal_that_is_about_no_entry_says_so():
    with pytest.raises(EntryFault) as refused:
        ask("weights-from-stock", Entered(METRIC, {"size": 1.0}), {"target_g": "size"})
    assert refused.value.entry is None


@pytest.mark.parametrize(
    ("kind", "typed", "value"),
    [
        (SPEED, "60 mph", 96.56064),  # NIST SP 811
        (SPEED, "27.5m/s", 99.0),
        (TEMPERATURE, "−40 °F", -40.0),
        (TEMPERATURE, "212 F", 100.0),
        (PLACE, "−2 in", -50.8),
        (PLACE, "2", 2.0),
    ],
)
def test_a_unit_is_read_and_a_number_alone_is_metric_here(kind, typed, value):
    assert kind.read(typed, METRIC) == pytest.approx(value)


def test_what_is_shown_is_read_back():
    for kind, value in ((SPEED, 96.56064), (TEMPERATURE, -40.0), (PLACE, -50.8)):
        for system in UnitSystem:
            assert kind.read(kind.show(value, system), system) == pytest.approx(value, abs=1)


@pytest.mark.parametrize("typed", ["1e3", "nan", "--5", "5 5", "9**9**9", "1_000", "0x10", "5 kph mph", ""])
def test_a_speed_that_can_not_be_read_says_how_to_type_it(typed):
    with pytest.raises(UnreadableMeasure, match=r"like 10 km/h"):
        SPEED.read(typed, METRIC)


@pytest.mark.parametrize("typed", ["1 2\t3", "1,2,3", "1;2\n3\n", " 1,\n2, 3,"])
def test_readings_are_parted_by_whatever_they_were_pasted_with(typed):
    assert Several(NUMBER, spaced=True).read(typed, US) == [1.0, 2.0, 3.0]
