"""Units against scipy.constants (CODATA and NIST values) and the published list of exact factors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants as scipy_constants

from app.compute import constants, errors, units
from tests.published.cases import case

# Each unit in its kind's SI unit, by scipy.constants.
SI_VALUES = {
    "g": scipy_constants.gram,
    "kg": scipy_constants.kilo * scipy_constants.gram,
    "oz": scipy_constants.ounce,
    "lb": scipy_constants.pound,
    "mm": scipy_constants.milli,
    "cm": scipy_constants.centi,
    "m": 1.0,
    "km": scipy_constants.kilo,
    "mil": scipy_constants.mil,
    "in/32": scipy_constants.inch / 32,
    "in": scipy_constants.inch,
    "ft": scipy_constants.foot,
    "mi": scipy_constants.mile,
    "N": 1.0,
    "kN": scipy_constants.kilo,
    "lbf": scipy_constants.pound_force,
    "kgf": scipy_constants.kilogram_force,
    "kPa": scipy_constants.kilo,
    "Pa": 1.0,
    "bar": scipy_constants.bar,
    "psi": scipy_constants.psi,
    "N.m": 1.0,
    "lbf.ft": scipy_constants.pound_force * scipy_constants.foot,
    "lbf.in": scipy_constants.pound_force * scipy_constants.inch,
    "km/h": scipy_constants.kmh,
    "mph": scipy_constants.mph,
    "m/s": 1.0,
}
TEMPERATURES = {"C": "Celsius", "F": "Fahrenheit", "K": "Kelvin"}

LINEAR_PAIRS = [(a, b) for a in SI_VALUES for b in units.units_of_kind(units.UNITS[a].kind)]


def test_every_unit_but_those_of_angle_is_checked_against_scipy():
    assert set(units.UNITS) == set(SI_VALUES) | set(TEMPERATURES) | {"deg", "clock"}


@pytest.mark.parametrize(("source", "target"), LINEAR_PAIRS)
def test_conversion_agrees_with_scipy_constants(source, target):
    expected = 12.5 * SI_VALUES[source] / SI_VALUES[target]
    assert units.convert(12.5, source, target) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize("source", TEMPERATURES)
@pytest.mark.parametrize("target", TEMPERATURES)
def test_temperature_agrees_with_scipy(source, target):
    expected = scipy_constants.convert_temperature(20.0, TEMPERATURES[source], TEMPERATURES[target])
    assert units.convert(20.0, source, target) == pytest.approx(expected, rel=1e-12)


def test_factors_are_the_published_exact_ones():
    published = case("units-exact")
    expect, relative = published["expect"], published["tolerance"]["relative"]
    ours = {
        "in_mm": units.convert(1, "in", "mm"),
        "ft_m": units.convert(1, "ft", "m"),
        "mile_m": units.convert(1, "mi", "m"),
        "mph_m_per_s": units.convert(1, "mph", "m/s"),
        "lb_kg": units.convert(1, "lb", "kg"),
        "oz_g": units.convert(1, "oz", "g"),
        "g_n_m_per_s2": constants.STANDARD_GRAVITY_M_PER_S2,
        "lbf_N": units.convert(1, "lbf", "N"),
        "kgf_N": units.convert(1, "kgf", "N"),
        "psi_Pa": units.convert(1, "psi", "Pa"),
        "bar_Pa": units.convert(1, "bar", "Pa"),
        "atm_Pa": units.convert(constants.STANDARD_ATMOSPHERE_KPA, "kPa", "Pa"),
        "ft_lbf_N_m": units.convert(1, "lbf.ft", "N.m"),
        "in_lbf_N_m": units.convert(1, "lbf.in", "N.m"),
        "oz_in_unbalance_g_mm": units.convert(1, "oz", "g") * units.convert(1, "in", "mm"),
        "lbf_per_in_N_per_mm": units.convert(1, "lbf", "N") / units.convert(1, "in", "mm"),
    }
    assert ours == {name: pytest.approx(value, rel=relative) for name, value in expect.items()}


def test_runout_in_thousandths_is_the_published_millimetres():
    published = case("units-runout-thousandths")
    thousandths = np.array(published["given"]["in"]) * 1000
    tolerance = published["tolerance"]["mm"]
    assert units.convert(thousandths, "mil", "mm") == pytest.approx(published["expect"]["mm"], abs=tolerance)


def test_a_quarter_ounce_is_the_published_7_grams_and_a_bit():
    published = case("units-quarter-ounce")
    assert units.convert(published["given"]["oz"], "oz", "g") == pytest.approx(
        published["expect"]["g"], abs=published["tolerance"]["g"]
    )


def test_tread_depth_of_two_thirty_seconds_is_the_published_millimetres():
    published = case("tread-depth-light")["expect"]
    in_mm = units.convert(published["minimum_tread_32nds"], "in/32", "mm")
    assert in_mm == pytest.approx(published["minimum_tread_mm_exact"], abs=1e-9)
    assert units.convert(published["minimum_tread_in"], "in", "mm") == pytest.approx(in_mm)


@pytest.mark.parametrize(
    ("degrees", "clock"), [(0, 12), (90, 3), (180, 6), (345, 11.5), (360, 12), (-30, 11)]
)
def test_the_valve_stands_at_twelve_on_the_clock(degrees, clock):
    assert units.convert(degrees, "deg", "clock") == clock


@pytest.mark.parametrize(("clock", "degrees"), [(12, 0), (3, 90), (0.5, 15), (12.5, 15), (6, 180)])
def test_the_clock_reads_back_as_degrees(clock, degrees):
    assert units.convert(clock, "clock", "deg") == degrees


def test_a_unit_of_its_own_kind_leaves_the_value_alone():
    assert units.convert(370.25, "deg", "deg") == 370.25
    assert units.convert(0.1, "F", "F") == 0.1


@given(st.floats(-1e6, 1e6), st.sampled_from(LINEAR_PAIRS))
def test_there_and_back_is_where_it_was(value, pair):
    source, target = pair
    back = units.convert(units.convert(value, source, target), target, source)
    assert back == pytest.approx(value, rel=1e-12)


def test_an_array_is_converted_number_by_number():
    assert units.convert([[0, 100], [20, -40]], "C", "F").tolist() == [[32, 212], [68, -40]]
    assert units.convert([0, 90], "deg", "clock").tolist() == [12, 3]


def test_unlike_kinds_are_refused_with_the_units_that_would_do():
    with pytest.raises(errors.UnsolvableError, match="g, kg, oz, lb") as caught:
        units.convert(1, "oz", "lbf")
    assert caught.value.field == "to_unit"


@pytest.mark.parametrize(
    ("source", "target", "field"), [("stone", "kg", "from_unit"), ("kg", "Kg", "to_unit")]
)
def test_an_unknown_unit_is_refused_by_name(source, target, field):
    with pytest.raises(errors.UnreadableError) as caught:
        units.convert(1, source, target)
    assert caught.value.field == field


def test_a_value_that_is_not_finite_is_refused():
    with pytest.raises(errors.NotFiniteError):
        units.convert(np.inf, "g", "kg")
