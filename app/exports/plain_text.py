"""Text that people typed, made fit for a file: no file format takes every sign."""

import re
import unicodedata

_LINE_END = re.compile(r"\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
# Overrides of the reading direction: they could make 5 > 3 read 3 < 5. Isolates cannot, and stay.
_DIRECTION_OVERRIDES = re.compile("[\u202a-\u202e]")
_UNWRITABLE = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def writable(text: str) -> str:
    """The text with only newlines as line ends, and with control characters shown as replacement signs."""
    lines = _DIRECTION_OVERRIDES.sub("", _LINE_END.sub("\n", text))
    return _UNWRITABLE.sub("\ufffd", lines).replace("\t", "    ")


def reads_from_the_right(line: str) -> bool:
    """Whether the first letter of a line is of a script that runs from right to left."""
    directions = (unicodedata.bidirectional(sign) for sign in line)
    return next((each in ("R", "AL") for each in directions if each in ("L", "R", "AL")), False)
