"""A half section: planes at their true place. Positions by proportion from the centre plane."""

import math

import pytest

from app.drawings.errors import DrawingError
from app.drawings.hatching import cut_below, hatch
from app.drawings.labels import texts
from app.drawings.section_view import AXLE_Y, MIDDLE_X, Lump, Plane, section_view
from app.drawings.shapes import Line, Polyline

INBOARD = Plane("inboard", -90, 203, "z −90 mm", "r 203 mm")
OUTBOARD = Plane("outboard", 45, 203, "z 45 mm", "r 203 mm")


def _tips(drawing, pen):
    return [s.points[1] for s in drawing.shapes if isinstance(s, Polyline) and s.pen == f"{pen}-head"]


def test_planes_stand_left_and_right_in_proportion_to_their_distance():
    inboard, outboard = _tips(section_view([INBOARD, OUTBOARD]), "computed")
    assert inboard[0] < MIDDLE_X < outboard[0]
    assert MIDDLE_X - inboard[0] == pytest.approx(2 * (outboard[0] - MIDDLE_X))
    assert inboard[1] == outboard[1] < AXLE_Y


def test_a_greater_radius_stands_higher():
    low = Plane("low", 45, 170, "z 45 mm", "r 170 mm")
    first, second = _tips(section_view([INBOARD, low]), "computed")
    assert first[1] < second[1] < AXLE_Y


def test_entered_planes_are_dashed_and_dimensioned_too():
    drawing = section_view([INBOARD, OUTBOARD], entered=[Plane("typed", -70, 203, "z −70 mm", "r 203 mm")])
    assert len(_tips(drawing, "own")) == 1
    assert {"z −90 mm", "z 45 mm", "z −70 mm"} <= set(texts(drawing.shapes))
    assert drawing.twin.rows[2] == ("C", "typed", "plane as entered", "z −70 mm, r 203 mm")


def test_the_twin_has_every_plane_and_lump():
    drawing = section_view([INBOARD, OUTBOARD], [Lump("heavy-spot", -60, 310, "heavy spot 30 g", "tread")])
    assert drawing.twin.rows[-1] == ("C", "heavy spot 30 g", "heavy spot", "tread")
    assert len(drawing.twin.rows) == 3


@pytest.mark.parametrize("z_mm", [-2.0, 0.0, 12.0, -89.0])
def test_texts_of_close_planes_do_not_lie_on_one_another(z_mm, overlapping):
    near = Plane("near", z_mm, 190, f"z {z_mm} mm", "r 190 mm")
    lumps = [Lump("heavy-spot", -90 + i, 300, f"lump {i}") for i in range(4)]
    assert overlapping(section_view([INBOARD, near], lumps, entered=[OUTBOARD])) == []


@pytest.mark.parametrize(
    ("z_mm", "radius_mm"),
    [(-400, 203), (400, 1), (0, 5000), (1e-6, 1e-6)],
    ids=["wide", "low", "high", "tiny"],
)
def test_planes_anywhere_stay_on_the_sheet(z_mm, radius_mm):
    drawing = section_view([INBOARD, Plane("odd", z_mm, radius_mm, "z", "r")])
    for x, y in _tips(drawing, "computed"):
        assert 0 <= x <= drawing.width
        assert 0 <= y <= AXLE_Y


def test_a_section_without_planes_can_be_drawn():
    assert section_view([]).twin.rows == ()


@pytest.mark.parametrize(
    ("plane", "field"),
    [
        (Plane("x", math.nan, 200, "", ""), r"planes\[0\].z_mm must be a finite number"),
        (Plane("x", 0, -3, "", ""), r"planes\[0\].radius_mm must be above 0"),
    ],
)
def test_bad_planes_are_refused_by_name(plane, field):
    with pytest.raises(DrawingError, match=field):
        section_view([plane])


def test_more_than_four_planes_are_refused():
    with pytest.raises(DrawingError, match="planes may hold 4 planes at most"):
        section_view([INBOARD] * 5)


def test_hatching_of_a_square_lies_inside_it_at_45_degrees():
    lines = hatch([(0, 0), (60, 0), (60, 60), (0, 60)], spacing=6)
    assert len(lines) == 20
    for line in lines:
        assert isinstance(line, Line)
        assert all(-1e-9 <= value <= 60 + 1e-9 for value in (line.x1, line.y1, line.x2, line.y2))
        assert line.x1 + line.y1 == pytest.approx(line.x2 + line.y2)


def test_hatching_leaves_the_gap_of_a_concave_section_open():
    u_shape = [(0, 0), (10, 0), (10, 30), (20, 30), (20, 0), (30, 0), (30, 40), (0, 40)]
    for line in hatch(u_shape, spacing=3):
        x, y = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
        assert not (10 < x < 20 and y < 30)


def test_a_section_cut_short_ends_at_the_cut():
    assert cut_below([(0, 0), (10, 0), (10, 10), (0, 10)], 4) == [(0, 0), (10, 0), (10, 4), (0, 4)]
    assert cut_below([(0, 0), (10, 0), (10, 10)], 20) == [(0, 0), (10, 0), (10, 10)]
    assert cut_below([(0, 5), (10, 5), (10, 10)], 1) == []
