"""Placing four assemblies: the rearrangement inequality and brute force."""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import errors, placement
from tests.published.cases import case

IDS = ("A", "B", "C", "D")
four_forces = st.lists(st.floats(0, 200), min_size=4, max_size=4)
EVERYWHERE = np.ones(24, dtype=bool)


def placed_ids(row):
    return tuple(IDS[index] for index in placement.ARRANGEMENTS[row])


def test_the_24_arrangements_are_all_different_and_can_not_be_changed():
    assert len({placed_ids(row) for row in range(24)}) == 24
    with pytest.raises(ValueError, match="read-only"):
        placement.ARRANGEMENTS[0, 0] = 3


def test_the_least_and_greatest_comfort_cost_are_the_published_ones():
    published = case("opt-rearrangement-four")
    values, weights = published["given"]["values"], published["given"]["position_weights"]
    costs = placement.comfort_costs(values, weights)
    expect, tolerance = published["expect"], published["tolerance"]["abs"]
    assert costs.shape == (expect["permutations"],)
    assert costs.min() == pytest.approx(expect["minimum"], abs=tolerance)
    assert costs.max() == pytest.approx(expect["maximum"], abs=tolerance)
    best = placement.ARRANGEMENTS[costs.argmin()]
    assert np.array(values)[best].tolist() == expect["argmin_in_position_order"]


@given(four_forces, four_forces)
def test_the_best_comfort_is_that_of_the_rearrangement_inequality(forces, weights):
    """Hardy, Littlewood, Polya: the sum of products is least when the two lists run against each other."""
    least = float(np.dot(sorted(forces), sorted(weights, reverse=True)))
    assert placement.comfort_costs(forces, weights).min() == pytest.approx(least, rel=1e-12, abs=1e-12)


@given(four_forces)
def test_costs_are_what_trying_every_order_by_hand_gives(forces):
    weights = placement.comfort_weights("right")
    conicity = [force - 100 for force in forces]
    comfort, tracking = placement.comfort_costs(forces, weights), placement.tracking_costs(conicity, 0.4)
    for row, order in enumerate(permutations(range(4))):
        by_hand = sum(weights[place] * forces[index] for place, index in enumerate(order))
        assert comfort[row] == pytest.approx(by_hand)
        left_front, right_front, left_rear, right_rear = (conicity[index] for index in order)
        by_hand = abs(right_front - left_front) + 0.4 * abs(right_rear - left_rear)
        assert tracking[row] == pytest.approx(by_hand)


def test_the_driver_feels_the_own_front_corner_most_on_either_side():
    left = dict(zip(placement.POSITIONS, placement.comfort_weights("left"), strict=True))
    right = dict(zip(placement.POSITIONS, placement.comfort_weights("right"), strict=True))
    assert left == {"LF": 1.00, "RF": 0.85, "LR": 0.65, "RR": 0.50}
    assert right == {"RF": 1.00, "LF": 0.85, "RR": 0.65, "LR": 0.50}


def test_mirroring_the_car_mirrors_the_best_arrangement():
    forces = [18.0, 12.0, 9.0, 4.0]
    left = placement.comfort_costs(forces, placement.comfort_weights("left")).argmin()
    right = placement.comfort_costs(forces, placement.comfort_weights("right")).argmin()
    front_left, front_right, rear_left, rear_right = placed_ids(left)
    assert placed_ids(right) == (front_right, front_left, rear_right, rear_left)


def test_equal_conicities_cancel_on_an_axle_and_a_shift_of_all_changes_nothing():
    assert placement.tracking_costs([7.0, 7.0, 7.0, 7.0]).tolist() == [0.0] * 24
    some = np.array([3.0, -8.0, 12.0, 1.0])
    assert placement.tracking_costs(some + 50) == pytest.approx(placement.tracking_costs(some))


