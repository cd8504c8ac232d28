"""Pairing tires and wheels against scipy's solvers and against trying every pairing."""

from itertools import permutations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

from app.compute import errors, pairing

random = np.random.default_rng(215)


def drawn(n):
    return random.uniform(0, 120, n), random.uniform(0, 120, n)


def left(tires, wheels):
    return pairing.left_after_matching(tires, wheels[pairing.pair(tires, wheels)])


@pytest.mark.parametrize("n", [2, 3, 10, 57, 200])
def test_the_total_left_is_the_least_that_scipys_assignment_solver_finds(n):
    for _ in range(5):
        tires, wheels = drawn(n)
        costs = np.abs(np.subtract.outer(tires, wheels))
        assert left(tires, wheels).sum() == pytest.approx(costs[linear_sum_assignment(costs)].sum())


@pytest.mark.parametrize("n", [2, 10, 57, 200])
def test_no_pairing_has_a_smaller_worst_pair_by_scipys_bipartite_matching(n):
    tires, wheels = drawn(n)
    costs = np.abs(np.subtract.outer(tires, wheels))
    worst = left(tires, wheels).max()
    better_pairs = csr_matrix(costs < worst * (1 - 1e-12))
    assert (maximum_bipartite_matching(better_pairs, perm_type="column") == -1).any()


@pytest.mark.parametrize("n", [2, 3, 5, 6])
def test_among_the_pairings_with_the_least_worst_pair_none_leaves_less_in_total(n):
    for _ in range(5):
        tires, wheels = drawn(n)
        every = [np.abs(tires - wheels[list(order)]) for order in permutations(range(n))]
        worst, total = min((round(each.max(), 9), each.sum()) for each in every)
        assert left(tires, wheels).max() == pytest.approx(worst)
        assert left(tires, wheels).sum() == pytest.approx(total)


def test_every_wheel_is_used_once_and_the_answer_is_in_the_tires_order():
    tires, wheels = np.array([30.0, 10.0, 20.0]), np.array([12.0, 22.0, 32.0])
    assert pairing.pair(tires, wheels).tolist() == [2, 0, 1]
    assert left(tires, wheels).tolist() == [2, 2, 2]


def test_a_batch_of_shops_gives_what_single_shops_give():
    tires, wheels = random.uniform(0, 50, (2, 3, 8)), random.uniform(0, 50, (2, 3, 8))
    together = pairing.pair(tires, wheels)
    assert together.shape == (2, 3, 8)
    assert together[1, 2].tolist() == pairing.pair(tires[1, 2], wheels[1, 2]).tolist()


def test_equal_tires_take_equal_wheels_in_the_order_in_which_they_are_given():
    """So that a large shop's answer is the same on every machine."""
    tires, wheels = [30.0, 10.0] * 50, [12.0, 32.0] * 50
    expected = [place + 1 if place % 2 == 0 else place - 1 for place in range(100)]
    assert pairing.pair(tires, wheels).tolist() == expected


def test_unlike_numbers_of_tires_and_wheels_are_refused():
    with pytest.raises(errors.WrongCountError) as caught:
        pairing.pair([1.0, 2.0], [1.0, 2.0, 3.0])
    assert str(caught.value) == "wheel_n: Give as many wheels as tires."


@pytest.mark.parametrize(("field", "forces"), [("tire_n", ([-1.0], [1.0])), ("wheel_n", ([1.0], [-1.0]))])
def test_a_negative_force_is_refused_by_name(field, forces):
    with pytest.raises(errors.OutOfRangeError) as caught:
        pairing.pair(*forces)
    assert caught.value.field == field
