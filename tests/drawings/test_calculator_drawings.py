"""The calculators' drawings: places by plane geometry, refusals, texts that don't lie on one another."""

import math

import pytest

from app.drawings.calculator_chart import Field, axis
from app.drawings.calculator_curve import Level, Spot, curve
from app.drawings.calculator_harmonics import Wave, harmonics_over_readings
from app.drawings.calculator_orders import Order, order_distances
from app.drawings.calculator_pieces import pieces_laid_out
from app.drawings.calculator_sum import CENTRE, vector_sum
from app.drawings.calculator_tire_size import Size, tire_size
from app.drawings.drawing import to_svg
from app.drawings.errors import DrawingError
from app.drawings.labels import texts
from app.drawings.shapes import Circle, Line, Polyline
from app.drawings.spots import Vector

WAVES = [Wave(1, 0.6, 70.0, "0.60 mm"), Wave(2, 0.2, 20.0, "0.20 mm")]


def _readings(waves, count=12, mean=0.3):
    return [
        mean
        + sum(w.peak_to_peak / 2 * math.cos(math.radians(w.order * (30 * i - w.high_deg))) for w in waves)
        for i in range(count)
    ]


def _sum(turn_deg):
    return vector_sum(
        Vector("wheel 50 N", 50, 100, "other"),
        Vector("tire 80 N", 80, 40 + turn_deg, "own"),
        sum_label="together",
        unit="N",
        title="Sum",
    )


def _curve(**more):
    return curve(
        [(x, x * x) for x in range(11)],
        [Spot(5, 25, "25 N at 5 m/s"), Spot(9, 81, "81 N at 9 m/s", "low-spot")],
        x_name="speed, m/s",
        y_name="force, N",
        label="force",
        title="Force over speed",
        **more,
    )


DRAWINGS = {
    "sum": lambda: _sum(0),
    "curve": lambda: _curve(level=Level(60, "limit 60 N")),
    "harmonics": lambda: harmonics_over_readings(_readings(WAVES), WAVES, start_deg=0, unit="mm"),
    "orders": lambda: order_distances(
        [Order("wheel 1", 2, "2.0 %"), Order("engine 0.5", 40, "40.0 %"), Order("wheel 4", 900, "900.0 %")]
    ),
    "tire size": lambda: tire_size(
        overall=Size(647.5, "⌀ 647.5 mm"),
        rim=Size(381, "⌀ 381 mm"),
        height=Size(133.25, "133.25 mm"),
        width=Size(205, "205 mm"),
        title="Size",
    ),
    "narrow tire": lambda: tire_size(
        overall=Size(900, "⌀ 900.00 mm"),
        rim=Size(700, "⌀ 700.00 mm"),
        height=Size(100, "100.00 mm"),
        width=Size(105, "105.00 mm"),
        title="Size",
    ),
    "pieces": lambda: pieces_laid_out(
        Size(37, "37 g"), [Size(30, "30 g"), Size(5, "5 g")], total=Size(35, "35 g"), title="Pieces"
    ),
    "no pieces": lambda: pieces_laid_out(Size(0, "0 g"), [], total=Size(0, "0 g"), title="Pieces"),
}


@pytest.mark.parametrize("draw", DRAWINGS.values(), ids=DRAWINGS.keys())
def test_each_is_well_formed_and_has_its_words_as_a_table(draw, parse):
    drawing = draw()
    parse(to_svg(drawing))
    parse(to_svg(drawing, standalone=True))
    assert drawing.twin.rows
    assert {len(row) for row in drawing.twin.rows} == {len(drawing.twin.heads)}


@pytest.mark.parametrize("draw", DRAWINGS.values(), ids=DRAWINGS.keys())
def test_no_text_lies_on_another(draw, overlapping):
    assert overlapping(draw()) == []