def test_a_batch_of_cars_gives_what_single_cars_give():
    forces = np.arange(24.0).reshape(2, 3, 4)
    weights = placement.comfort_weights("left")
    comfort, tracking = placement.comfort_costs(forces, weights), placement.tracking_costs(forces)
    assert comfort.shape == tracking.shape == (2, 3, 24)
    assert comfort[1, 2] == pytest.approx(placement.comfort_costs(forces[1, 2], weights))
    assert tracking[1, 2] == pytest.approx(placement.tracking_costs(forces[1, 2]))


def test_only_arrangements_that_keep_every_limit_are_permitted():
    allowed = [["LF", "LR"], None, ["RF", "RR"], None]
    fits = placement.permitted(allowed)
    for row in range(24):
        places = dict(zip(placed_ids(row), placement.POSITIONS, strict=True))
        assert fits[row] == (places["A"] in ("LF", "LR") and places["C"] in ("RF", "RR"))
    assert fits.sum() == 2 * 2 * 2


def test_limits_that_leave_no_arrangement_are_refused():
    with pytest.raises(errors.UnsolvableError) as caught:
        placement.permitted([["LF"], ["LF"], None, None])
    assert str(caught.value) == (
        "allowed: No arrangement puts every assembly where it is allowed; allow more."
    )


def test_other_than_four_assemblies_are_refused():
    with pytest.raises(errors.WrongCountError) as caught:
        placement.permitted([None, None, None])
    assert str(caught.value) == "allowed: Give the allowed positions of four assemblies."


@pytest.mark.parametrize(
    ("field", "calculation", "arguments"),
    [
        ("r1h_n", placement.comfort_costs, ([18, -12, 9, 4], [1, 1, 1, 1])),
        ("weights", placement.comfort_costs, ([18, 12, 9, 4], [1, 1, -1, 1])),
        ("conicity_n", placement.tracking_costs, ([3, np.nan, 12, 1],)),
        ("rear_share", placement.tracking_costs, ([3, -8, 12, 1], -0.3)),
    ],
)
def test_costs_are_refused_where_a_number_can_not_be(field, calculation, arguments):
    with pytest.raises(errors.ComputeError) as caught:
        calculation(*arguments)
    assert caught.value.field == field


def test_equal_costs_stand_in_the_order_of_the_ids():
    rows, best = placement.ranking(np.zeros(24), EVERYWHERE, ("D", "C", "B", "A"))
    orders = [tuple("DCBA"[index] for index in placement.ARRANGEMENTS[row]) for row in rows]
    assert orders == sorted(orders)
    assert best == 24


def test_costs_that_differ_by_rounding_alone_are_equal():
    costs = np.linspace(1, 2, 24)
    costs[23] = costs[0] + 1e-12
    rows, best = placement.ranking(costs, EVERYWHERE, ("D", "C", "B", "A"))
    assert best == 2
    assert rows[:2] == (23, 0)  # (D, C, B, A) in reverse is A, B, C, D: the ids decide, not the last digit


def test_the_best_of_a_batch_are_the_least_and_those_that_rounding_parts_from_it():
    costs = np.array([[3.0, 0.1 + 0.2, 0.3, 1.0], [-5.0, -5.0 + 1e-8, 2.0, 100.0]])
    assert placement.is_best(costs).tolist() == [[False, True, True, False], [True, True, False, False]]
    assert placement.is_best(costs - 1e3)[1].tolist() == [True, True, False, False]
    assert placement.is_best(np.zeros(24)).all()


def test_what_counts_as_rounding_is_judged_by_each_car_of_a_batch_itself():
    light_car, heavy_car = [1.0, 1.0 + 5e-8, 2.0], [1e3, 1e3 + 5e-8, 2e3]
    assert placement.is_best([light_car, heavy_car]).tolist() == [[True, False, False], [True, True, False]]


def test_the_ranking_holds_the_permitted_arrangements_only_least_first():
    costs = placement.comfort_costs([18, 12, 9, 4], placement.comfort_weights("left"))
    fits = placement.permitted([["LF", "RF"], ["LF", "RF"], None, None])
    rows, best = placement.ranking(costs, fits, IDS)
    assert len(rows) == 4
    assert best == 1
    assert costs[list(rows)].tolist() == sorted(costs[fits])
