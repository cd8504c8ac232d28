"""Force and frequency on the road against published values; the orders by their definition."""

import numpy as np
import pytest

from app.compute import errors, vibration
from app.compute.units import convert
from tests.published.cases import case


def test_five_grams_at_521_turns_a_minute_make_the_published_force():
    published = case("force-centrifugal-5g-521rpm")
    setup = published["given"]
    radius_mm = setup["rim_diameter_m"] * 1000 / 2
    force = vibration.unbalance_force(setup["mass_g"], radius_mm, setup["speed_rpm"] / 60)
    assert force == pytest.approx(published["expect"]["force_N"], abs=published["tolerance"]["N"])


@pytest.mark.parametrize(
    ("case_id", "section_mm", "aspect"),
    [("freq-P225-50R16", 225, 0.50), ("freq-P235-60ZR16", 235, 0.60)],
)
def test_the_wheels_frequency_is_near_the_published_one_for_its_tire(case_id, section_mm, aspect):
    """The predicted value stands on the rule that a radial tire rolls 3.05 diameters a turn."""
    published = case(case_id)
    expect, tolerance = published["expect"], published["tolerance"]
    diameter_mm = 2 * section_mm * aspect + convert(16, "in", "mm")
    speed_kmh = convert(published["given"]["speed_mph"], "mph", "km/h")
    frequency = vibration.wheel_frequency(speed_kmh, 3.05 * diameter_mm)
    assert frequency == pytest.approx(expect["predicted_from_3.05_rule_Hz"], abs=0.005)
    assert frequency == pytest.approx(expect["first_order_Hz"], abs=tolerance["Hz_predicted_vs_published"])

    felt = vibration.vibration_orders(expect["second_order_Hz"], float(frequency), axle_ratio=3.42)
    assert (felt[0].source, felt[0].order) == ("wheel", 2)


def test_five_miles_an_hour_are_88_inches_a_second():
    assert vibration.wheel_frequency(convert(5, "mph", "km/h"), convert(88, "in", "mm")) == pytest.approx(1)


def test_force_grows_with_the_square_of_speed_and_takes_arrays():
    slow, fast = vibration.unbalance_force(10, 180, vibration.wheel_frequency([50, 100], 2000))
    assert fast == pytest.approx(4 * slow)


def test_orders_are_listed_nearest_first_with_their_distance_in_percent():
    felt = vibration.vibration_orders(22.0, 10.0, axle_ratio=3.0, engine_rpm=2400)
    assert felt[0] == vibration.OrderMatch("wheel", 2.0, pytest.approx(10.0))
    assert felt[1] == vibration.OrderMatch("engine", 0.5, pytest.approx(10.0))
    assert [match.off_percent for match in felt] == sorted(match.off_percent for match in felt)
    assert len(felt) == 4 + 2 + 3


def test_equal_orders_stand_wheel_driveline_engine_then_the_lower_order():
    """A ratio of 2 and an engine at four times the wheel's turns make several the same, but for rounding."""
    wheel_hz = float(vibration.wheel_frequency(97.3, 2011.7))
    felt = vibration.vibration_orders(2 * wheel_hz, wheel_hz, axle_ratio=2.0, engine_rpm=240 * wheel_hz)
    assert [(match.source, match.order) for match in felt] == [
        ("wheel", 2.0),
        ("driveline", 1.0),
        ("engine", 0.5),
        ("wheel", 3.0),
        ("wheel", 4.0),
        ("driveline", 2.0),
        ("engine", 1.0),
        ("engine", 2.0),
        ("wheel", 1.0),
    ]


def test_sources_that_are_not_given_are_left_out():
    assert {match.source for match in vibration.vibration_orders(10.0, 10.0)} == {"wheel"}


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"frequency_hz": 0.0}, "frequency_hz"),
        ({"wheel_hz": -1.0}, "wheel_hz"),
        ({"axle_ratio": 0.0}, "axle_ratio"),
        ({"engine_rpm": np.inf}, "engine_rpm"),
    ],
)
def test_a_frequency_that_is_not_above_zero_is_refused(changed, field):
    with pytest.raises(errors.ComputeError) as caught:
        vibration.vibration_orders(**({"frequency_hz": 10.0, "wheel_hz": 10.0} | changed))
    assert caught.value.field == field
