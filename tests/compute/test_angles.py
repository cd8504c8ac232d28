"""Angles around the wheel. The convention is the project's own; the checks are its definition and laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import angles

any_angle = st.floats(-1e6, 1e6)


@pytest.mark.parametrize(
    ("angle", "wrapped"), [(0, 0), (359, 359), (360, 0), (-1, 359), (725, 5), (-360, 0), (-1e-20, 0)]
)
def test_an_angle_is_taken_into_one_full_turn(angle, wrapped):
    assert angles.wrap(angle) == wrapped


@pytest.mark.parametrize(
    ("turn", "wrapped"), [(0, 0), (180, 180), (-180, 180), (181, -179), (-179, -179), (540, 180)]
)
def test_a_turn_goes_the_short_way_and_half_a_turn_is_positive(turn, wrapped):
    assert angles.wrap_turn(turn) == wrapped


def test_359_degrees_is_2_degrees_away_from_1():
    assert angles.difference(1, 359) == 2
    assert angles.difference(359, 1) == -2
    assert angles.difference(270, 90) == 180


def test_the_opposite_of_the_valve_is_at_180():
    assert angles.opposite(0) == 180
    assert angles.opposite(200) == 20


@given(any_angle, any_angle)
def test_the_difference_leads_from_one_angle_to_the_other(a, b):
    turn = float(angles.difference(a, b))
    assert -180 < turn <= 180
    assert np.exp(1j * np.deg2rad(b + turn)) == pytest.approx(np.exp(1j * np.deg2rad(a)), abs=1e-6)


@given(any_angle)
def test_a_wrapped_angle_is_the_same_direction_and_in_range(angle):
    wrapped = float(angles.wrap(angle))
    assert 0 <= wrapped < 360
    assert np.exp(1j * np.deg2rad(wrapped)) == pytest.approx(np.exp(1j * np.deg2rad(angle)), abs=1e-6)


def test_an_array_gives_what_its_numbers_give():
    many = np.array([[-30.0, 0.0, 359.5], [360.0, 721.0, 180.0]])
    for function in (angles.wrap, angles.wrap_turn, angles.opposite):
        assert function(many).shape == many.shape
        assert function(many).tolist() == [[function(each) for each in row] for row in many]
    assert np.ndim(angles.wrap(5.0)) == 0
