"""Tables as CSV text (RFC 4180) that a spreadsheet opens without running anything."""

import math
import re
from collections.abc import Iterable, Sequence
from datetime import datetime

from app.exports.errors import ExportError

Cell = str | int | float | datetime | None
"""A datetime is local and has no zone: the column's head says whose time it is."""

BYTE_ORDER_MARK = "\ufeff"
_EXACT_WHOLE_NUMBERS = 2**53  # beyond it the whole digits of a float say more than the float knows
# A spreadsheet takes text that begins so for a formula; some skip unseen characters before it. After the page
# "CSV Injection" of OWASP (from memory), which also has the full-width signs.
_FORMULA = re.compile(r"[\s\x00-\x1f\u200b-\u200f\u2060\ufeff]*[=+\-@＝＋－＠]|[\t\r\n]")


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[Cell]], *, byte_order_mark: bool = False) -> str:
    """The table as RFC 4180 text with CRLF line ends: texts in quotes, numbers bare, None an empty field.

    A text that a spreadsheet would run as a formula gets a leading apostrophe; numbers, also negative ones,
    stay numbers; a time is written like 2030-03-04 09:05. `byte_order_mark` tells spreadsheets that the text
    is UTF-8. Raises ExportError for a row that is not as long as the heads, and for a number that is not
    finite.
    """
    lines = [_line("heads", heads)]
    for number, row in enumerate(rows):
        if len(row) != len(heads):
            raise ExportError(
                f"rows[{number}]", f"has {len(row)} cells; give {len(heads)}, one for each head"
            )
        lines.append(_line(f"rows[{number}]", row))
    return (BYTE_ORDER_MARK if byte_order_mark else "") + "".join(lines)


def _line(field: str, cells: Sequence[Cell]) -> str:
    return ",".join(_written(f"{field}[{place}]", cell) for place, cell in enumerate(cells)) + "\r\n"


def _written(field: str, cell: Cell) -> str:
    match cell:
        case None:
            return ""
        case str():
            return '"' + _guarded(cell).replace('"', '""') + '"'
        case datetime():
            return f"{cell:%Y-%m-%d %H:%M}"
        case _:
            return number_text(field, cell)


def _guarded(text: str) -> str:
    """The text, after an apostrophe if a spreadsheet would take it for a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def number_text(field: str, number: float) -> str:
    """The shortest digits that read back as the same number: 0.1, not 0.1000000000000000055; 5, not 5.0.
    Raises ExportError for one that is not finite."""
    if not math.isfinite(number):
        raise ExportError(field, "is not a finite number; leave the cell empty instead")
    if isinstance(number, int) or (float(number).is_integer() and abs(number) < _EXACT_WHOLE_NUMBERS):
        return str(int(number))
    return repr(float(number))  # float() first: a numpy number would write its type's name
