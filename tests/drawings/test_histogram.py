"""How often values occur: bars over a scale and sectors around the circle."""

import math

import pytest

from app.drawings.calculator_chart import BOTTOM, LEFT, RIGHT
from app.drawings.drawing import to_svg
from app.drawings.errors import DrawingError
from app.drawings.histogram import CENTRE, HUB, REACH, bars_of, histogram, rose
from app.drawings.shapes import Polyline


def bars_in(drawing):
    return [shape for shape in drawing.shapes if isinstance(shape, Polyline)]


def test_every_value_lies_in_one_bar_and_bars_have_one_round_width():
    values = [1.0, 1.1, 2.0, 2.9, 3.0, 9.99, 10.0]
    bars = bars_of(values, most=10)
    assert sum(bar.count for bar in bars) == len(values)
    assert {round(bar.high - bar.low, 9) for bar in bars} == {1.0}
    assert (bars[0].low, bars[-1].high) == (1.0, 10.0)


def test_a_value_on_an_edge_counts_to_the_bar_above_it_and_the_highest_to_the_last():
    assert [bar.count for bar in bars_of([0.0, 1.0, 2.0], most=2)] == [1, 2]


def test_equal_values_make_one_bar():
    assert [bar.count for bar in bars_of([5.0] * 4)] == [4]


def test_a_bar_is_as_high_as_its_count():
    drawing = histogram([0, 0, 1.5], name="mass, g", title="Masses")
    heights = sorted(BOTTOM - min(y for _, y in bar.points) for bar in bars_in(drawing))
    assert heights[-1] == pytest.approx(2 * heights[0])
    for bar in bars_in(drawing):
        assert all(LEFT <= x <= RIGHT for x, _ in bar.points)


def test_a_sector_points_where_its_angles_do_and_the_fullest_is_longest():
    drawing = rose([100.0, 100.0, 190.0], title="Angles")
    longest, shorter = sorted(
        bars_in(drawing), key=lambda bar: -max(math.dist(CENTRE, point) for point in bar.points)
    )
    assert max(math.dist(CENTRE, point) for point in longest.points) == pytest.approx(HUB + REACH)
    assert max(math.dist(CENTRE, point) for point in shorter.points) == pytest.approx(HUB + REACH / 2)
    middle = [sum(values) / len(values) for values in zip(*longest.points, strict=True)]
    bearing = math.degrees(math.atan2(middle[0] - CENTRE[0], CENTRE[1] - middle[1])) % 360
    assert 90 < bearing < 105


def test_angles_go_around_the_circle():
    assert rose([-10.0], title="a").twin.rows == rose([350.0], title="a").twin.rows


def test_the_table_says_what_the_bars_show():
    drawing = histogram([1.0, 2.0, 2.0], name="mass, g", title="Masses")
    assert drawing.twin.heads == ("Mass, g", "Variants")
    assert sum(int(count) for _, count in drawing.twin.rows) == 3
    assert to_svg(drawing).startswith("<svg")


@pytest.mark.parametrize("draw", [lambda: histogram([], name="a", title="b"), lambda: rose([], title="a")])
def test_nothing_can_not_be_drawn(draw):
    with pytest.raises(DrawingError):
        draw()


def test_what_is_no_number_can_not_be_drawn():
    with pytest.raises(DrawingError):
        histogram([math.nan], name="a", title="b")
    with pytest.raises(DrawingError):
        rose([math.inf], title="a")
