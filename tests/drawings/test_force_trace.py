"""A force over one turn: places by proportion."""

import math

import pytest

from app.drawings.dial_readings import Harmonic
from app.drawings.errors import DrawingError
from app.drawings.force_trace import LEFT, LIMIT_X, RIGHT, TOTAL_X, Limit, force_trace
from app.drawings.labels import texts
from app.drawings.shapes import Polyline

ANGLES = [0, 90, 180, 270]


def _draw(readings=(10, 30, 10, 0), angles=ANGLES, **more):
    return force_trace(angles, readings, unit="N", total_text="total 30 N", **more)


def _trace(drawing, pen="computed"):
    return next(s.points for s in drawing.shapes if isinstance(s, Polyline) and s.pen == pen)


def _length(drawing, x):
    heads = [s.points[1] for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "dimension-head"]
    heights = [y for at, y in heads if at == x]
    return max(heights) - min(heights)


def test_readings_stand_over_their_angles_and_the_turn_is_closed():
    trace = _trace(_draw())
    assert [at[0] for at in trace] == pytest.approx(
        [LEFT + (RIGHT - LEFT) * share for share in (0, 0.25, 0.5, 0.75, 1)]
    )
    assert trace[0][1] == trace[-1][1]
    assert trace[1][1] < trace[0][1] < trace[3][1]


def test_angles_in_any_order_and_beyond_one_turn_are_sorted():
    assert _trace(_draw((30, 10, 0, 10), (450, -180, 270, 0))) == _trace(_draw())


def test_total_and_limit_are_dimensions_to_one_scale():
    drawing = _draw(limit=Limit(15, "limit 15 N"))
    assert _length(drawing, TOTAL_X) == pytest.approx(2 * _length(drawing, LIMIT_X))
    assert {"total 30 N", "limit 15 N"} <= set(texts(drawing.shapes))


def test_a_limit_above_the_total_stays_on_the_sheet():
    drawing = _draw(limit=Limit(300, "limit 300 N"))
    assert all(y > 0 for s in drawing.shapes if isinstance(s, Polyline) for _, y in s.points)


def test_the_harmonic_is_highest_at_its_high_spot():
    wave = _trace(_draw(harmonic=Harmonic(12, 90, "first harmonic 24 N")), "own")
    assert min(wave, key=lambda at: at[1])[0] == pytest.approx(LEFT + (RIGHT - LEFT) / 4)


def test_the_twin_has_total_limit_harmonic_and_every_reading():
    drawing = _draw(limit=Limit(15, "limit 15 N"), harmonic=Harmonic(12, 90, "first harmonic 24 N"))
    assert drawing.twin.rows[:3] == (
        ("total variation", "", "total 30 N"),
        ("limit", "", "limit 15 N"),
        ("high spot", "90°", "first harmonic 24 N"),
    )
    assert len(drawing.twin.rows) == 3 + len(ANGLES)


@pytest.mark.parametrize("readings", [(5, 5, 5, 5), (0, 0, 0, 0), (-1e-9, 0, 1e-9, 0), (-1e6, 0, 1e6, 3)])
def test_any_readings_can_be_drawn(readings, overlapping):
    drawing = _draw(readings, limit=Limit(0, "limit 0 N"))
    assert all(math.isfinite(y) for _, y in _trace(drawing))
    assert overlapping(drawing) == []


@pytest.mark.parametrize(
    ("readings", "angles", "more", "field"),
    [
        ((), (), {}, "readings must hold at least one"),
        ((1, 2), (0,), {}, "as many as angles_deg"),
        ((1, math.inf), (0, 1), {}, r"readings\[1\]"),
        ((1,), (0,), {"limit": Limit(-1, "")}, "limit.size"),
        ((1,), (0,), {"harmonic": Harmonic(math.nan, 0, "")}, "harmonic.amplitude"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_name(readings, angles, more, field):
    with pytest.raises(DrawingError, match=field):
        _draw(readings, angles, **more)
