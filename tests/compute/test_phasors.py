"""Phasors. The checks are the definition size * exp(i * angle) and Python's own cmath."""

import cmath
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import phasors


def test_the_real_axis_points_at_the_valve_and_angles_grow_clockwise():
    assert phasors.phasor(2, 0) == pytest.approx(2)
    assert phasors.phasor(2, 90) == pytest.approx(2j)


@given(st.floats(1e-6, 1e6), st.floats(0, 359.999))
def test_size_and_angle_come_back_from_a_phasor(size, angle):
    p = phasors.phasor(size, angle)
    assert complex(p) == pytest.approx(cmath.rect(size, math.radians(angle)), rel=1e-12)
    assert float(phasors.size(p)) == pytest.approx(size)
    assert cmath.rect(1, math.radians(phasors.angle_deg(p))) == pytest.approx(
        cmath.rect(1, math.radians(angle)), abs=1e-12
    )


def test_a_phasor_below_a_billionth_of_its_inputs_has_no_direction():
    assert math.isnan(phasors.angle_deg(0.9e-9j, 1.0))
    assert phasors.angle_deg(1.1e-9j, 1.0) == pytest.approx(90)


def test_without_a_scale_only_zero_has_no_direction():
    assert math.isnan(phasors.angle_deg(0))
    assert phasors.angle_deg(1e-300) == 0


def test_the_angle_of_a_tiny_negative_imaginary_part_stays_below_a_full_turn():
    assert phasors.angle_deg(complex(1, -1e-30)) == 0


def test_arrays_keep_their_shape_and_each_takes_its_own_scale():
    p = np.array([[1, 1e-12], [0, -2]])
    angle = phasors.angle_deg(p, np.array([[1.0, 1.0], [1.0, 1.0]]))
    assert angle.shape == (2, 2)
    assert np.isnan(angle).tolist() == [[False, True], [True, False]]
    assert angle[1, 1] == 180
