"""Database errors in the store's own words, the same for SQLite and PostgreSQL."""

from sqlalchemy import UniqueConstraint
from sqlalchemy.exc import DBAPIError

from app.store.errors import BrokenReference, Conflict, Immutable, ReadOnly, StoreError, Unavailable
from app.store.models import Base

# Names are SQLite's, numbers are PostgreSQL's SQLSTATE codes.
UNIQUE = {"SQLITE_CONSTRAINT_UNIQUE", "SQLITE_CONSTRAINT_PRIMARYKEY", "23505"}
OTHERS: dict[str, tuple[type[StoreError], str]] = {
    **dict.fromkeys(
        ("SQLITE_CONSTRAINT_TRIGGER", "23001"), (Immutable, "This row can't be changed or deleted.")
    ),
    **dict.fromkeys(
        (
            *("SQLITE_CONSTRAINT_FOREIGNKEY", "SQLITE_CONSTRAINT_CHECK", "SQLITE_CONSTRAINT_NOTNULL"),
            *("23503", "23514", "23502"),
        ),
        (BrokenReference, "A row misses a value, has one that isn't allowed, or points to nothing."),
    ),
    **dict.fromkeys(("SQLITE_READONLY", "25006"), (ReadOnly, "Nothing can be written while only reading.")),
    **dict.fromkeys(
        ("SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT", "SQLITE_LOCKED", "55P03", "40001", "40P01"),
        (Unavailable, "The database is busy. Nothing was saved; try again in a moment."),
    ),
    **dict.fromkeys(
        ("SQLITE_FULL", "53100"),
        (Unavailable, "The disk is full. Nothing was saved; make room and try again."),
    ),
    "SQLITE_CANTOPEN": (Unavailable, "The database file can't be opened. Check its folder and permissions."),
}


def translated(error: DBAPIError) -> StoreError | DBAPIError:
    """The store's error for a database error, or the same error when it isn't one we expect."""
    code = getattr(error.orig, "sqlite_errorname", None) or getattr(error.orig, "sqlstate", None) or ""
    if code in UNIQUE:
        return Conflict(*_unique_columns(error))
    kind, message = OTHERS.get(code, (None, ""))
    return kind(message) if kind else error


def _unique_columns(error: DBAPIError) -> tuple[str, tuple[str, ...]]:
    diagnosis = getattr(error.orig, "diag", None)
    if diagnosis is None:  # SQLite names columns: "UNIQUE constraint failed: class.id, class.name"
        pairs = [pair.partition(".") for pair in str(error.orig).partition(": ")[2].split(", ")]
        return pairs[0][0], tuple(column for _, _, column in pairs)
    for constraint in Base.metadata.tables[diagnosis.table_name].constraints:
        if isinstance(constraint, UniqueConstraint) and constraint.name == diagnosis.constraint_name:
            return diagnosis.table_name, tuple(column.name for column in constraint.columns)
    return diagnosis.table_name, ("id",)
