"""Which field of the scenario's classes a path of a document leads to."""

from app.domain.authored.entries import Document, NoSuchEntry, at, path_of, steps_of
from app.domain.authored.shape import Field, Table, field_named
from app.domain.scenario import Scenario


def field_at(document: Document, path: str) -> Field:
    """The field that a path ends in: of `parts.0.shows` and of `parts.0.shows.1` the list `shows`.

    Raises NoSuchEntry for a path that no scenario has, or that leads past an entry that isn't there.
    """
    table: Table = Scenario
    field: Field | None = None
    steps = steps_of(path)
    for number, step in enumerate(steps):
        if isinstance(step, int):
            continue
        if field is not None:
            table = _table_below(document, field, path_of(*steps[:number]))
        try:
            field = field_named(table, step)
        except KeyError as error:
            raise NoSuchEntry(path) from error
    if field is None:
        raise NoSuchEntry(path)
    return field


def table_at(document: Document, path: str) -> Table:
    """The class of the table or entry at a path; the scenario's own at an empty one. Raises NoSuchEntry."""
    return _table_below(document, field_at(document, path), path) if path else Scenario


def _table_below(document: Document, field: Field, path: str) -> Table:
    entry = at(document, path)
    table = field.table_of(entry) if field.tables and isinstance(entry, dict) else None
    if table is None:
        raise NoSuchEntry(path)
    return table
