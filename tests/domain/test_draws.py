"""Seeded numbers: the published generator, and the same numbers in every later release."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.draws import DRAWING_VERSION, Draw, mixed, seed_of
from app.domain.sheets import Between, OneOf, OneOfTexts

GOLDEN_GAMMA = 0x9E3779B97F4A7C15
WORD = 2**64


def words(*numbers: int) -> np.ndarray:
    return np.array(numbers, dtype=np.uint64)


def splitmix64(state: int) -> int:
    """The output for a state already stepped, in plain integers.

    Source: Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014, with the
    constants of Stafford's variant 13, as in the public-domain C code by Vigna.
    """
    state = ((state ^ (state >> 30)) * 0xBF58476D1CE4E5B9) % WORD
    state = ((state ^ (state >> 27)) * 0x94D049BB133111EB) % WORD
    return state ^ (state >> 31)


def test_the_first_number_of_state_zero_is_the_published_one() -> None:
    # The test vector that ships with implementations of SplitMix64: seed 0 begins with this word.
    assert int(mixed(words(GOLDEN_GAMMA))[0]) == 0xE220A8397B1DCDAF


@given(st.integers(0, WORD - 1))
def test_the_words_are_those_of_the_generator_in_plain_integers(state: int) -> None:
    assert int(mixed(words(state))[0]) == splitmix64(state)


@given(st.integers(0, WORD - 1), st.integers(0, 2000), st.text(max_size=30))
def test_a_uniform_number_follows_from_seed_try_and_place_alone(seed: int, attempt: int, place: str) -> None:
    state = splitmix64((splitmix64((seed + GOLDEN_GAMMA) % WORD) + attempt * GOLDEN_GAMMA) % WORD)
    expected = (splitmix64((state + seed_of(place)) % WORD) >> 11) / 2**53
    alone = Draw(np.uint64(seed), np.uint64(attempt)).uniform(place)
    among_others = Draw(words(1, seed, 2), words(0, attempt, 7)).uniform(place)
    assert float(alone) == float(among_others[1]) == expected
    assert 0 <= expected < 1


def test_this_release_draws_what_the_first_release_drew() -> None:
    """Own values, written down once: a release in which they differ must raise DRAWING_VERSION."""
    assert DRAWING_VERSION == 1
    assert seed_of("version", "assignment", "student") == 17497603261561340907
    draw = Draw(words(0, 1, 2**64 - 1), words(0, 0, 3))
    got = draw.number("assemblies.A.tire.tin.week", Between(low=1, high=52, step=1)).tolist()
    assert got == [36.0, 36.0, 41.0]
    assert draw.uniform("machine.width_error_mm").tolist() == [
        0.8049166605853332,
        0.6097583516209075,
        0.505618326873934,
    ]


def test_every_value_of_a_stepped_range_is_drawn_about_equally_often() -> None:
    seeds = np.arange(60_000, dtype=np.uint64)
    drawn = Draw(seeds, np.zeros_like(seeds)).number("x", Between(low=-3, high=12, step=3))
    values, counts = np.unique(drawn, return_counts=True)
    assert values.tolist() == [-3, 0, 3, 6, 9, 12]
    # Chi-squared of 5 degrees of freedom: above 20.5 once in a thousand.
    assert ((counts - 10_000) ** 2 / 10_000).sum() < 20.5


def test_a_range_whose_step_does_not_divide_it_stops_below_its_high_end() -> None:
    seeds = np.arange(1000, dtype=np.uint64)
    drawn = Draw(seeds, np.zeros_like(seeds)).number("x", Between(low=0, high=1, step=0.3))
    assert np.unique(drawn).tolist() == pytest.approx([0, 0.3, 0.6, 0.9])


def test_a_range_without_a_step_fills_it() -> None:
    seeds = np.arange(2000, dtype=np.uint64)
    drawn = Draw(seeds, np.zeros_like(seeds)).number("x", Between(low=5, high=7))
    assert 5 <= drawn.min() < 5.01
    assert 6.99 < drawn.max() < 7
    assert len(np.unique(drawn)) == 2000


def test_one_of_a_list_and_fixed_numbers() -> None:
    seeds = np.arange(300, dtype=np.uint64)
    draw = Draw(seeds, np.zeros_like(seeds))
    assert set(draw.number("x", OneOf(one_of=(4, 8, 15))).tolist()) == {4, 8, 15}
    assert set(draw.number("x", 2.5).tolist()) == {2.5}


def test_places_and_tries_draw_independently() -> None:
    seeds = np.arange(5000, dtype=np.uint64)
    first = Draw(seeds, np.zeros_like(seeds))
    again = Draw(seeds, np.ones_like(seeds))
    pairs = [(first.uniform("a"), first.uniform("b")), (first.uniform("a"), again.uniform("a"))]
    pairs.append((first.uniform("a")[:-1], first.uniform("a")[1:]))
    for one, other in pairs:
        assert abs(np.corrcoef(one, other)[0, 1]) < 0.05


def test_seeds_of_texts_differ_where_the_texts_are_cut_differently() -> None:
    assert seed_of("ab", "c") != seed_of("a", "bc")
    assert 0 <= seed_of("") < WORD


def test_one_of_a_list_of_texts_is_drawn_about_equally_often_and_a_fixed_one_always() -> None:
    draw = Draw(np.arange(6000, dtype=np.uint64), np.zeros(6000, dtype=np.uint64))
    texts, times = np.unique(
        draw.text("side", OneOfTexts(one_of=("left", "right", "none"))), return_counts=True
    )
    assert texts.tolist() == ["left", "none", "right"]
    # Standard deviation of a count of 6000 at a third is 36.5.
    assert np.abs(times - 2000).max() < 5 * 36.5
    assert (draw.text("side", "left") == "left").all()
