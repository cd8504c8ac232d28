"""Which fields an authored table has and what each takes, read from the classes of the scenario themselves.

Forms, faults and the differences between versions stand on this, so a field that is added to the scenario's
classes is written in the browser too, without a second list of fields.
"""

import inspect
import types
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from app.domain.sheets import Between, OneOfTexts
from app.domain.tasks.sheets import Key

Table = type[BaseModel]


class Kind(StrEnum):
    """What a field takes."""

    LINE = "line"
    TEXT = "text"
    NAME = "name"
    REFERENCE = "reference"
    REFERENCES = "references"
    NUMBER = "number"
    WHOLE = "whole number"
    DRAWN = "drawn number"
    DRAWN_LINE = "drawn line"
    YES_NO = "yes or no"
    DAY = "day"
    CHOICE = "choice"
    FIXED = "fixed"
    CHOICES = "choices"
    NUMBERS = "numbers"
    LINES = "lines"
    AMOUNTS = "amounts by name"
    TABLE = "table"
    TABLES = "tables"
    WORDS_OR_TABLES = "words or tables"


@dataclass(frozen=True)
class Field:
    """One field of a table.

    options: what may be chosen. least, most: the bounds of a number, `above` where least itself is not
    allowed. longest: signs of a text, or entries of a list. tables: the classes of a table, or of a list's
    entries; several where entries are told apart by their `kind`. default: as plain data, None without one.
    """

    owner: str
    name: str
    kind: Kind
    required: bool
    nullable: bool
    options: tuple[str, ...] = ()
    least: float | None = None
    above: bool = False
    most: float | None = None
    longest: int | None = None
    tables: tuple[Table, ...] = ()
    default: Any = None

    @property
    def table(self) -> Table:
        return self.tables[0]

    def table_of(self, entry: Any) -> Table | None:
        """The class of an entry: the only one, or the one that its `kind` names."""
        if len(self.tables) == 1:
            return self.table
        name = entry.get("kind") if isinstance(entry, dict) else None
        return next((table for table in self.tables if kind_of(table) == name), None)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The `kind` of each class of entry, where there are several."""
        return tuple(kind_of(table) for table in self.tables) if len(self.tables) > 1 else ()


@cache
def fields_of(table: Table) -> tuple[Field, ...]:
    """The fields of an authored table, in the order in which they are declared."""
    return tuple(_field(table, name, info) for name, info in table.model_fields.items())


def field_named(table: Table, name: str) -> Field:
    """Raises KeyError."""
    found = next((field for field in fields_of(table) if field.name == name), None)
    if found is None:
        raise KeyError(name)
    return found


def kind_of(table: Table) -> str:
    """What the field `kind` says of every entry of this class."""
    return str(get_args(table.model_fields["kind"].annotation)[0])


def _field(table: Table, name: str, info: FieldInfo) -> Field:
    annotation, marks, nullable = _plain(info.annotation, list(info.metadata))
    kind, options, tables = _kind(annotation, marks)
    return Field(
        owner=_owner(table, name),
        name=name,
        kind=kind,
        required=info.is_required(),
        nullable=nullable,
        options=options,
        tables=tables,
        default=_default(info),
        **_bounds(marks),
    )


def _owner(table: Table, name: str) -> str:
    """The class that declares the field: words for it are found under that one's name."""
    return next(each.__name__ for each in reversed(table.__mro__) if name in inspect.get_annotations(each))


def _plain(annotation: Any, marks: list[Any]) -> tuple[Any, list[Any], bool]:
    """An annotation without its marks and without None."""
    nullable = False
    while True:
        if get_origin(annotation) is Annotated:
            annotation, *more = get_args(annotation)
            marks = [*marks, *more]
        elif _is_union(annotation) and type(None) in get_args(annotation):
            nullable = True
            rest = [each for each in get_args(annotation) if each is not type(None)]
            annotation = rest[0] if len(rest) == 1 else Union[tuple(rest)]  # noqa: UP007 (made at run time)
        else:
            return annotation, marks, nullable


def _is_union(annotation: Any) -> bool:
    return get_origin(annotation) in (Union, types.UnionType)


def _members(annotation: Any) -> list[Any]:
    """Of a union, each without its marks; else the annotation alone."""
    members = get_args(annotation) if _is_union(annotation) else (annotation,)
    return [_plain(each, [])[0] for each in members]


