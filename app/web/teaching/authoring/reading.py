"""From a form, as it was sent, to the document: numbers as numbers, what is no number as it was typed."""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from werkzeug.datastructures import MultiDict

from app.domain.authored.entries import Document, at, with_entry
from app.domain.authored.shape import Field, Kind, Table
from app.domain.authored.starters import with_names
from app.domain.references import of_assembly
from app.domain.scenario import Scenario
from app.domain.texts import as_shown, normalised
from app.web.fields import NUMBER
from app.web.teaching.authoring import offers
from app.web.teaching.authoring.sections import Section, fields_on_sheets

Sent = MultiDict[str, str]

COUNT = "#"
"""Behind the path of a list, the name of what says how many entries the form holds of it."""
THERE = "?"
"""Behind the path of a table that may be left out, the name of what says that it is there."""
MOST_ENTRIES = 60
MOST_REFERENCES = 20
ON = "on"


def document_from(sent: Sent, section: Section, document: Document) -> Document:
    """The document with what a form says of one sheet's fields; all else stays as it is."""
    if section.base:
        table = _table(sent, section.base, section.fields, at(document, section.base))
        changed = with_entry(document, section.base, table)
    else:
        changed = _table(sent, "", section.fields, document)
    named: Document = with_names(changed, Scenario)
    return named


def _table(sent: Sent, path: str, fields: Sequence[Field], before: Any) -> Document:
    table = dict(before) if isinstance(before, dict) else {}
    for field in fields:
        name = f"{path}.{field.name}" if path else field.name
        value = _value(sent, name, field, table.get(field.name))
        if value is None or _goes_without_saying(value, field):
            table.pop(field.name, None)
        else:
            table[field.name] = value
    return table


def _goes_without_saying(value: Any, field: Field) -> bool:
    """Whether a field holds what it would hold if nothing were written: documents stay short, and follow a
    default that is mended later."""
    if field.required:
        return False
    return value == field.default or (field.kind is Kind.TABLE and not field.nullable and not value)


def _value(sent: Sent, name: str, field: Field, before: Any) -> Any:
    if field.kind is Kind.TABLE:
        return _one_table(sent, name, field, before)
    if field.kind is Kind.TABLES:
        return _tables(sent, name, field, before)
    if field.kind is Kind.WORDS_OR_TABLES and sent.get(name + COUNT):
        return _tables(sent, name, field, before) or None
    if field.kind is Kind.CHOICES or f"{field.owner}.{field.name}" in offers.DYNAMIC:
        return _ticked(sent, name, field, before)
    if field.kind is Kind.LINES:
        lines = [line for entry in sent.getlist(name) for line in _lines(entry)]
        return list(dict.fromkeys(lines))
    if field.kind is Kind.FIXED:
        return before
    return _PLAIN.get(field.kind, _line)(sent, name)


def _ticked(sent: Sent, name: str, field: Field, before: Any) -> Any:
    """What is ticked; what was ticked before stays in the order in which it was written."""
    if field.kind not in (Kind.CHOICES, Kind.LINES):
        return _line(sent, name)
    chosen = list(dict.fromkeys(each for entry in sent.getlist(name) for each in _lines(entry)))
    if field.kind is Kind.CHOICES:
        chosen = [option for option in field.options if option in chosen]
    earlier = [each for each in before if each in chosen] if isinstance(before, list) else []
    return [*earlier, *(each for each in chosen if each not in earlier)]


def _one_table(sent: Sent, name: str, field: Field, before: Any) -> Any:
    if field.nullable and name + THERE not in sent:
        return None
    return _table(sent, name, fields_on_sheets(field.table), before)


def _tables(sent: Sent, name: str, field: Field, before: Any) -> Any:
    count = sent.get(name + COUNT, "")
    if not re.fullmatch(r"[0-9]{1,2}", count):
        return before
    old = before if isinstance(before, list) else []
    entries = []
    for place in range(min(int(count), MOST_ENTRIES)):
        entry = old[place] if place < len(old) else {}
        table: Table = field.table_of(entry) or field.table
        entries.append(_table(sent, f"{name}.{place}", fields_on_sheets(table), entry))
    return entries


def _drawn(sent: Sent, name: str) -> Any:
    match sent.get(f"{name}.how"):
        case "range":
            low, high, step = (number(sent.get(f"{name}.{end}", "")) for end in ("low", "high", "step"))
            drawn = {"low": "" if low is None else low, "high": "" if high is None else high}
            return drawn if step is None else {**drawn, "step": step}
        case "list":
            return {"one_of": _numbers(sent.get(f"{name}.one_of", ""))}
        case _:
            return number(sent.get(name, ""))


def _references(sent: Sent, name: str) -> list[str]:
    """Of as many lists of quantities as the form holds; those where nothing is chosen are left out."""
    found = (_reference(sent, f"{name}.{place}") for place in range(MOST_REFERENCES))
    return [reference for reference in found if reference]


def _reference(sent: Sent, name: str) -> str | None:
    """The formula where one is typed, else the quantity that is chosen."""
    if formula := _line(sent, f"{name}.formula"):
        return formula
    what = " ".join(sent.get(f"{name}.what", "").split())
    if not what or what.startswith("car."):
        return what or None
    return of_assembly(sent.get(f"{name}.of", "*"), what)


def number(typed: str) -> float | str | None:
    """A finite number that was typed, or the text itself where it is none; None for nothing."""
    text = " ".join(as_shown(typed[:200]).split()).replace("\N{MINUS SIGN}", "-")
    if not text:
        return None
    value = float(text) if NUMBER.fullmatch(text) else math.nan
    return value if math.isfinite(value) else text


def _numbers(typed: str) -> list[float | str | None]:
    return [number(each) for each in re.split(r"[,;\s]+", typed) if each]


def _whole(sent: Sent, name: str) -> Any:
    value = number(sent.get(name, ""))
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _drawn_line(sent: Sent, name: str) -> Any:
    lines = _lines(sent.get(name, ""))
    return {"one_of": lines} if len(lines) > 1 else next(iter(lines), None)


def _line(sent: Sent, name: str) -> str | None:
    return " ".join(_text(sent.get(name, "")).split()) or None


def _amounts(typed: str) -> Iterator[tuple[str, Any]]:
    """Of lines such as `spin = 3`."""
    for line in _lines(typed):
        name, _, amount = line.partition("=")
        yield name.strip(), number(amount)


def _lines(typed: str) -> list[str]:
    return [line for line in (" ".join(each.split()) for each in _text(typed).split("\n")) if line]


def _text(typed: str) -> str:
    lines = normalised(as_shown(typed), "NFC").split("\n")
    return "\n".join(line.rstrip() for line in lines).strip("\n")


_PLAIN: dict[Kind, Callable[[Sent, str], Any]] = {
    Kind.DRAWN: _drawn,
    Kind.DRAWN_LINE: _drawn_line,
    Kind.REFERENCE: _reference,
    Kind.REFERENCES: _references,
    Kind.YES_NO: lambda sent, name: sent.get(name) == ON,
    Kind.NUMBER: lambda sent, name: number(sent.get(name, "")),
    Kind.WHOLE: _whole,
    Kind.NUMBERS: lambda sent, name: _numbers(sent.get(name, "")),
    Kind.AMOUNTS: lambda sent, name: dict(_amounts(sent.get(name, ""))),
    Kind.TEXT: lambda sent, name: _text(sent.get(name, "")) or None,
    Kind.WORDS_OR_TABLES: lambda sent, name: _text(sent.get(name, "")) or None,
}
"""How each kind of plain value is read; any other is a line."""
