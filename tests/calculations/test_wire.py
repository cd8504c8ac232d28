"""Vectors on the wire."""

import math

import pytest
from pydantic import ValidationError

from app.calculations import registry, wire


def test_a_vector_becomes_a_phasor_and_comes_back():
    vector = wire.Vector(size=5, angle_deg=90)
    assert vector.phasor() == pytest.approx(5j)
    assert wire.vector_answer(vector.phasor()) == {"size": 5.0, "angle_deg": 90.0}


def test_a_phasor_without_direction_has_a_null_angle():
    assert wire.vector_answer(0j) == {"size": 0.0, "angle_deg": None}
    assert wire.vector_answer(1e-12 + 0j, 1.0) == {"size": 1e-12, "angle_deg": None}
    assert wire.vector_answer(1e-12 + 0j, 1.0, "mass_g") == {"mass_g": 1e-12, "angle_deg": None}
    assert wire.angle_or_null(math.nan) is None


def test_a_vector_of_no_size_needs_no_direction_but_any_other_does():
    assert wire.Vector(size=0, angle_deg=None).phasor() == 0
    with pytest.raises(ValidationError):
        wire.Vector(size=1, angle_deg=None)


def test_a_size_without_a_direction_is_refused_at_the_angle():
    some = {"size": 1, "angle_deg": 0}
    given = {"first": [some, {"size": 2, "angle_deg": None}], "second": [some, some]}
    assert registry.answer("reindex", given) == {
        "error": {
            "field": "first[1].angle_deg",
            "message": "Give the angle in degrees; only a vector of size 0 goes without.",
        }
    }


def test_a_bad_size_is_reported_rather_than_the_angle_that_goes_with_it():
    some = {"size": 1, "angle_deg": 0}
    given = {"first": [some, {"size": "2", "angle_deg": None}], "second": [some, some]}
    assert registry.answer("reindex", given)["error"]["field"] == "first[1].size"
