"""What an author meant: the field that a misspelt one is nearest to, by the tables of the schema."""

import difflib
from collections.abc import Iterator, Sequence
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

Location = Sequence[int | str]
_NEAR = 0.6


def nearest(name: str, names: Sequence[str]) -> str | None:
    """The one of the names that a misspelt one stands for, if one is near enough."""
    return next(iter(difflib.get_close_matches(name, names, n=1, cutoff=_NEAR)), None)


def field_meant(root: type[BaseModel], location: Location) -> str | None:
    """The field that the last step of a location was to be."""
    *path, name = location
    tables = [root]
    for step in path:
        if isinstance(step, str):
            inner = [each.model_fields[step].annotation for each in tables if step in each.model_fields]
            # A step that is no field tells which kind of task or of number it is.
            tables = (
                [table for each in inner for table in _tables(each)]
                or [each for each in tables if _is_of_kind(each, step)]
                or tables
            )
    return nearest(str(name), [field for table in tables for field in table.model_fields])


def _tables(annotation: Any) -> Iterator[type[BaseModel]]:
    """Every table that a value of this annotation may be or hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    elif get_origin(annotation) in (Annotated, Union, UnionType, tuple):
        for inner in get_args(annotation):
            yield from _tables(inner)


def _is_of_kind(table: type[BaseModel], kind: str) -> bool:
    field = table.model_fields.get("kind")
    words: Any = None if field is None else field.annotation
    allowed = get_args(words) if get_origin(words) is Literal else ()
    return kind in allowed
