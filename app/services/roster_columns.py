"""Which column of a class list holds what: matched by its head, for an instructor to change."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields

from app.services.delimited import Line, Table
from app.services.errors import Refused
from app.services.names import (
    LONGEST_NAME,
    LONGEST_SIGN_IN_NAME,
    SHORTEST_SIGN_IN_NAME,
    TypedName,
    as_sign_in_name,
    read_name,
    typed_name,
)
from app.services.roster_plan import RosterRow

LONGEST_NUMBER = 60

HEADS: Mapping[str, frozenset[str]] = {
    "name": frozenset({"name", "student", "studentname", "fullname", "displayname", "pupil"}),
    "given": frozenset({"first", "firstname", "given", "givenname", "givennames", "forename"}),
    "family": frozenset({"last", "lastname", "family", "familyname", "surname"}),
    "number": frozenset(
        {"studentnumber", "studentid", "studentno", "number", "id", "idnumber", "identifier"}
    ),
    "sign_in": frozenset({"signinname", "signin", "username", "login", "loginname"}),
}
"""By column: its usual heads, as letters only. From memory of school lists; no standard names them."""


@dataclass(frozen=True)
class Columns:
    """The place of each column, from 0; None where the list has none. has_heads: line 1 names them."""

    has_heads: bool
    name: int | None = None
    given: int | None = None
    family: int | None = None
    number: int | None = None
    sign_in: int | None = None


def matched(table: Table) -> Columns:
    """The columns as far as their heads say. A list without heads is taken for `Family, Given` or a name."""
    heads = [re.sub(r"[^a-z]", "", head.casefold()) for head in table.lines[0].cells]
    found = {
        role: next((place for place, head in enumerate(heads) if head in words), None)
        for role, words in HEADS.items()
    }
    if found["given"] is not None or found["family"] is not None:
        found["name"] = None
    if any(place is not None for place in found.values()):
        return Columns(True, **found)
    return Columns(False, name=0) if table.width == 1 else Columns(False, family=0, given=1)


def labels(table: Table) -> list[str]:
    """What to call each column: its letter as in a spreadsheet, and its head or first cell."""
    return [f"{letter(place)}: {cell[:30] or 'empty'}" for place, cell in enumerate(table.lines[0].cells)]


def letter(place: int) -> str:
    """A, B, ... Z, AA: a column as spreadsheets name it, for at most 702."""
    return chr(65 + place) if place < 26 else chr(64 + place // 26) + chr(65 + place % 26)


def rows_of(table: Table, columns: Columns) -> tuple[RosterRow, ...]:
    """The students of a list. Raises Refused when no column holds names or one column is chosen twice."""
    chosen = [
        place
        for each in fields(columns)
        if each.name != "has_heads" and (place := getattr(columns, each.name)) is not None
    ]
    if len(chosen) != len(set(chosen)):
        raise Refused("columns", "One column is chosen for two things. Choose another, or none.")
    if any(place >= table.width for place in chosen):
        raise Refused("columns", "The list has changed. Choose its columns again.")
    if columns.name is None and columns.given is None and columns.family is None:
        raise Refused("columns", "Choose the column that holds the names.")
    return tuple(_row(line, columns) for line in table.lines[1 if columns.has_heads else 0 :])


def _row(line: Line, columns: Columns) -> RosterRow:
    def cell(place: int | None) -> str:
        return "" if place is None else line.cells[place]

    if columns.name is not None:
        typed, name = cell(columns.name), read_name(cell(columns.name))
    else:
        parts = cell(columns.given), cell(columns.family)
        typed, name = " ".join(filter(None, parts)), typed_name(*parts)
    number, typed_sign_in = cell(columns.number), cell(columns.sign_in)
    sign_in_name = as_sign_in_name(typed_sign_in)
    return RosterRow(
        line=line.number,
        typed=typed,
        name=name,
        number=number,
        sign_in_name=sign_in_name,
        fault=line.fault or fault_in_name(name) or _fault_in_keys(number, typed_sign_in, sign_in_name),
    )


def fault_in_name(name: TypedName | None) -> str | None:
    if name is None:
        return "A name needs letters; this line has none where the name should be."
    if len(name.display_name) > LONGEST_NAME:
        return f"A name has at most {LONGEST_NAME} characters; this one has {len(name.display_name)}."
    return None


def _fault_in_keys(number: str, typed_sign_in: str, sign_in_name: str) -> str | None:
    if len(number) > LONGEST_NUMBER:
        return f"A student number has at most {LONGEST_NUMBER} signs; this one has {len(number)}."
    if typed_sign_in and not SHORTEST_SIGN_IN_NAME <= len(sign_in_name) <= LONGEST_SIGN_IN_NAME:
        return (
            f"A sign-in name has {SHORTEST_SIGN_IN_NAME} to {LONGEST_SIGN_IN_NAME} letters, digits or dots; "
            f"“{typed_sign_in[:LONGEST_SIGN_IN_NAME]}” has {len(sign_in_name)}."
        )
    return None
