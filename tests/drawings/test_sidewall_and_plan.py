"""The tire's sidewall and the vehicle from above."""

import pytest

from app.drawings.errors import DrawingError
from app.drawings.labels import texts
from app.drawings.shapes import Arc, Circle, CurvedText, Text
from app.drawings.sidewall import CENTRE, Moulded, sidewall
from app.drawings.spots import Spot
from app.drawings.vehicle_plan import MIDDLE_X, Corner, vehicle_plan


def test_the_sidewall_reads_the_designation_over_the_top_and_the_number_below():
    drawing = sidewall("P205/65R15 92H", "DOT A1B2 C3D4 3719")
    places = {s.text: s.at_deg for s in drawing.shapes if isinstance(s, CurvedText)}
    assert places == {"P205/65R15 92H": 0, "DOT A1B2 C3D4 3719": 180}


@pytest.mark.parametrize(("rotation", "clockwise"), [("clockwise", True), ("counterclockwise", False)])
def test_the_rotation_arrow_runs_the_way_it_says(rotation, clockwise):
    drawing = sidewall("P205/65R15 92H", rotation=rotation)
    (arc,) = [s for s in drawing.shapes if isinstance(s, Arc)]
    assert (arc.to_deg > arc.from_deg) is clockwise
    assert ("rotation arrow", rotation, "right") in drawing.twin.rows


def test_words_too_long_for_the_tire_are_cut_in_the_drawing_and_whole_in_the_table():
    long = "P205/65R15 " * 30
    drawing = sidewall(long, words=[Moulded("B" * 200, 90)])
    shown = texts(drawing.shapes)
    assert shown[0].endswith("…")
    assert all(len(text) < 80 for text in shown)
    assert drawing.twin.rows[0] == ("designation", long, "top")


def test_marks_on_the_sidewall_are_in_the_table():
    drawing = sidewall("P205/65R15 92H", spots=[Spot("light-spot", 90, "painted dot")])
    assert drawing.twin.rows[-1] == ("light-spot dot", "painted dot", "90°")
    dot = next(s for s in drawing.shapes if isinstance(s, Circle) and s.fill == "ink")
    assert dot.y == pytest.approx(CENTRE[1])
    assert dot.x > CENTRE[0]


def test_an_unknown_rotation_is_refused():
    with pytest.raises(DrawingError, match="rotation must be"):
        sidewall("P205/65R15 92H", rotation="left")


CORNERS = [Corner("LF", "A", ("42 N",)), Corner("RF", "B"), Corner("LR", "C"), Corner("RR", "D", best="A")]


def test_assemblies_stand_at_their_corners_with_the_front_up():
    places = {
        s.text: (s.x, s.y) for s in vehicle_plan(CORNERS).shapes if isinstance(s, Text) and s.size == "large"
    }
    assert places["A"][0] == places["C"][0] < MIDDLE_X < places["B"][0] == places["D"][0]
    assert places["A"][1] == places["B"][1] < places["C"][1] == places["D"][1]


@pytest.mark.parametrize(("side", "sign"), [("left", -1), ("right", 1)])
def test_the_driver_sits_where_the_vehicle_says(side, sign):
    drawing = vehicle_plan(CORNERS, driver_side=side)
    driver = next(s for s in drawing.shapes if isinstance(s, Text) and s.text == "driver")
    assert (driver.x - MIDDLE_X) * sign > 0
    assert f"{side} front (driver)" in [row[0] for row in drawing.twin.rows]


def test_the_best_arrangement_has_a_column_only_where_it_is_shown():
    assert vehicle_plan(CORNERS).twin.rows[3] == ("right rear", "D", "–", "A")
    assert vehicle_plan(CORNERS[:2]).twin.heads == ("Corner", "Assembly", "Values")


def test_corners_that_are_not_given_are_empty():
    drawing = vehicle_plan([])
    assert [row[1] for row in drawing.twin.rows] == ["empty"] * 4
    assert texts(drawing.shapes).count("empty") == 4


def test_long_values_do_not_lie_on_one_another(overlapping):
    values = ("first harmonic of the radial force 42 N", "conicity −18 N toward outboard")
    corners = [Corner(corner.position, "A", values, best="B") for corner in CORNERS]
    assert overlapping(vehicle_plan(corners)) == []


@pytest.mark.parametrize(
    ("corners", "side"), [([Corner("XX")], "left"), ([Corner("LF"), Corner("LF")], "left"), ([], "middle")]
)
def test_a_plan_that_cannot_be_drawn_is_refused(corners, side):
    with pytest.raises(DrawingError):
        vehicle_plan(corners, driver_side=side)
