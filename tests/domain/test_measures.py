"""Typed quantities. Factors: NIST SP 811, through the published cases."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.domain.measures import (
    LONGEST_TYPED,
    Measure,
    UnitSystem,
    UnreadableMeasure,
    read,
    show,
    show_clock,
    shown_as,
)
from tests.published.cases import case

METRIC, US = UnitSystem.METRIC, UnitSystem.US
NUMBERS = [
    measure for measure in Measure if measure not in (Measure.CHOICE, Measure.SEVERAL, Measure.PLACEMENT)
]
OUNCE_G = case("units-exact")["expect"]["oz_g"]
POUND_FORCE_N = case("units-exact")["expect"]["lbf_N"]
OUNCE_INCH_GMM = case("units-exact")["expect"]["oz_in_unbalance_g_mm"]


@pytest.mark.parametrize(
    ("typed", "measure", "inside"),
    [
        ("35", Measure.MASS, 35),
        ("35 g", Measure.MASS, 35),
        ("  35g ", Measure.MASS, 35),
        ("0.035 kg", Measure.MASS, 35),
        ("1.25 oz", Measure.MASS, 1.25 * OUNCE_G),
        ("1 1/4 oz", Measure.MASS, 1.25 * OUNCE_G),
        ("3/4 ounces", Measure.MASS, 0.75 * OUNCE_G),
        (".5 OZ", Measure.MASS, 0.5 * OUNCE_G),
        ("6400 g.mm", Measure.UNBALANCE, 6400),
        ("6400 g·mm", Measure.UNBALANCE, 6400),
        ("640 g cm", Measure.UNBALANCE, 6400),
        ("8.9 oz-in", Measure.UNBALANCE, 8.9 * OUNCE_INCH_GMM),
        ("0.018 in", Measure.RUNOUT, 0.4572),
        ("0.018”", Measure.RUNOUT, 0.4572),
        ("0.018 inches", Measure.RUNOUT, 0.4572),
        ("18 lbf", Measure.FORCE, 18 * POUND_FORCE_N),
        ("18 pounds", Measure.FORCE, 18 * POUND_FORCE_N),
        ("8 kgf", Measure.FORCE, 78.4532),
        ("2.3 bar", Measure.PRESSURE, 230),
        ("110 Nm", Measure.TORQUE, 110),
        ("110 N m", Measure.TORQUE, 110),
        ("135", Measure.ANGLE, 135),
        ("135°", Measure.ANGLE, 135),
        ("495 deg", Measure.ANGLE, 135),
        ("-90", Measure.ANGLE, 270),
        ("−90", Measure.ANGLE, 270),
        ("4:30", Measure.ANGLE, 135),
        ("12:00", Measure.ANGLE, 0),
        ("4 o’clock", Measure.ANGLE, 120),
        ("60 cw", Measure.TURN, 60),
        ("60 ccw", Measure.TURN, -60),
        ("60° counter-clockwise", Measure.TURN, -60),
        ("-60", Measure.TURN, -60),
        ("300 cw", Measure.TURN, -60),
        ("180 ccw", Measure.TURN, 180),
        ("7 years", Measure.YEARS, 7),
        ("4", Measure.COUNT, 4),
    ],
)
def test_a_typed_value_is_read_in_its_unit(typed: str, measure: Measure, inside: float) -> None:
    assert read(typed, measure, METRIC) == pytest.approx(inside, rel=1e-12)


def test_a_bare_number_is_in_the_unit_of_the_class() -> None:
    quarter = case("units-quarter-ounce")
    assert read("0.25", Measure.MASS, US) == pytest.approx(
        quarter["expect"]["g"], abs=quarter["tolerance"]["g"]
    )
    assert read("0.25", Measure.MASS, METRIC) == 0.25


@pytest.mark.parametrize(
    ("typed", "measure", "says"),
    [
        ("nan", Measure.MASS, "not a number"),
        ("inf", Measure.MASS, "not a number"),
        ("-inf g", Measure.MASS, "not a number"),
        ("Infinity", Measure.FORCE, "not a number"),
        ("1e999", Measure.MASS, "no unit"),
        ("1e5", Measure.ANGLE, "no unit"),
        ("0x20", Measure.MASS, "no unit"),
        ("1_000", Measure.MASS, "no unit"),
        ("٣٥ g", Measure.MASS, "not a number"),
        ("３５", Measure.MASS, "not a number"),
        ("½ oz", Measure.MASS, "not a number"),
        ("9**9**9**9 g", Measure.MASS, "no unit"),
        ("(1+1) g", Measure.MASS, "not a number"),
        ("__import__('os')", Measure.MASS, "not a number"),
        ("12,5", Measure.MASS, "after a point"),
        ("1,250 g", Measure.MASS, "after a point"),
        ("35 mm", Measure.MASS, "no unit"),
        ("35 g", Measure.LENGTH, "no unit"),
        ("12 oz", Measure.FORCE, "no unit"),
        ("1/0 oz", Measure.MASS, "0 below the line"),
        ("5 5 g", Measure.MASS, "not a number"),
        ("5 g 5", Measure.MASS, "no unit"),
        ("-5 g", Measure.MASS, "below zero"),
        ("-0.2 mm", Measure.RUNOUT, "below zero"),
        ("13:00", Measure.ANGLE, "12:00"),
        ("4:75", Measure.ANGLE, "12:00"),
        ("4:30", Measure.TURN, "which way"),
        ("60 left", Measure.TURN, "which way"),
        ("-60 cw", Measure.TURN, "which way once"),
        ("400 cw", Measure.TURN, "once around"),
        ("g", Measure.MASS, "not a number"),
        ("", Measure.MASS, "not a number"),
        ("9" * 61, Measure.MASS, "too long"),
        ("9" * 13, Measure.MASS, "no unit"),
        ("1" + " " * 5_000_000 + "g", Measure.MASS, "too long"),
        ("heavy " * 100_000, Measure.MASS, "too long"),
        ("35\x00", Measure.MASS, "no unit"),
    ],
)
def test_what_is_no_value_says_what_to_type(typed: str, measure: Measure, says: str) -> None:
    for units in UnitSystem:
        with pytest.raises(UnreadableMeasure, match=says):
            read(typed, measure, units)


@given(st.text(max_size=LONGEST_TYPED + 5), st.sampled_from(NUMBERS), st.sampled_from(UnitSystem))
def test_any_text_is_read_as_a_finite_number_or_refused_with_words(
    typed: str, measure: Measure, units: UnitSystem
) -> None:
    try:
        value = read(typed, measure, units)
    except UnreadableMeasure:
        return
    assert math.isfinite(value)


@given(st.floats(0, 1e5), st.sampled_from(NUMBERS), st.sampled_from(UnitSystem))
def test_what_is_shown_reads_as_the_value_within_half_of_its_last_digit(
    size: float, measure: Measure, units: UnitSystem
) -> None:
    shown = shown_as(measure, units)
    value = size * shown.factor
    if measure in (Measure.ANGLE, Measure.TURN):
        value = size % 360
    text = show(value, measure, units)
    assume("no turn" not in text)
    off = read(text, measure, units) - value
    if measure in (Measure.ANGLE, Measure.TURN):
        off = (off + 180) % 360 - 180
    assert abs(off) <= shown.factor * (0.5 * 10**-shown.decimals) * (1 + 1e-9) + 1e-9 * abs(value)


@given(st.integers(0, 719))
def test_a_clock_position_reads_back_as_its_angle(half_degrees: int) -> None:
    assert read(show_clock(half_degrees / 2), Measure.ANGLE, METRIC) == half_degrees / 2


@pytest.mark.parametrize(
    ("value", "measure", "units", "text"),
    [
        (34.25, Measure.MASS, METRIC, "34.2 g"),
        (35.43690390625, Measure.MASS, US, "1.25 oz"),
        (-0.001, Measure.RUNOUT, METRIC, "0.00 mm"),
        (-0.12, Measure.RUNOUT, METRIC, "-0.12 mm"),
        (359.7, Measure.ANGLE, METRIC, "0°"),
        (60.2, Measure.TURN, METRIC, "60° clockwise"),
        (-60.2, Measure.TURN, US, "60° counterclockwise"),
        (0.2, Measure.TURN, US, "0° (no turn)"),
        (179.8, Measure.TURN, US, "180°"),
        (1.0, Measure.YEARS, US, "1 year"),
        (math.nan, Measure.ANGLE, US, "no direction"),
    ],
)
def test_a_value_is_shown_rounded_with_its_unit(
    value: float, measure: Measure, units: UnitSystem, text: str
) -> None:
    assert show(value, measure, units) == text


def test_a_missing_direction_has_no_clock_position() -> None:
    assert show_clock(math.nan) == "no direction"
    assert show_clock(0) == "12:00"
    assert show_clock(359.9) == "12:00"
