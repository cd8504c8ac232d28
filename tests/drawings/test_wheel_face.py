"""The face of a wheel: every spot where its angle says. Directions by plane geometry."""

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.drawings.errors import DrawingError
from app.drawings.labels import Box, texts
from app.drawings.markers import MARKERS, marker
from app.drawings.polar import point
from app.drawings.shapes import Circle, Polyline, Text
from app.drawings.spots import Spot, Vector
from app.drawings.wheel_face import CENTRE, TIRE, VECTOR_REACH, wheel_face


def _triangles(drawing):
    """The centres of the heavy spots in the picture; the last of each is the one in the parts list."""
    found = [s for s in drawing.shapes if isinstance(s, Polyline) and s.fill == "ink" and len(s.points) == 3]
    middles = [tuple(sum(axis) / 3 for axis in zip(*s.points, strict=True)) for s in found]
    return middles[: len(middles) // 2]


def _angle(at):
    return math.degrees(math.atan2(at[0] - CENTRE[0], CENTRE[1] - at[1])) % 360


@pytest.mark.parametrize(
    ("angle_deg", "x", "y"),
    [(0, 200, 100), (90, 300, 200), (180, 200, 300), (270, 100, 200), (-90, 100, 200)],
)
def test_angles_run_clockwise_from_the_top(angle_deg, x, y):
    assert point((200, 200), 100, angle_deg) == pytest.approx((x, y))
    drawing = wheel_face([Spot("heavy-spot", angle_deg, "spot", radius=100 / TIRE)])
    assert _triangles(drawing) == [pytest.approx((x, y))]


def test_marks_at_one_place_stand_apart_and_keep_their_angle():
    middles = _triangles(wheel_face([Spot("heavy-spot", 200, f"spot {i}") for i in range(4)]))
    assert [_angle(at) for at in middles] == pytest.approx([200] * 4)
    assert min(math.dist(a, b) for a, b in combinations(middles, 2)) > 14


def test_vectors_are_to_one_scale_and_the_longest_fills_the_rim():
    drawing = wheel_face(vectors=[Vector("long", 12, 90), Vector("short", 3, 180)])
    heads = [s.points[1] for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "computed-head"]
    assert heads[0] == pytest.approx((CENTRE[0] + VECTOR_REACH, CENTRE[1]))
    assert heads[1] == pytest.approx((CENTRE[0], CENTRE[1] + VECTOR_REACH / 4))


def test_a_vector_without_size_is_a_dot_without_direction():
    drawing = wheel_face(vectors=[Vector("nothing", 0, 33)])
    assert Circle(*CENTRE, 3, "computed", "computed") in drawing.shapes
    assert drawing.twin.rows == (("A", "nothing", "computed arrow", "no direction"),)


def test_the_twin_holds_every_mark_and_vector_under_the_letter_in_the_picture():
    drawing = wheel_face(
        [Spot("heavy-spot", 120, "spot"), Spot("weight", 725.26, "35 g")], [Vector("left 5 g", 5, 10, "own")]
    )
    assert drawing.twin.rows == (
        ("A", "spot", "heavy spot", "120°"),
        ("B", "35 g", "weight", "5.3°"),
        ("C", "left 5 g", "own arrow", "10°"),
    )
    shown = texts(drawing.shapes)
    # Once beside the spot and once in the parts list.
    assert [shown.count(letter) for letter in "ABC"] == [2, 2, 2]
    assert {"spot, 120°", "35 g, 5.3°", "left 5 g, 10°"} <= set(shown)


def test_a_given_tag_is_kept_and_no_letter_stands_twice():
    drawing = wheel_face([Spot("weight", 10, "first"), Spot("weight", 90, "second", tag="A")])
    assert [row[0] for row in drawing.twin.rows] == ["B", "A"]


def test_every_kind_of_mark_has_a_sign_of_its_own():
    assert len({(kind.corners, kind.fill, kind.turn_deg) for kind in MARKERS.values()}) == len(MARKERS)
    # and no two differ in ink alone
    outlines = [repr(marker(kind, (0, 0))).replace("computed", "ink") for kind in MARKERS]
    assert len(set(outlines)) == len(MARKERS)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(st.sampled_from(sorted(MARKERS)), st.floats(0, 360)), max_size=10))
def test_tags_of_crowded_marks_do_not_lie_on_one_another(places):
    drawing = wheel_face([Spot(kind, angle, "mark") for kind, angle in places])
    tags = [s for s in drawing.shapes if isinstance(s, Text) and s.size == "strong"][: len(places)]
    boxes = [Box(s.x - 10, s.y - 10, s.x + 10, s.y + 10) for s in tags]
    assert not [pair for pair in combinations(boxes, 2) if pair[0].overlaps(pair[1])]


def test_texts_of_a_crowded_wheel_do_not_lie_on_one_another(overlapping):
    assert overlapping(wheel_face([Spot("weight", i * 6, f"weight {i}") for i in range(14)])) == []
    assert overlapping(wheel_face([Spot("weight", 90, f"weight {i}") for i in range(8)])) == []


def test_a_bare_wheel_can_be_drawn():
    drawing = wheel_face(lugs=0, spokes=0, clock=False)
    assert drawing.twin.rows == ()
    assert "12" not in texts(drawing.shapes)


@pytest.mark.parametrize(
    ("spots", "vectors", "field"),
    [
        ([Spot("heavy-spot", math.nan, "x")], [], r"spots\[0\].angle_deg"),
        ([Spot("weight", 0, "x"), Spot("weight", 0, "x", radius=1.2)], [], r"spots\[1\].radius"),
        ([Spot("lead", 0, "x")], [], "kind must be one of heavy-spot"),
        ([], [Vector("x", -1, 0)], r"vectors\[0\].size"),
        ([], [Vector("x", 1, math.inf)], r"vectors\[0\].angle_deg"),
        ([], [Vector("x", 1, 0, "red")], r"vectors\[0\].style"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_name(spots, vectors, field):
    with pytest.raises(DrawingError, match=field):
        wheel_face(spots, vectors)


def test_more_than_twelve_lugs_are_refused():
    with pytest.raises(DrawingError, match="lugs must lie from 0 to 12"):
        wheel_face(lugs=13)
