"""A database that fails at a chosen moment, as it does on a full disk."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import psycopg
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.store.db import Database

WRITES = ("BEGIN IMMEDIATE", "SELECT pg_advisory_xact_lock", "INSERT", "UPDATE", "DELETE")


class Failing:
    """Counts what is written, the commits too, and fails at one of them. reached: whether it came to that."""

    def __init__(self, at: int, error: Exception) -> None:
        self.reached = False
        self._left = at
        self._error = error

    def count(self) -> None:
        self._left -= 1
        if self._left == 0:
            self.reached = True
            raise self._error

    def execute(self, _: Any, statement: str, *__: Any) -> None:
        if statement.lstrip().startswith(WRITES):
            self.count()


@contextmanager
def failing_at(database: Database, at: int) -> Iterator[Failing]:
    """A block in which the `at`-th write, from 1 on, finds the disk full."""
    failing = Failing(at, disk_full(database))
    engine: Engine = database._engine  # noqa: SLF001 -- the store keeps it to itself; a fault is made below the store
    commit = engine.dialect.do_commit

    def commit_or_fail(connection: Any) -> None:
        if not database.is_sqlite or connection.in_transaction:
            failing.count()
        commit(connection)

    for name in ("do_execute", "do_executemany", "do_execute_no_params"):
        event.listen(engine, name, failing.execute)
    engine.dialect.do_commit = commit_or_fail  # type: ignore[method-assign]
    try:
        yield failing
    finally:
        engine.dialect.do_commit = commit  # type: ignore[method-assign]
        for name in ("do_execute", "do_executemany", "do_execute_no_params"):
            event.remove(engine, name, failing.execute)


def disk_full(database: Database) -> Exception:
    """As the driver raises it."""
    if not database.is_sqlite:
        return psycopg.errors.DiskFull("could not extend file: No space left on device")
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode, error.sqlite_errorname = sqlite3.SQLITE_FULL, "SQLITE_FULL"
    return error
