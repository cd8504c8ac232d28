"""Vectors to one scale. Directions and lengths by plane geometry."""

import math

import pytest

from app.drawings.errors import DrawingError
from app.drawings.labels import texts
from app.drawings.polar import nice_step
from app.drawings.shapes import Circle, Polyline
from app.drawings.spots import Vector
from app.drawings.vector_plot import CENTRE, vector_plot


def _tips(drawing, pen):
    return [s.points[1] for s in drawing.shapes if isinstance(s, Polyline) and s.pen == f"{pen}-head"]


def test_both_arrows_are_to_one_scale_and_differ_in_line_and_head():
    drawing = vector_plot([Vector("computed 40 g", 40, 90), Vector("own 10 g", 10, 180, "own")], unit="g")
    (long,), (short,) = _tips(drawing, "computed"), _tips(drawing, "own")
    assert long[1] == pytest.approx(CENTRE[1])
    assert short[0] == pytest.approx(CENTRE[0])
    assert long[0] - CENTRE[0] == pytest.approx(4 * (short[1] - CENTRE[1]))
    closed = {s.pen: s.closed for s in drawing.shapes if isinstance(s, Polyline)}
    assert closed["computed-head"]
    assert not closed["own-head"]


def test_rings_stand_at_the_sizes_they_are_lettered_with():
    drawing = vector_plot([Vector("computed 40 g", 40, 90)], unit="g")
    (tip,) = _tips(drawing, "computed")
    scale = (tip[0] - CENTRE[0]) / 40
    rings = sorted(s.r for s in drawing.shapes if isinstance(s, Circle) and s.pen == "light")
    assert rings == pytest.approx([10 * scale, 20 * scale, 30 * scale])
    assert {"10 g", "20 g", "30 g"} <= set(texts(drawing.shapes))


def test_no_direction_is_said_in_the_table():
    drawing = vector_plot([Vector("balanced", 0, None)], unit="g")
    assert drawing.twin.rows == (("A", "balanced", "computed", "no direction"),)


@pytest.mark.parametrize("second_deg", [285, 286, 300, 105])
@pytest.mark.parametrize("second_size", [35, 34, 3])
def test_letters_of_close_vectors_do_not_lie_on_one_another(second_deg, second_size, overlapping):
    vectors = [
        Vector("computed", 35, 285),
        Vector("own", second_size, second_deg, "own"),
        Vector("other", 1, 0, "other"),
    ]
    assert overlapping(vector_plot(vectors, unit="g")) == []


@pytest.mark.parametrize("size", [0.0, 1e-9, 3.3, 1e9])
def test_any_size_can_be_drawn(size):
    drawing = vector_plot([Vector("v", size, 45)], unit="g.mm")
    assert all(math.isfinite(x) and math.isfinite(y) for tip in _tips(drawing, "computed") for x, y in [tip])
    assert vector_plot([], unit="g").twin.rows == ()


def test_a_negative_size_is_refused():
    with pytest.raises(DrawingError, match=r"vectors\[0\].size must not be negative"):
        vector_plot([Vector("v", -1, 45)], unit="g")


@pytest.mark.parametrize(
    ("span", "step"), [(10, 5), (9, 5), (0.7, 0.5), (0.5, 0.2), (1, 0.5), (300, 100), (0, 1), (3, 1)]
)
def test_steps_are_one_two_or_five_times_a_power_of_ten(span, step):
    assert nice_step(span, 3) == pytest.approx(step)