@pytest.mark.parametrize("turn_deg", [0, 75, -120, 180])
def test_the_sum_ends_where_both_arrows_end(turn_deg):
    heads = {
        s.pen: s.points[1] for s in _sum(turn_deg).shapes if isinstance(s, Polyline) and "-head" in s.pen
    }
    assert heads["computed-head"] == pytest.approx(heads["own-head"])
    scale = math.dist(CENTRE, heads["other-head"]) / 50
    expected = abs(50 * _unit(100) + 80 * _unit(40 + turn_deg))
    assert math.dist(CENTRE, heads["computed-head"]) == pytest.approx(expected * scale)


def _unit(angle_deg):
    return complex(math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))


def test_turning_the_tire_keeps_the_scale():
    rings = [
        [s.r for s in _sum(turn).shapes if isinstance(s, Circle) and s.pen == "light"] for turn in (0, 180)
    ]
    assert rings[0] == rings[1] != []


def test_the_waves_together_run_through_the_readings():
    readings = _readings(WAVES)
    drawing = harmonics_over_readings(readings, WAVES, start_deg=0, unit="mm")
    (total,) = (s for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "computed")
    dots = [(s.x, s.y) for s in drawing.shapes if isinstance(s, Circle) and s.pen == "outline" and s.r < 4]
    on_the_line = {round(x, 3): y for x, y in total.points}
    assert len(dots) == len(readings)
    assert [on_the_line[round(x, 3)] for x, _ in dots] == pytest.approx([y for _, y in dots])


def test_readings_are_drawn_alone_where_no_harmonic_is_asked_for():
    drawing = harmonics_over_readings(_readings(WAVES), [], start_deg=0, unit="mm")
    assert not [s for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "computed"]


def test_a_curve_s_spots_stand_on_it():
    drawing = _curve()
    (line,) = (s for s in drawing.shapes if isinstance(s, Polyline) and s.pen == "computed")
    feet = [(s.x1, s.y1) for s in drawing.shapes if isinstance(s, Line) and s.pen == "light" and s.x1 == s.x2]
    assert [line.points[5], line.points[9]] == [pytest.approx(foot) for foot in feet]


def test_the_nearest_order_stands_first_and_the_far_one_at_the_edge():
    drawing = DRAWINGS["orders"]()
    assert [text for text in texts(drawing.shapes) if "wheel" in text or "engine" in text] == [
        "wheel 1",
        "engine 0.5",
        "wheel 4",
    ]
    assert max(s.x for s in drawing.shapes if isinstance(s, Circle)) < 330


def test_a_tire_is_drawn_to_scale():
    radii = sorted(
        s.r for s in DRAWINGS["tire size"]().shapes if isinstance(s, Circle) and s.pen == "outline"
    )
    assert radii[0] / radii[1] == pytest.approx(381 / 647.5)


def test_an_axis_holds_its_values_and_ends_on_figures():
    made = axis("x", [3, 47])
    assert (made.low, made.high) == (0, 60)
    assert made.ticks == [0, 20, 40, 60]
    x, y = Field(made, axis("y", [0])).at(30, 0)
    assert (x, y) == (220.0, 236.0)


@pytest.mark.parametrize(
    ("draw", "names"),
    [
        (lambda: axis("x", []), "values"),
        (lambda: axis("x", [math.nan]), "values"),
        (lambda: curve([(0, 0)], [], x_name="x", y_name="y", label="l", title="t"), "points"),
        (lambda: harmonics_over_readings([], [], start_deg=0, unit="mm"), "readings"),
        (lambda: harmonics_over_readings([math.inf], [], start_deg=0, unit="mm"), r"readings\[0\]"),
        (lambda: order_distances([]), "orders"),
        (lambda: order_distances([Order("a", -1, "")]), r"orders\[0\]"),
        (lambda: pieces_laid_out(Size(-1, ""), [], total=Size(0, ""), title=""), "target"),
        (
            lambda: tire_size(
                overall=Size(1, ""), rim=Size(0, ""), height=Size(1, ""), width=Size(1, ""), title=""
            ),
            "rim diameter",
        ),
    ],
)
def test_what_can_not_be_drawn_is_refused_by_name(draw, names):
    with pytest.raises(DrawingError, match=names):
        draw()
