"""Reads a list that came out of a spreadsheet: its letters, its separator, its lines; knows no people.

A file is bounded before it is read, and what can't be read is told by line: nothing of a strange file is
guessed at.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO

from app.domain.texts import can_be_shown, normalised
from app.services.errors import Refused

MOST_BYTES = 300_000
MOST_LINES = 400
MOST_COLUMNS = 60
LONGEST_CELL = 200

SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab"}
"""The first of equals wins where nothing tells them apart."""

NOT_TEXT = (
    "This isn't a text file with one student a line. In a spreadsheet, choose Save as and then CSV, and send "
    "that file."
)


@dataclass(frozen=True)
class Line:
    """`number` counts as a text editor does; `fault` is why the line can't be taken, as a sentence."""

    number: int
    cells: tuple[str, ...]
    fault: str | None = None


@dataclass(frozen=True)
class Table:
    """All lines that aren't empty. `encoding` and `separator` are in words; every line has `width` cells."""

    encoding: str
    separator: str
    width: int
    lines: tuple[Line, ...]


def read_table(content: bytes, *, field: str = "file", most_lines: int = MOST_LINES) -> Table:
    """Raises Refused, naming the line where there is one."""
    if len(content) > MOST_BYTES:
        raise Refused(field, f"This file is too large: a class list has at most {MOST_BYTES // 1000} kB.")
    text, encoding = decoded(content, field)
    separator = _separator(text)
    rows = list(_rows(text, separator, field, most_lines))
    if not rows:
        raise Refused(field, "This file is empty. Send a list with one student a line.")
    width = len(rows[0][1])
    lines = tuple(_line(number, cells, width) for number, cells in rows)
    return Table(encoding, SEPARATORS[separator], width, lines)


def decoded(content: bytes, field: str) -> tuple[str, str]:
    """The text and the name of its encoding. Raises Refused."""
    for mark, codec, name in (
        (b"\xef\xbb\xbf", "utf-8-sig", "UTF-8"),
        (b"\xff\xfe", "utf-16", "UTF-16"),
        (b"\xfe\xff", "utf-16", "UTF-16"),
        (b"", "utf-8", "UTF-8"),
        (b"", "cp1252", "Windows-1252"),
    ):
        if not content.startswith(mark):
            continue
        try:
            text = content.decode(codec)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return text, name
    raise Refused(field, NOT_TEXT)


def fault_in_cell(text: str) -> str | None:
    """Why the text of one cell can't be taken, as a sentence; None for a good one."""
    if len(text) > LONGEST_CELL:
        return f"One cell holds {len(text)} characters; a name or a number has at most {LONGEST_CELL}."
    hidden = next((sign for sign in text if not can_be_shown(sign) or sign in "\n\t"), None)
    if hidden:
        return f"Take out the sign U+{ord(hidden):04X}, which no page can show."
    if text.startswith(("=", "+", "-", "@")):
        return f"“{text[:20]}” begins with {text[0]}, which a spreadsheet runs as a formula. Type it as text."
    return None


def _separator(text: str) -> str:
    """The sign that parts the first line that has any words, quoted words left out."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = "".join(first.split('"')[::2])
    return max(SEPARATORS, key=bare.count)


def _rows(text: str, separator: str, field: str, most_lines: int) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True)
    before, found = 0, 0
    try:
        for cells in reader:
            number, before = before + 1, reader.line_num
            if len(cells) > MOST_COLUMNS:
                raise Refused(
                    field, f"Line {number} has {len(cells)} columns. Keep only those with names and numbers."
                )
            if not any(cell.strip() for cell in cells):
                continue
            found += 1
            if found > most_lines:
                raise Refused(field, f"This file has more than {most_lines} lines. Send it in parts.")
            yield number, cells
    except csv.Error as error:
        raise Refused(
            field,
            f"Line {before + 1} can't be read. Quotes (\") must be closed, and doubled inside a quoted cell; "
            "a cell is short.",
        ) from error


def _line(number: int, cells: list[str], width: int) -> Line:
    tidy = [normalised(cell, "NFC").strip() for cell in cells]
    while len(tidy) > width and not tidy[-1]:
        tidy.pop()
    fault = None
    if len(tidy) > width:
        fault = f"This line has {len(tidy)} columns, the first line has {width}."
    fault = fault or next(filter(None, map(fault_in_cell, tidy)), None)
    return Line(number, tuple(tidy[:width] + [""] * (width - len(tidy))), fault)
