"""What differs between two documents of one scenario, field by field."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from app.domain.authored.entries import Document
from app.domain.authored.shape import Field, Kind, Table, fields_of
from app.domain.scenario import Scenario

_NAMED_BY = ("id", "name", "title", "kind", "order")
"""What tells the entries of a list apart, the first of these that its entries have."""


class How(StrEnum):
    CHANGED = "changed"
    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"


@dataclass(frozen=True)
class Difference:
    """path: in the later document; of what was removed, in the earlier one. before, after: plain data; of an
    entry that was moved, its places counted from 1."""

    path: str
    how: How
    before: Any = None
    after: Any = None


def differences(before: Document, after: Document) -> tuple[Difference, ...]:
    """In the order of the scenario's fields. What only spells out a default is no difference, nor are the
    scenario's own id and format."""
    return tuple(
        found for found in _of_tables(Scenario, before, after, "") if found.path not in ("id", "format")
    )


def _of_tables(table: Table, before: Document, after: Document, path: str) -> Iterator[Difference]:
    for field in fields_of(table):
        if field.kind is Kind.FIXED:
            continue
        at = f"{path}.{field.name}" if path else field.name
        yield from _of_field(field, _value(before, field), _value(after, field), at)


def _value(document: Document, field: Field) -> Any:
    value = document.get(field.name)
    value = field.default if value is None else value
    return value.strip() if isinstance(value, str) else value


def _of_field(field: Field, before: Any, after: Any, at: str) -> Iterator[Difference]:
    if before == after:
        return
    if field.tables and isinstance(before, dict) and isinstance(after, dict):
        table = field.table_of(after) or field.table
        yield from _of_tables(table, before, after, at)
    elif field.tables and isinstance(before, list) and isinstance(after, list):
        yield from _of_lists(field, before, after, at)
    elif before is None or after is None:
        yield Difference(at, How.ADDED if before is None else How.REMOVED, before, after)
    else:
        yield Difference(at, How.CHANGED, before, after)


def _of_lists(field: Field, before: list[Any], after: list[Any], at: str) -> Iterator[Difference]:
    """Entries are the same where their names are; without names of their own, where their places are."""
    old, new = _by_name(before, after)
    for name, place in new.items():
        if name not in old:
            yield Difference(f"{at}.{place}", How.ADDED, None, after[place])
            continue
        table = field.table_of(after[place])
        if field.table_of(before[old[name]]) is not table or table is None:
            yield Difference(f"{at}.{place}", How.CHANGED, before[old[name]], after[place])
        else:
            yield from _of_tables(table, before[old[name]], after[place], f"{at}.{place}")
    for name, place in old.items():
        if name not in new:
            yield Difference(f"{at}.{place}", How.REMOVED, before[place], None)
    yield from _moves(old, new, at)


def _moves(old: dict[Any, int], new: dict[Any, int], at: str) -> Iterator[Difference]:
    """Of the entries in both lists, those whose place among the others is another."""
    kept_before = [name for name in old if name in new]
    kept_after = [name for name in new if name in old]
    for name in kept_after:
        if kept_before.index(name) != kept_after.index(name):
            yield Difference(f"{at}.{new[name]}", How.MOVED, old[name] + 1, new[name] + 1)


def _by_name(before: list[Any], after: list[Any]) -> tuple[dict[Any, int], dict[Any, int]]:
    for key in _NAMED_BY:
        names = [[each.get(key) for each in entries if isinstance(each, dict)] for entries in (before, after)]
        if all(len(set(map(str, each))) == len(each) and None not in each for each in names):
            return tuple({name: place for place, name in enumerate(each)} for each in names)  # type: ignore[return-value]
    return tuple({place: place for place in range(len(each))} for each in (before, after))  # type: ignore[return-value]
