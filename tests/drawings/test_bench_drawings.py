"""The drawings of the bench: handles stand where they are drawn, and wheels turn by the right angle."""

import itertools
import math

import pytest

from app.domain.bench.weights import spokes_deg
from app.drawings import bench_stations
from app.drawings.bench_handles import Around, Pick, Piece, Tap, Target, Worked
from app.drawings.bench_section import MIDDLE_X, PLACES, OnRim, section
from app.drawings.bench_wheel import bench_wheel
from app.drawings.errors import DrawingError
from app.drawings.shapes import Polyline
from app.drawings.spots import Spot
from app.drawings.vehicle_plan import Corner
from app.drawings.wheel_face import CENTRE


def around(worked: Worked) -> Around:
    [handle] = worked.handles
    assert isinstance(handle, Around)
    return handle


def clockwise_deg(at: tuple[float, float]) -> float:
    """The angle of a place about the wheel's centre, clockwise from the top of the page."""
    return math.degrees(math.atan2(at[0] - CENTRE[0], CENTRE[1] - at[1])) % 360


def valve_deg(worked: Worked) -> float:
    """Where the valve's stem is drawn: the only closed polyline of six corners."""
    [stem] = [
        shape for shape in worked.drawing.shapes if isinstance(shape, Polyline) and len(shape.points) == 6
    ]
    middle = (sum(x for x, _ in stem.points) / 6, sum(y for _, y in stem.points) / 6)
    return clockwise_deg(middle)


@pytest.mark.parametrize("at_deg", [0.0, 30.0, 135.0, 300.0])
def test_what_stands_under_the_dial_is_at_the_top_so_the_valve_lies_as_far_the_other_way(
    at_deg: float,
) -> None:
    worked = bench_stations.gauge(at_deg=at_deg, reading=None, place="tread")
    assert valve_deg(worked) == pytest.approx(-at_deg % 360, abs=1e-6)
    handle = around(worked)
    assert clockwise_deg(handle.place) == pytest.approx(-at_deg % 360, abs=1e-6)
    assert (handle.sign, handle.sends, handle.turns) == (-1, True, True)


def test_a_dial_is_laid_over_the_wheel_and_tells_its_reading_in_words() -> None:
    worked = bench_stations.gauge(at_deg=0, reading=(0.3, "0.30 mm"), place="tread")
    assert worked.over is not None
    assert "0.30 mm" in worked.over.description
    assert (worked.over.width, worked.over.height) == (worked.drawing.width, worked.drawing.height)


def test_without_an_indicator_there_is_nothing_to_turn() -> None:
    worked = bench_stations.gauge(at_deg=0, reading=None, place=None)
    assert (worked.handles, worked.over) == ((), None)


def test_a_tire_on_its_seats_gets_the_shoe_and_a_loose_one_is_turned() -> None:
    assert around(bench_stations.stand([], tire="seated")).do == "break-beads"
    for tire in ("loose", "off"):
        handle = around(bench_stations.stand([], tire=tire))
        assert (handle.do, handle.relative) == ("turn-tire", True)


def test_the_weight_to_fit_stands_at_its_angle() -> None:
    assert clockwise_deg(around(bench_stations.balancer([], [], weight_deg=225)).place) == pytest.approx(225)


def test_lugs_are_numbered_clockwise_from_the_top() -> None:
    worked = bench_stations.lugs(5)
    taps = [handle for handle in worked.handles if isinstance(handle, Tap)]
    assert [tap.adds for tap in taps] == ["1", "2", "3", "4", "5"]
    top = min(taps, key=lambda tap: tap.place[1])
    right = max(taps, key=lambda tap: tap.place[0])
    assert (top.adds, right.adds) == ("1", "2")


def test_the_order_of_the_lugs_is_told_in_words_too() -> None:
    assert bench_stations.lugs(4, (1, 3, 2, 4)).drawing.twin.rows == (
        ("1", "1"),
        ("2", "3"),
        ("3", "2"),
        ("4", "4"),
    )


