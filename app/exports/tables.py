"""Tables as CSV text (RFC 4180) that a spreadsheet opens without running anything."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from app.exports.errors import ExportError

Cell = str | int | float | None

BYTE_ORDER_MARK = "\ufeff"
_EXACT_WHOLE_NUMBERS = 2**53  # beyond it the whole digits of a float say more than the float knows
# A spreadsheet takes text that begins so for a formula; some skip unseen characters before it. After the page
# "CSV Injection" of OWASP (from memory), which also has the full-width signs.
_FORMULA = re.compile(r"[\s\x00-\x1f\u200b-\u200f\u2060\ufeff]*[=+\-@＝＋－＠]|[\t\r\n]")


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[Cell]], *, byte_order_mark: bool = False) -> str:
    """The table as RFC 4180 text with CRLF line ends: texts in quotes, numbers bare, None an empty field.

    A text that a spreadsheet would run as a formula gets a leading apostrophe; numbers, also negative ones,
    stay numbers. `byte_order_mark` tells spreadsheets that the text is UTF-8. Raises ExportError for a row
    that is not as long as the heads, and for a number that is not finite.
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
            return '"' + guarded(cell).replace('"', '""') + '"'
        case _:
            return number_text(field, cell)


def guarded(text: str) -> str:
    """The text, after an apostrophe if a spreadsheet would take it for a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def number_text(field: str, number: float) -> str:
    """The shortest digits that read back as the same number: 0.1, not 0.1000000000000000055; 5, not 5.0."""
    if not math.isfinite(number):
        raise ExportError(field, "is not a finite number; leave the cell empty instead")
    if isinstance(number, int) or (float(number).is_integer() and abs(number) < _EXACT_WHOLE_NUMBERS):
        return str(int(number))
    return repr(float(number))  # float() first: a numpy number would write its type's name


class NoPoints(Enum):
    """Why a student has no points for an assignment; the value is what the cell shows."""

    NOT_HANDED_IN = None
    EXCUSED = "excused"


@dataclass(frozen=True)
class GradebookColumn:
    """One assignment."""

    title: str
    points_out_of: float


@dataclass(frozen=True)
class GradebookRow:
    """One student, with one entry for each column of the gradebook."""

    student_name: str
    sign_in_name: str
    points: tuple[float | NoPoints, ...]


@dataclass(frozen=True)
class Gradebook:
    """Points of a class by student and assignment."""

    columns: tuple[GradebookColumn, ...]
    rows: tuple[GradebookRow, ...]


def gradebook_csv(gradebook: Gradebook, *, byte_order_mark: bool = True) -> str:
    """One row a student: names, points by assignment, the total, and what that total is out of.

    What is not handed in counts as no points; what is excused counts neither in the total nor in what it is
    out of. Raises ExportError for a student with more or fewer entries than columns.
    """
    assignments = [
        f"{column.title} (out of {number_text(f'points out of, {column.title}', column.points_out_of)})"
        for column in gradebook.columns
    ]
    return csv_text(
        ["Student", "Sign-in name", *assignments, "Total", "Total out of"],
        [_gradebook_line(row, gradebook.columns) for row in gradebook.rows],
        byte_order_mark=byte_order_mark,
    )


def _gradebook_line(row: GradebookRow, columns: Sequence[GradebookColumn]) -> list[Cell]:
    field = f"points of {row.sign_in_name}"
    if len(row.points) != len(columns):
        raise ExportError(field, f"there are {len(row.points)}; give {len(columns)}, one for each assignment")
    shown = [points.value if isinstance(points, NoPoints) else points for points in row.points]
    earned = [points for points in row.points if not isinstance(points, NoPoints)]
    counted = [
        column.points_out_of
        for column, points in zip(columns, row.points, strict=True)
        if points is not NoPoints.EXCUSED
    ]
    return [row.student_name, row.sign_in_name, *shown, _total(field, earned), _total(field, counted)]


def _total(field: str, numbers: Iterable[float]) -> float:
    """The sum of the numbers as they are written, so that 0.1 and 0.2 make 0.3."""
    return float(sum(Decimal(number_text(field, number)) for number in numbers))