def _is_table(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)


Found = tuple[Kind, tuple[str, ...], tuple[Table, ...]]


def _kind(annotation: Any, marks: list[Any]) -> Found:
    members = _members(annotation)
    if Between in members:
        return Kind.DRAWN, (), ()
    if OneOfTexts in members:
        return Kind.DRAWN_LINE, (), ()
    if all(_is_table(each) for each in members):
        return Kind.TABLE, (), tuple(members)
    if len(members) > 1:
        return _kind_of_alternatives(annotation)
    origin = get_origin(annotation)
    if origin is tuple:
        return _kind_of_list(get_args(annotation)[0])
    if origin is dict:
        return Kind.AMOUNTS, (), ()
    if options := _options(annotation):
        return (Kind.FIXED if len(options) == 1 else Kind.CHOICE), options, ()
    if annotation is str:
        return _kind_of_text(marks), (), ()
    return {bool: Kind.YES_NO, int: Kind.WHOLE, float: Kind.NUMBER, date: Kind.DAY}[annotation], (), ()


def _kind_of_alternatives(annotation: Any) -> Found:
    """Words, or a list of tables that say more."""
    lists = [each for each in _members(annotation) if get_origin(each) is tuple]
    if str not in _members(annotation) or len(lists) != 1:
        raise TypeError(f"no form is known for a field that takes {annotation}")
    return Kind.WORDS_OR_TABLES, (), _kind_of_list(get_args(lists[0])[0])[2]


def _kind_of_list(entry: Any) -> Found:
    plain, marks, _ = _plain(entry, [])
    kind, options, tables = _kind(plain, marks)
    match kind:
        case Kind.TABLE:
            return Kind.TABLES, (), tables
        case Kind.CHOICE | Kind.FIXED:
            return Kind.CHOICES, options, ()
        case Kind.NUMBER | Kind.WHOLE:
            return Kind.NUMBERS, (), ()
        case Kind.REFERENCE:
            return Kind.REFERENCES, (), ()
        case _:
            return Kind.LINES, (), ()


def _options(annotation: Any) -> tuple[str, ...]:
    if get_origin(annotation) is Literal:
        return tuple(str(each) for each in get_args(annotation))
    if isinstance(annotation, type) and issubclass(annotation, StrEnum):
        return tuple(str(each) for each in annotation)
    return ()


LONGEST_LINE = 200
_READABLE = get_args(Key)[1]
"""The mark of a field that names a quantity of the model."""


def _kind_of_text(marks: list[Any]) -> Kind:
    if _READABLE in marks:
        return Kind.REFERENCE
    if _mark(marks, "pattern") is not None:
        return Kind.NAME
    longest = _mark(marks, "max_length")
    return Kind.LINE if longest is not None and longest <= LONGEST_LINE else Kind.TEXT


def _mark(marks: list[Any], name: str) -> Any:
    """The last mark of that name: pydantic keeps bounds in marks of several classes."""
    found = None
    for mark in marks:
        inner = list(mark.metadata) if isinstance(mark, FieldInfo) else [mark]
        found = next((value for each in inner if (value := getattr(each, name, None)) is not None), found)
    return found


def _bounds(marks: list[Any]) -> dict[str, Any]:
    above = _mark(marks, "gt")
    most = _mark(marks, "le")
    return {
        "least": _mark(marks, "ge") if above is None else above,
        "above": above is not None,
        "most": _mark(marks, "lt") if most is None else most,
        "longest": _mark(marks, "max_length"),
    }


def _default(info: FieldInfo) -> Any:
    value = info.get_default(call_default_factory=True)
    return None if value is PydanticUndefined else plain_data(value)


def plain_data(value: Any) -> Any:
    """A value of a parsed scenario as it would stand in a document: tables without what they leave unsaid."""
    if isinstance(value, BaseModel):
        return {
            name: plain_data(getattr(value, name))
            for name in type(value).model_fields
            if getattr(value, name) is not None
        }
    if isinstance(value, tuple | list):
        return [plain_data(each) for each in value]
    if isinstance(value, dict):
        return {name: plain_data(each) for name, each in value.items()}
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, StrEnum) else value