@pytest.mark.parametrize(("count", "order"), [(2, ()), (11, ()), (5, (6,))])
def test_lugs_that_can_not_be_are_refused(count: int, order: tuple[int, ...]) -> None:
    with pytest.raises(DrawingError):
        bench_stations.lugs(count, order)


def test_each_corner_of_the_car_takes_an_assembly() -> None:
    worked = bench_stations.car([Corner("LF", "A")], driver_side="left")
    targets = [handle for handle in worked.handles if isinstance(handle, Target)]
    assert [target.fields["corner"] for target in targets] == ["LF", "RF", "LR", "RR"]
    left_front, right_rear = targets[0].place, targets[3].place
    assert left_front[0] < right_rear[0]
    assert left_front[1] < right_rear[1]


def test_handles_go_to_the_page_as_shares_of_the_drawing() -> None:
    worked = bench_stations.balancer([], [], weight_deg=90)
    [data] = worked.handles_as_data()
    assert data["kind"] == "around"
    assert data["x"] == pytest.approx((CENTRE[0] + around(worked).radius) / worked.drawing.width)
    assert data["y"] == pytest.approx(CENTRE[1] / worked.drawing.height)


def test_a_wheel_that_is_turned_takes_its_spots_along_and_tells_their_own_angles() -> None:
    spots = [Spot("light-spot", 90, "light-spot dot")]
    straight, turned = bench_wheel(spots, title="A"), bench_wheel(spots, title="A", turned_deg=90)
    assert straight.shapes != turned.shapes
    assert straight.twin.rows[1] == turned.twin.rows[1]


@pytest.mark.parametrize("wrong", [{"tire": "flat"}, {"turned_deg": math.nan}, {"chalk_deg": math.inf}])
def test_a_wheel_that_can_not_be_drawn_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(DrawingError):
        bench_wheel(title="A", **wrong)  # type: ignore[arg-type]


def test_a_piece_stands_at_each_corner_that_has_an_assembly() -> None:
    worked = bench_stations.car([Corner("LF", "A"), Corner("RR", "C")], driver_side="left")
    pieces = {piece.label: piece for piece in worked.handles if isinstance(piece, Piece)}
    assert {label: piece.fields["corner"] for label, piece in pieces.items()} == {"A": "LF", "C": "RR"}
    assert pieces["A"].place[0] < pieces["C"].place[0]
    assert pieces["A"].place[1] < pieces["C"].place[1]


def test_the_section_offers_a_place_for_each_kind_of_weight_in_each_plane() -> None:
    picks = [handle for handle in section([]).handles if isinstance(handle, Pick)]
    assert {(pick.fields["kind"], pick.fields["plane"]) for pick in picks} == set(PLACES)
    for pick in picks:
        assert (pick.place[0] < MIDDLE_X) == (pick.fields["plane"] == "inboard")
    apart = [math.dist(one.place, other.place) for one, other in itertools.combinations(picks, 2)]
    assert min(apart) > 44 * 400 / 340  # a finger's 44 px where the drawing is 340 px wide


def test_the_section_tells_in_words_which_weights_are_where() -> None:
    twin = section([OnRim("clip", "inboard", "20 g at 30°")], spokes=5).drawing.twin
    assert ("Clip on the inboard flange", "20 g at 30°") in twin.rows
    assert ("Adhesive inside, outboard", "none known") in twin.rows


def test_a_weight_of_no_known_place_is_refused() -> None:
    with pytest.raises(DrawingError, match="no weight is fitted as magnet inboard"):
        section([OnRim("magnet", "inboard", "20 g")])


def test_the_spokes_that_hide_a_weight_stand_as_they_are_drawn() -> None:
    # The valve is in a gap, so the first of five spokes stands half of 72 degrees after it.
    assert spokes_deg(5) == (36.0, 108.0, 180.0, 252.0, 324.0)
    bare, spoked = bench_wheel(title="A"), bench_wheel(title="A", spokes=5)
    assert len(spoked.shapes) == len(bare.shapes) + 2 * 5
