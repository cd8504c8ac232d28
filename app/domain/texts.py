"""Signs that can't be shown: one rule for every text that a person types.

A sign can't be shown when it is a control sign other than a line end and a tab, half of a surrogate pair, a
line or paragraph separator, a mark that turns the text around it (U+061C, U+200E to U+200F, U+202A to
U+202E, U+2066 to U+2069), or a sign without any width (U+200B, U+2060, U+FEFF). The joiners U+200C and
U+200D have no width either, but they spell names and words of several scripts, and emoji: they stay.

A name, a title or another entry of a form is refused with the place of such a sign, so that two names which
look the same are the same. Free text that is saved while it is typed, an answer or a reflection sheet, is
kept without them: nothing that could be seen is lost, and no save is held up.
"""

import unicodedata

_CATEGORIES = {"Cc", "Cs", "Zl", "Zp"}
_TURNS_TEXT_AROUND = set("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_WITHOUT_WIDTH = set("\u200b\u2060\ufeff")


def can_be_shown(sign: str) -> bool:
    """Whether a page and paper can show this one character; line ends (as `\\n`) and tabs can be."""
    if sign in "\n\t":
        return True
    return not (
        unicodedata.category(sign) in _CATEGORIES or sign in _TURNS_TEXT_AROUND or sign in _WITHOUT_WIDTH
    )


def as_shown(text: str) -> str:
    """Free text with `\\n` as its line ends and without the signs that can't be shown."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(sign for sign in lines if can_be_shown(sign))
