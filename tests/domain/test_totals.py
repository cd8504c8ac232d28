"""Totals against sums worked by hand; the rules are common practice, no source."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.totals import Category, Earned, total

LABS, TESTS = Category("labs", "Labs", 60), Category("tests", "Tests", 40)


def earned(*rows: tuple[float, float, str | None]) -> list[Earned]:
    return [Earned(place, category, points, out_of) for place, (points, out_of, category) in enumerate(rows)]


def test_without_categories_points_are_summed():
    found = total(earned((8, 10, None), (15, 20, None), (0, 10, None)))
    assert (found.points, found.out_of) == (23, 40)
    assert found.share == pytest.approx(0.575)


def test_categories_are_weighed():
    """Labs 27 of 30 is 0.9, tests 10 of 20 is 0.5: 0.6 x 0.9 + 0.4 x 0.5 = 0.74."""
    found = total(earned((18, 20, "labs"), (9, 10, "labs"), (10, 20, "tests")), [LABS, TESTS])
    assert found.share == pytest.approx(0.74)
    assert [each.share for each in found.by_category] == pytest.approx([0.9, 0.5])


def test_a_category_that_holds_nothing_yet_weighs_nothing():
    found = total(earned((9, 10, "labs")), [LABS, TESTS])
    assert found.share == pytest.approx(0.9)
    assert [each.percent_of_total for each in found.by_category] == [100]


def test_the_lowest_share_is_dropped_and_not_the_fewest_points():
    """4 of 5 is more than 12 of 20: without the latter it is 12 of 15."""
    drops = Category("labs", "Labs", 1, drop_lowest=1)
    found = total(earned((4, 5, "labs"), (12, 20, "labs"), (8, 10, "labs")), [drops])
    assert found.dropped == {1}
    assert found.share == pytest.approx(12 / 15)


def test_of_equals_the_later_is_dropped_and_one_always_stays():
    drops = Category("labs", "Labs", 1, drop_lowest=3)
    found = total(earned((5, 10, "labs"), (5, 10, "labs")), [drops])
    assert found.dropped == {1}
    assert found.share == 0.5


def test_an_assignment_in_no_category_is_not_counted_beside_categories():
    found = total(earned((0, 10, None), (9, 10, "labs")), [LABS])
    assert found.share == pytest.approx(0.9)


def test_nothing_counted_is_no_total():
    assert total([]).share is None
    assert total([], [LABS]).share is None
    assert total(earned((0, 0, "labs")), [LABS]).share is None


@given(st.lists(st.tuples(st.floats(0, 10), st.sampled_from(["labs", "tests"])), min_size=1, max_size=12))
def test_of_equal_possible_points_it_is_numpys_weighted_average_of_means(rows):
    found = total(earned(*((points, 10, name) for points, name in rows)), [LABS, TESTS])
    held = [each for each in (LABS, TESTS) if any(name == each.id for _, name in rows)]
    means = [np.mean([points / 10 for points, name in rows if name == each.id]) for each in held]
    assert found.share == pytest.approx(np.average(means, weights=[each.weight for each in held]))
