"""Readings around the circle: where they stand and how much they are enlarged. By plane geometry."""

import math

import pytest

from app.drawings.dial_readings import CENTRE, DEVIATION, MEAN_RADIUS, Harmonic, Series, dial_readings
from app.drawings.errors import DrawingError
from app.drawings.shapes import Polyline, Text


def _series(readings, **more):
    return Series("rim", tuple(readings), tuple(f"{reading} mm" for reading in readings), **more)


def _trace(drawing, pen="computed"):
    return next(s.points for s in drawing.shapes if isinstance(s, Polyline) and s.pen == pen)


def _radii(points):
    return [math.dist(at, CENTRE) for at in points]


def test_readings_run_clockwise_from_the_start_angle():
    trace = _trace(dial_readings([_series([1, 1, 1, 1], start_deg=90)], unit="mm"))
    assert trace[0] == pytest.approx((CENTRE[0] + MEAN_RADIUS, CENTRE[1]))
    assert trace[1] == pytest.approx((CENTRE[0], CENTRE[1] + MEAN_RADIUS))


def test_equal_readings_lie_on_the_mean_circle():
    assert _radii(_trace(dial_readings([_series([0.4] * 12)], unit="mm"))) == pytest.approx(
        [MEAN_RADIUS] * 12
    )


def test_the_greatest_deviation_uses_the_scale_and_half_of_it_stands_half_as_far_out():
    radii = _radii(_trace(dial_readings([_series([1.0, 0.5, -1.0, -0.5])], unit="mm")))
    assert radii == pytest.approx([MEAN_RADIUS + share * DEVIATION for share in (1, 0.5, -1, -0.5)])


def test_the_enlargement_is_stated_in_the_unit():
    drawing = dial_readings([_series([1.0, 0.5, -1.0, -0.5])], unit="mm")
    assert "one ring is 0.5 mm" in drawing.description


def test_two_series_differ_in_line_and_in_dots_and_share_the_scale():
    drawing = dial_readings([_series([1, -1, 1, -1]), _series([0.5, -0.5, 0.5, -0.5])], unit="mm")
    first, second = _radii(_trace(drawing)), _radii(_trace(drawing, "own"))
    assert first[0] - MEAN_RADIUS == pytest.approx(2 * (second[0] - MEAN_RADIUS))


def test_the_harmonic_is_highest_at_its_high_spot():
    harmonic = Harmonic(0.2, 120, "first harmonic")
    wave = _trace(dial_readings([_series([0.2, 0, 0, 0], harmonic=harmonic)], unit="mm"), "other")
    assert max(range(len(wave)), key=lambda i: _radii(wave)[i]) * 5 == 120


def test_the_twin_has_every_reading_as_it_was_written():
    drawing = dial_readings([_series([0.1, 0.2, 0.3], harmonic=Harmonic(0.1, 240, "h"))], unit="mm")
    assert drawing.twin.rows == (
        ("rim", "0°", "0.1 mm"),
        ("rim", "120°", "0.2 mm"),
        ("rim", "240°", "0.3 mm"),
        ("h", "240°", "high spot"),
    )


@pytest.mark.parametrize("count", [1, 2, 360])
def test_few_and_many_readings_can_be_drawn(count, overlapping):
    assert overlapping(dial_readings([_series([i % 7 for i in range(count)])], unit="mm")) == []


@pytest.mark.parametrize(
    ("series", "field"),
    [
        ([], "series must hold 1 to 3 series, not 0"),
        ([_series([])], r"series\[0\].readings must hold at least one"),
        ([Series("x", (1.0,), ())], r"series\[0\].texts"),
        ([_series([1, math.nan])], r"series\[0\].readings\[1\]"),
        ([_series([1], harmonic=Harmonic(-1, 0, ""))], r"series\[0\].harmonic.amplitude"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_name(series, field):
    with pytest.raises(DrawingError, match=field):
        dial_readings(series, unit="mm")


def test_a_series_keeps_its_own_tag_and_the_next_letter_is_for_its_harmonic():
    tagged = _series([1.0, 0.5, -1.0, -0.5], tag="B", harmonic=Harmonic(0.8, 20, "first harmonic"))
    lettered = [s.text for s in dial_readings([tagged], unit="mm").shapes if isinstance(s, Text)]
    assert {"B", "A"} <= set(lettered)
    assert lettered.index("B") < lettered.index("A")
