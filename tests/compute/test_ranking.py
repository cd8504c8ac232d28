"""Places of numbers, equals sharing one. The rule is the project's own."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import rankdata

from app.compute.ranking import ranks


def test_numbers_that_differ_by_rounding_share_a_place():
    assert ranks([0.3, 0.1 + 0.2, 0.1, 7.0]).tolist() == [1, 1, 0, 2]


def test_equals_are_those_within_a_billionth_of_the_largest():
    assert ranks([1.0, 1.0 + 2e-9]).tolist() == [0, 1]
    assert ranks([1.0, 1.0 + 2e-9, 1000.0]).tolist() == [0, 0, 1]
    assert ranks([1e-3, 1e-3 + 2e-12]).tolist() == [0, 1]


def test_places_can_index_a_list_of_names():
    names = np.array(["best", "second", "third"])
    assert names[ranks([7.0, 1.0, 7.0, 3.0])].tolist() == ["third", "best", "third", "second"]


def test_nothing_has_no_places():
    assert ranks([]).size == 0


@given(st.lists(st.integers(-1000, 1000), min_size=1, max_size=40))
def test_distinct_numbers_take_the_places_that_scipy_gives(numbers):
    assert ranks(numbers).tolist() == (rankdata(numbers, method="dense") - 1).astype(int).tolist()
    assert np.min(ranks(numbers)) == 0
