"""Real weights: brute force over every choice of pieces, and splitting by substituting back."""

from fractions import Fraction
from itertools import combinations_with_replacement

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import errors, stock
from app.compute.phasors import phasor

GRAM_BOX = [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0]
OUNCE_BOX = [quarter * 28.349523125 / 4 for quarter in (1, 2, 3, 4, 5, 6, 8, 10, 12)]

boxes = st.lists(st.integers(1, 60), min_size=1, max_size=6, unique=True)


def by_brute_force(target, sizes, max_pieces):
    """The rule of the wheel model, word for word, in exact fractions."""

    def key(pieces):
        return (abs(sum(pieces) - target), len(pieces), -sum(pieces), [-piece for piece in pieces])

    descending = sorted(sizes, reverse=True)
    choices = [c for n in range(max_pieces + 1) for c in combinations_with_replacement(descending, n)]
    return min(choices, key=key)


@given(st.integers(0, 800), boxes, st.integers(1, 4))
def test_the_pieces_are_those_that_trying_every_choice_finds(target_halves, box, max_pieces):
    """In tenths of a gram as decimals, where sums of floats are not exact, against exact fractions."""
    exact = by_brute_force(Fraction(target_halves, 20), [Fraction(size, 10) for size in box], max_pieces)
    found = stock.weights_from_stock(target_halves / 20, [size / 10 for size in box], max_pieces)
    assert found == tuple(float(piece) for piece in exact)


@given(st.floats(0, 300), st.lists(st.floats(1, 60), min_size=1, max_size=6, unique=True), st.integers(1, 4))
def test_no_choice_comes_nearer_for_arbitrary_sizes(target, box, max_pieces):
    found = stock.weights_from_stock(target, box, max_pieces)
    best = by_brute_force(target, box, max_pieces)
    assert abs(sum(found) - target) == pytest.approx(abs(sum(best) - target), abs=1e-6)
    assert len(found) <= max_pieces


@pytest.mark.parametrize(
    ("target", "box", "pieces"),
    [
        (20, [5, 10, 15], (15, 5)),  # the larger pieces first: not two tens
        (12.5, [5, 10, 15], (15,)),  # equally near: the larger sum
        (2.5, [5], ()),  # equally near: the fewest pieces, here none
        (2.6, [5], (5,)),
        (0, [5], ()),
        (1000, [5, 10], (10, 10, 10, 10, 10, 10)),
        (30, [10, 30], (30,)),  # the fewest pieces
    ],
)
def test_ties_are_settled_as_the_model_says(target, box, pieces):
    assert stock.weights_from_stock(target, box, 6) == pieces


@pytest.mark.parametrize("box", [GRAM_BOX, OUNCE_BOX])
def test_many_targets_at_once_get_the_sums_of_the_same_pieces(box):
    targets = np.random.default_rng(7).uniform(0, 400, (20, 10))
    sums = stock.nearest_stock_sum(targets, box, 5)
    assert sums.shape == targets.shape
    alone = [[sum(stock.weights_from_stock(each, box, 5)) for each in row] for row in targets]
    assert sums == pytest.approx(np.array(alone))
    assert np.ndim(stock.nearest_stock_sum(33.0, box, 5)) == 0


def test_sizes_that_lie_close_together_are_still_put_together_again():
    box = [10.0 + step * 4e-9 for step in range(8)]
    pieces = stock.weights_from_stock(60.0, box, 6)
    assert len(pieces) == 6
    assert sum(pieces) == pytest.approx(60.0, abs=1e-6)


@pytest.mark.parametrize(
    ("target", "box", "max_pieces", "field"),
    [
        (-1.0, [5.0], 3, "target_g"),
        (np.nan, [5.0], 3, "target_g"),
        (10.0, [], 3, "stock_g"),
        (10.0, [5.0, 0.0], 3, "stock_g"),
        (10.0, [5.0, 5.0], 3, "stock_g"),
        (10.0, [5.0], 0, "max_pieces"),
        (10.0, [5.0], 7, "max_pieces"),
        (10.0, list(np.random.default_rng(1).uniform(1, 60, 60)), 6, "stock_g"),
    ],
)
def test_a_box_that_can_not_be_is_refused_by_name(target, box, max_pieces, field):
    with pytest.raises(errors.ComputeError) as caught:
        stock.weights_from_stock(target, box, max_pieces)
    assert caught.value.field == field


@given(st.floats(0, 200), st.floats(0, 360), st.floats(1, 178), st.floats(0, 1))
def test_two_weights_behind_spokes_act_as_the_one_they_replace(mass, first_deg, opening_deg, share):
    at_deg = [first_deg, first_deg + opening_deg]
    angle_deg = first_deg + share * opening_deg
    masses = stock.split_weight(mass, angle_deg, at_deg)
    assert (masses >= 0).all()
    together = phasor(masses, at_deg).sum()
    assert complex(together) == pytest.approx(complex(phasor(mass, angle_deg)), abs=1e-6)


def test_a_weight_at_a_spoke_never_asks_for_less_than_nothing_at_the_other():
    """Half of these angles would leave a tiny negative mass by rounding."""
    at_a_spoke = np.arange(360) + 0.1
    spokes = np.stack([at_a_spoke, at_a_spoke + 70.3], axis=-1)
    assert (stock.split_weight(30.0, at_a_spoke + 720, spokes) >= 0).all()
    assert (stock.split_weight(30.0, spokes[:, 1] - 720, spokes) >= 0).all()


def test_a_weight_at_a_spoke_goes_there_alone_and_one_in_the_middle_is_halved_by_the_cosine():
    assert stock.split_weight(30, 50, [50, 120]) == pytest.approx([30, 0])
    assert stock.split_weight(30, 0, [-60, 60]) == pytest.approx([30, 30])
    assert stock.split_weight([30, 10], [0, 0], [[-60, 60], [300, 60]]) == pytest.approx(
        np.array([[30, 30], [10, 10]])
    )


@pytest.mark.parametrize("at_deg", [[40, 40], [40, 220], [40, 40 + 5e-7], [0, 90], [100, 200]])
def test_a_weight_that_does_not_lie_between_is_refused_in_those_words(at_deg):
    with pytest.raises(errors.UnsolvableError, match="does not lie between") as caught:
        stock.split_weight(20, 350 if at_deg == [0, 90] else 40, at_deg)
    assert caught.value.field == "at_deg"
