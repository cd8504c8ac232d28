"""Signs that can't be shown: one rule for every text that a person types.

A sign can't be shown when it is a control sign other than a line end and a tab, half of a surrogate pair, a
line or paragraph separator, a mark that turns the text around it (U+061C, U+200E to U+200F, U+202A to
U+202E, U+2066 to U+2069), a sign without any width (U+200B, U+2060, U+FEFF), or one of the 66 code points
that are no characters (U+FFFE and the like). The joiners U+200C and U+200D have no width either, but they
spell names and words of several scripts, and emoji: they stay.

A name, a title or another entry of a form is refused with the place of such a sign, so that two names which
look the same are the same. Free text that is saved while it is typed, an answer or a reflection sheet, is
kept without them: nothing that could be seen is lost, and no save is held up.
"""

import unicodedata
from collections.abc import Iterator
from typing import Literal

_CATEGORIES = {"Cc", "Cs", "Zl", "Zp"}
_TURNS_TEXT_AROUND = set("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_WITHOUT_WIDTH = set("\u200b\u2060\ufeff")

_MOST_MARKS = 30
_JOINER_OF_MARKS = "\u034f"


def can_be_shown(sign: str) -> bool:
    """Whether a page and paper can show this one character; line ends (as `\\n`) and tabs can be."""
    if sign in "\n\t":
        return True
    return not (
        unicodedata.category(sign) in _CATEGORIES
        or sign in _TURNS_TEXT_AROUND
        or sign in _WITHOUT_WIDTH
        or _is_no_character(ord(sign))
    )


def _is_no_character(code: int) -> bool:
    return code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF


def as_shown(text: str) -> str:
    """Free text with `\\n` as its line ends and without the signs that can't be shown."""
    if text.isprintable():
        return text  # nearly every answer, looked at in one go: printable is stricter than shown
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(sign for sign in lines if can_be_shown(sign))


def normalised(text: str, form: Literal["NFC", "NFKC", "NFKD"]) -> str:
    """The text in a normal form of Unicode, in a time that grows with its length and no faster.

    Sorting the marks over one letter takes the square of their number: a page of them would stop the server.
    So a longer run is parted by U+034F after every 30, which no writing reaches: Unicode Standard Annex #15,
    section 13, Stream-Safe Text Format.
    """
    return text if text.isascii() else unicodedata.normalize(form, "".join(_with_parted_marks(text)))


def _with_parted_marks(text: str) -> Iterator[str]:
    run = 0
    for sign in text:
        is_mark = sign != _JOINER_OF_MARKS and unicodedata.category(sign).startswith("M")
        run = run + 1 if is_mark else 0
        if run > _MOST_MARKS:
            yield _JOINER_OF_MARKS
            run = 1
        yield sign
