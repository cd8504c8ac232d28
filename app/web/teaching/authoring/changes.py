"""What the buttons of a sheet do to a draft: `add parts`, `remove parts 0`, `up parts 1`, `put bench`."""

import copy
from collections.abc import Callable

from app.domain.authored.entries import (
    Document,
    NoSuchEntry,
    added,
    at,
    list_at,
    moved,
    path_of,
    removed,
    steps_of,
    with_entry,
)
from app.domain.authored.places import field_at
from app.domain.authored.shape import LONGEST_LINE, Field, Kind
from app.domain.authored.starters import new_entry, with_fresh_ids
from app.services.errors import NotFound, Refused


def changed(document: Document, asked: str) -> tuple[Document, str]:
    """The document after what a button asks for, and the path to go on at. Raises NotFound and Refused."""
    act, *words = asked.split(" ")
    try:
        return _ACTS[act](document, *words)
    except (KeyError, TypeError, NoSuchEntry, ValueError) as error:
        raise NotFound("There is no such change.") from error


def _remove(document: Document, path: str, place: str) -> tuple[Document, str]:
    _list(document, path)
    return removed(document, path, int(place)), path


def _put(document: Document, path: str) -> tuple[Document, str]:
    field = field_at(document, path)
    if field.kind is not Kind.TABLE or not field.nullable:
        raise NoSuchEntry(path)
    return with_entry(document, path, new_entry(field, None, document)), path


def _drop(document: Document, path: str) -> tuple[Document, str]:
    if not field_at(document, path).nullable:
        raise NoSuchEntry(path)
    return with_entry(document, path, None), path


def _add(document: Document, path: str, kind: str | None = None) -> tuple[Document, str]:
    field = _list(document, path)
    entries = at(document, path)
    written = (
        document if entries is not None else with_entry(document, path, copy.deepcopy(field.default or []))
    )
    _refuse_beyond(field.longest, written, path)
    entry = new_entry(field, kind, written)
    if isinstance(entries, str):
        entry = {**entry, "text": entries[:LONGEST_LINE]}
    return added(written, path, entry), path_of(path, len(list_at(written, path)))


def _copy(document: Document, path: str, place: str) -> tuple[Document, str]:
    field = _list(document, path)
    _refuse_beyond(field.longest, document, path)
    original = at(document, path_of(path, int(place)))
    if not isinstance(original, dict):
        raise NoSuchEntry(path)
    entry = with_fresh_ids(copy.deepcopy(original), field, document)
    longer = added(document, path, entry)
    return longer, path_of(path, len(list_at(longer, path)) - 1)


def _up(document: Document, path: str, place: str) -> tuple[Document, str]:
    return _move(document, path, int(place), -1)


def _down(document: Document, path: str, place: str) -> tuple[Document, str]:
    return _move(document, path, int(place), 1)


def _move(document: Document, path: str, place: int, by: int) -> tuple[Document, str]:
    _list(document, path)
    to = min(max(place + by, 0), len(list_at(document, path)) - 1)
    return moved(document, path, place, by), path_of(path, to)


def _list(document: Document, path: str) -> Field:
    field = field_at(document, path)
    if field.kind not in (Kind.TABLES, Kind.WORDS_OR_TABLES) or isinstance(steps_of(path)[-1], int):
        raise NoSuchEntry(path)
    return field


_ACTS: dict[str, Callable[..., tuple[Document, str]]] = {
    "add": _add,
    "copy": _copy,
    "remove": _remove,
    "up": _up,
    "down": _down,
    "put": _put,
    "drop": _drop,
}


def _refuse_beyond(most: int | None, document: Document, path: str) -> None:
    if most is not None and len(list_at(document, path)) >= most:
        raise Refused("draft", f"There may be at most {most} of these.")
