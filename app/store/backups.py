"""Whole copies of a SQLite database, and putting one back.

Copying the file itself while people work loses what is still in the write-ahead log: SQLite's backup API
doesn't. A restore prepares everything beside the database and then swaps one file in one step, so that a
power cut leaves either the old database or the new one.
"""

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import URL

from app.store import migrating
from app.store.db import Database
from app.store.errors import NotADatabase, Unavailable

LOGS = ("-wal", "-shm")


def copy(database: Database, file: Path) -> None:
    """Write a checked copy of an SQLite database as one file. Raises NotADatabase when the database is
    damaged."""
    part = _beside(file, "part")
    try:
        with closing(database.raw_connection()) as source:
            _copy(source.driver_connection, part)
        _check(part)
        part.replace(file)
        _sync(file.parent)
    finally:
        part.unlink(missing_ok=True)


def restore(file: Path, target: Path, *, keep_as: str) -> Path | None:
    """Put a copy of `file` in the place of the database `target`, at this release's tables. The previous
    database is kept in the same folder under the name `keep_as`; returns that file, or None when there was
    none.

    Raises NotADatabase when `file` isn't a whole database of this program, and Unavailable when `target` is
    in use.
    """
    part = _beside(target, "restoring")
    try:
        try:
            with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True)) as source:
                _copy(source, part)
        except sqlite3.Error as error:
            raise NotADatabase(f"{file} is no database, or it is damaged ({error}).") from error
        _check(part)
        _upgrade(part)
        kept = _set_aside(target, target.with_name(keep_as)) if target.exists() else None
        for log in LOGS:  # the previous database's: SQLite must not replay them into the new one
            target.with_name(target.name + log).unlink(missing_ok=True)
        part.replace(target)
        _sync(target.parent)
        return kept
    finally:
        part.unlink(missing_ok=True)


def _beside(file: Path, ending: str) -> Path:
    """An empty new file next to `file` that only its owner may read: names and pass phrase hashes go into
    it."""
    part = file.with_name(f"{file.name}.{ending}")
    part.unlink(missing_ok=True)
    part.touch(mode=0o600, exist_ok=False)
    return part


def _copy(source: sqlite3.Connection, file: Path) -> None:
    """All pages in one step: one unchanging picture, and in WAL mode nobody has to wait for it."""
    with closing(sqlite3.connect(file)) as copied:
        source.backup(copied)
        copied.execute("PRAGMA journal_mode = DELETE")  # one file, with no log beside it
    _sync(file)


def _check(file: Path) -> None:
    """Raises NotADatabase unless the file is whole and has tables that this release knows."""
    try:
        with closing(sqlite3.connect(file)) as connection:
            faults = [row[0] for row in connection.execute("PRAGMA integrity_check(1)") if row[0] != "ok"]
            if connection.execute("PRAGMA foreign_key_check").fetchone():
                faults.append("rows point to nothing")
            named = connection.execute(
                "SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'"
            ).fetchone()
            revision = (
                connection.execute("SELECT version_num FROM alembic_version").fetchone() if named else None
            )
    except sqlite3.Error as error:
        raise NotADatabase(f"The file is no database, or it is damaged ({error}).") from error
    if faults:
        raise NotADatabase(f"The database is damaged: {faults[0]}.")
    if revision is None:
        raise NotADatabase("The file is a database, but not one of Heavy Spot.")
    if revision[0] not in migrating.known_revisions():
        raise NotADatabase("The database is of a newer release. Install that release, then try again.")


def _upgrade(file: Path) -> None:
    database = Database(URL.create("sqlite", database=str(file)).render_as_string())
    database.upgrade()
    database.close()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
    _sync(file)


def _set_aside(target: Path, kept: Path) -> Path:
    """Copy the database that is about to be replaced. Leaving WAL mode needs it alone, which shows whether a
    server still has it open."""
    try:
        with closing(sqlite3.connect(target, timeout=1)) as connection:
            connection.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY:
            raise
        raise Unavailable("The database is in use. Stop the server, then restore.") from error
    except sqlite3.DatabaseError:  # damaged: the very reason to restore; its log is kept with it
        for log in LOGS:
            if target.with_name(target.name + log).exists():
                shutil.copy2(target.with_name(target.name + log), kept.with_name(kept.name + log))
    shutil.copy2(target, kept)
    _sync(kept)
    return kept


def _sync(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk."""
    if path.is_dir() and os.name == "nt":
        return  # Windows doesn't open folders
    descriptor = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
