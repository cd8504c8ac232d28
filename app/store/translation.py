"""Database errors in the store's own words, the same for SQLite and PostgreSQL."""

from sqlalchemy import PrimaryKeyConstraint, UniqueConstraint
from sqlalchemy.exc import DBAPIError, OperationalError

from app.store.errors import (
    BrokenReference,
    Conflict,
    Immutable,
    NotADatabase,
    ReadOnly,
    StoreError,
    Unavailable,
)
from app.store.models import Base

BUSY = "The database is busy. Nothing was saved; try again in a moment."
NO_SERVER = "The database server can't be reached. Nothing was saved; check that it runs, then try again."

# Names are SQLite's, numbers are PostgreSQL's SQLSTATE codes.
UNIQUE = ("SQLITE_CONSTRAINT_UNIQUE", "SQLITE_CONSTRAINT_PRIMARYKEY", "23505")
OTHERS: tuple[tuple[type[StoreError], str, tuple[str, ...]], ...] = (
    (Immutable, "This row can't be changed or deleted.", ("SQLITE_CONSTRAINT_TRIGGER", "23001")),
    (
        BrokenReference,
        "A row misses a value, has one that isn't allowed, or points to nothing.",
        (
            *("SQLITE_CONSTRAINT_FOREIGNKEY", "SQLITE_CONSTRAINT_CHECK", "SQLITE_CONSTRAINT_NOTNULL"),
            *("23503", "23514", "23502"),
        ),
    ),
    (ReadOnly, "Nothing can be written while only reading.", ("SQLITE_READONLY", "25006")),
    (
        Unavailable,
        BUSY,
        ("SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT", "SQLITE_LOCKED", "55P03", "40001", "40P01"),
    ),
    (Unavailable, "The disk is full. Nothing was saved; make room and try again.", ("SQLITE_FULL", "53100")),
    (
        Unavailable,
        "The database file can't be opened. Check its folder and permissions.",
        ("SQLITE_CANTOPEN", "SQLITE_READONLY_DIRECTORY", "SQLITE_READONLY_CANTINIT"),
    ),
    (
        NotADatabase,
        "The database file is damaged, or is no database. Restore a backup.",
        ("SQLITE_CORRUPT", "SQLITE_NOTADB"),
    ),
)
UNWRITABLE = "The disk can't be written or read. Nothing was saved; see that it works and has room."
"""For the many codes of SQLITE_IOERR: a quota, a log that can't grow, a disk that was taken away."""
BY_CODE = {code: (kind, message) for kind, message, codes in OTHERS for code in codes}


def translated(error: DBAPIError) -> StoreError | DBAPIError:
    """The store's error for a database error, or the same error when it isn't one we expect."""
    code = getattr(error.orig, "sqlite_errorname", None) or getattr(error.orig, "sqlstate", None)
    if code is None:
        return Unavailable(NO_SERVER) if isinstance(error, OperationalError) else error
    if code in UNIQUE:
        return Conflict(*_unique_columns(error))
    if code.startswith("SQLITE_IOERR"):
        return Unavailable(UNWRITABLE)
    kind, message = BY_CODE.get(code, (None, ""))
    return kind(message) if kind else error


def _unique_columns(error: DBAPIError) -> tuple[str, tuple[str, ...]]:
    diagnosis = getattr(error.orig, "diag", None)
    if diagnosis is None:  # SQLite names columns: "UNIQUE constraint failed: class.id, class.name"
        pairs = [pair.partition(".") for pair in str(error.orig).partition(": ")[2].split(", ")]
        return pairs[0][0], tuple(column for _, _, column in pairs)
    table = Base.metadata.tables[diagnosis.table_name]
    columns = {
        constraint.name: tuple(column.name for column in constraint.columns)
        for constraint in table.constraints
        if isinstance(constraint, UniqueConstraint | PrimaryKeyConstraint)
    }
    return table.name, columns[diagnosis.constraint_name]
