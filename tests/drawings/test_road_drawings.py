"""Lateral forces on a tire, and the spectrum of a vibration."""

import math

import pytest

from app.drawings.errors import DrawingError
from app.drawings.lateral_arrows import MIDDLE_X, Push, lateral_arrows
from app.drawings.shapes import Line, Polyline, Text
from app.drawings.spectrum import BOTTOM, LEFT, spectrum


def arrows(pushes: list[Push]) -> list[tuple[float, float]]:
    """Tail and tip of each force's arrow, by x."""
    drawing = lateral_arrows(pushes)
    heads = [s for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "computed-head"]
    return [(MIDDLE_X, head.points[1][0]) for head in heads]


def test_a_force_toward_outboard_points_right_and_the_largest_sets_the_scale():
    (_, inboard), (_, outboard) = arrows([Push("clockwise", -40, "−40 N"), Push("other", 20, "20 N")])
    assert inboard < MIDDLE_X < outboard
    assert (MIDDLE_X - inboard) == pytest.approx(2 * (outboard - MIDDLE_X))


def test_tires_without_lateral_force_have_a_drawing_too():
    drawing = lateral_arrows([Push("clockwise", 0, "0 N"), Push("counterclockwise", 0, "0 N")])
    assert drawing.twin.rows == (("clockwise", "0 N"), ("counterclockwise", "0 N"))


@pytest.mark.parametrize(
    "pushes", [[], [Push("clockwise", math.nan, "?")], [Push("clockwise", math.inf, "?")]]
)
def test_no_force_and_one_that_is_no_number_are_refused(pushes):
    with pytest.raises(DrawingError, match="pushes"):
        lateral_arrows(pushes)


@pytest.mark.parametrize("peak_hz", [0.4, 7.5, 13.1, 49.9, 81.0, 600.0])
def test_the_peak_stands_over_its_frequency_and_the_scale_goes_well_past_it(peak_hz):
    drawing = spectrum(peak_hz, "the peak")
    (curve,) = [s for s in drawing.shapes if isinstance(s, Polyline)]
    x, y = min(curve.points, key=lambda point: point[1])
    figures = {float(s.text): s.x for s in drawing.shapes if isinstance(s, Text) and s.text.isdigit()}
    last = max(figures)
    assert last >= 1.5 * peak_hz
    assert x == pytest.approx(LEFT + (figures[last] - LEFT) * peak_hz / last)
    assert y < BOTTOM - 100
    grid = [s for s in drawing.shapes if isinstance(s, Line) and s.pen == "light"]
    assert 2 <= len(grid) <= 12


@pytest.mark.parametrize("peak_hz", [0, -3, math.nan])
def test_a_peak_that_is_no_frequency_is_refused(peak_hz):
    with pytest.raises(DrawingError, match="peak_hz"):
        spectrum(peak_hz, "?")
