"""Reads a pasted class list: one student a line, as typed or as it comes out of a spreadsheet."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from app.domain.texts import normalised
from app.services.names import LONGEST_NAME
from app.web.fields import fault_in_text


class ColumnOrder(StrEnum):
    """How the two parts of a line with a comma or a tab are meant."""

    LAST_FIRST = "last-first"
    FIRST_LAST = "first-last"


@dataclass(frozen=True)
class NameLine:
    """One line of the list: how it was read, and what is wrong with it, if anything."""

    number: int
    typed: str
    name: str
    """As on the card: `Sam Okafor`."""
    entry: str
    """As the service takes it: `Okafor, Sam` where the line tells the two apart."""
    fault: str | None


def read_names(text: str, order: ColumnOrder, already: Mapping[str, str] | None = None) -> list[NameLine]:
    """The lines of `text` that are not empty, in order.

    `already`: what to say of a name that can't be added, such as {"Bo Diaz": "is in this class already"}.
    A name that comes twice is a fault too: two cards with one name would be mixed up.
    """
    seen = {_same(name): remark for name, remark in (already or {}).items()}
    lines = []
    for number, typed in enumerate(text.split("\n"), start=1):
        if not typed.strip():
            continue
        line = _read(number, typed, order)
        remark = seen.get(_same(line.name))
        if remark and line.fault is None:
            fault = f"{line.name} {remark}. If they are two people, add a middle initial."
            line = replace(line, fault=fault)
        seen.setdefault(_same(line.name), f"stands on line {number} already")
        lines.append(line)
    return lines


def _read(number: int, typed: str, order: ColumnOrder) -> NameLine:
    cells = [" ".join(cell.replace('"', " ").split()) for cell in re.split(r"[\t,;]", typed)]
    cells = [cell for cell in cells if cell]
    first_last = cells[::-1] if order is ColumnOrder.LAST_FIRST else cells
    name = " ".join(first_last)
    entry = ", ".join(first_last[::-1])
    return NameLine(number, typed.strip(), name, entry, _fault(cells, name))


def _fault(cells: list[str], name: str) -> str | None:
    if len(cells) > 2:
        return f"This line has {len(cells)} columns. Keep only the columns with the names."
    if not cells or not all(any(sign.isalpha() for sign in cell) for cell in cells):
        return "A name needs letters. Take numbers and signs out."
    return fault_in_text(name, LONGEST_NAME)


def _same(name: str) -> str:
    return normalised(name, "NFKC").casefold()
