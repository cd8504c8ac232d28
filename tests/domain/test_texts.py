"""Which signs a page can show, against the Unicode Character Database as the standard library has it."""

import unicodedata

import pytest

from app.domain.texts import as_shown, can_be_shown

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


def test_free_text_keeps_what_can_be_seen_with_plain_line_ends() -> None:
    assert as_shown("a\x00b\r\nc\rd\u202ee\ufeff\tf") == "ab\nc\nde\tf"


def test_a_name_spelled_with_a_joiner_stays_whole() -> None:
    assert as_shown("علی\u200cرضا") == "علی\u200cرضا"
