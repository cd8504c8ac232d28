"""The words of pass phrases."""

import math
import re

import pytest

from app.domain import pass_phrases
from app.domain.pass_phrases import WORDS, make_pass_phrase, normalised


def test_there_are_more_than_a_thousand_different_words_of_three_to_six_plain_letters():
    assert len(WORDS) >= 1000
    assert sorted(set(WORDS)) == WORDS
    assert all(re.fullmatch("[a-z]{3,6}", word) for word in WORDS)


def test_the_stated_bits_are_those_of_the_list():
    pattern = r"log2\(([\d,]+)\) = ([\d.]+) bits.*?have (\d+) bits.*?have (\d+)"
    stated = re.search(pattern, pass_phrases.__doc__, re.DOTALL)
    bits = math.log2(len(WORDS))
    assert int(stated[1].replace(",", "")) == len(WORDS)
    assert float(stated[2]) == round(bits, 1)
    assert [int(stated[3]), int(stated[4])] == [round(3 * bits), round(5 * bits)]


def test_a_phrase_is_made_of_words_of_the_list_and_is_never_the_same():
    phrases = {make_pass_phrase() for _ in range(500)}
    assert len(phrases) == 500
    assert all(len(phrase.split()) == 3 and set(phrase.split()) <= set(WORDS) for phrase in phrases)


def test_every_word_is_drawn_about_equally_often():
    """Chi-square of 50 draws a word against its 1 in 10 million quantile, by the normal approximation
    (Wilson and Hilferty 1931), from memory."""
    draws = [word for _ in range(len(WORDS) * 10) for word in make_pass_phrase(5).split()]
    counts = dict.fromkeys(WORDS, 0)
    for word in draws:
        counts[word] += 1
    chi_square = sum((count - 50) ** 2 / 50 for count in counts.values())
    freedom = len(WORDS) - 1
    limit = freedom * (1 - 2 / (9 * freedom) + 5.2 * math.sqrt(2 / (9 * freedom))) ** 3
    assert chi_square < limit


@pytest.mark.parametrize(
    "typed", ["Apple Tire Lamp", " apple  tire\tlamp ", "apple-tire-lamp", "apple–tire‑lamp"]
)
def test_case_spaces_and_hyphens_make_no_difference(typed):
    assert normalised(typed) == "apple tire lamp"


def test_other_signs_do_make_a_difference():
    assert normalised("apple_tire lamp") != normalised("apple tire lamp")
    assert normalised("appletirelamp") != normalised("apple tire lamp")
