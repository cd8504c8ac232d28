"""Which signs a page can show, against the Unicode Character Database as the standard library has it."""

import unicodedata
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.texts import as_shown, can_be_shown, normalised

# UAX #9, section 2: every directional formatting character.
DIRECTIONAL = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


@pytest.mark.parametrize("sign", [*DIRECTIONAL, *"\u200b\u2060\ufeff\u2028\u2029\ud800\x00\x1b\x7f\x85\r"])
def test_a_sign_that_nobody_sees_can_not_be_shown(sign: str) -> None:
    assert not can_be_shown(sign)


def test_every_directional_mark_that_unicode_knows_is_named_here() -> None:
    known = {
        chr(code)
        for code in range(0x110000)
        if unicodedata.bidirectional(chr(code))
        in {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    }
    assert known <= set(DIRECTIONAL)


@pytest.mark.parametrize("sign", [*"aZ0 é字\n\t°−\u00a0\u200c\u200d", "\U0001f6de"])
def test_what_can_be_read_can_be_shown(sign: str) -> None:
    assert can_be_shown(sign)


def test_the_66_code_points_that_are_no_characters_can_not_be_shown() -> None:
    # The Unicode Standard, section 23.7: the last two of each of the 17 planes, and U+FDD0 to U+FDEF.
    lasts = [plane * 0x10000 + last for plane in range(17) for last in (0xFFFE, 0xFFFF)]
    none = {*lasts, *range(0xFDD0, 0xFDF0)}
    unassigned = {code for code in range(0x110000) if unicodedata.category(chr(code)) == "Cn"}
    assert len(none) == 66
    assert {code for code in unassigned if not can_be_shown(chr(code))} == none


def test_free_text_keeps_what_can_be_seen_with_plain_line_ends() -> None:
    assert as_shown("a\x00b\r\nc\rd\u202ee\ufeff\tf") == "ab\nc\nde\tf"


def test_a_name_spelled_with_a_joiner_stays_whole() -> None:
    assert as_shown("علی\u200cرضا") == "علی\u200cرضا"


@given(st.text(max_size=30), st.sampled_from(["NFC", "NFKC", "NFKD"]))
def test_text_is_normalised_as_unicode_says(text: str, form) -> None:
    assert normalised(text, form) == unicodedata.normalize(form, text)


def test_thirty_marks_over_one_letter_are_sorted_and_a_longer_run_is_parted() -> None:
    # Unicode Standard Annex #15, section 13: at most 30 non-starters follow one another.
    marks = "\u0315\u0316" * 15
    assert normalised("a" + marks, "NFC") == unicodedata.normalize("NFC", "a" + marks)
    assert normalised("a" + marks + "\u0316", "NFC") == (
        unicodedata.normalize("NFC", "a" + marks) + "\u034f\u0316"
    )


@pytest.mark.parametrize("mark", ["\u0315\u0316", "\u0f73", "\u0344"])
def test_a_page_of_marks_over_one_letter_is_normalised_at_once(mark: str) -> None:
    began = process_time()
    normalised("a" + mark * 250_000, "NFKC")
    assert process_time() - began < 2  # sorted as one run these take minutes
