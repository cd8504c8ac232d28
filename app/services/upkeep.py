"""Backup and restore, one call each."""

from datetime import datetime
from pathlib import Path

from app.services.errors import Refused
from app.settings import Settings
from app.store import backups
from app.store.db import Database
from app.store.errors import NotADatabase

SERVER = (
    "This database is on a server. Use its own tools: pg_dump to back it up, pg_restore to bring it back."
)


def backup(database: Database, *, file: Path) -> None:
    """Write a whole and checked copy of the database to a new file, while people go on working. Raises
    Refused."""
    if not database.is_sqlite:
        raise Refused("file", SERVER)
    if file.exists():
        raise Refused("file", f"{file} is there already. Name a new file: a backup never replaces another.")
    if not file.parent.is_dir():
        raise Refused("file", f"The folder {file.parent} doesn't exist. Make it first.")
    try:
        backups.copy(database, file)
    except OSError as error:
        raise Refused("file", f"{file} can't be written: {error.strerror}.") from error


def restore(settings: Settings, *, file: Path, now: datetime) -> Path | None:
    """Put a backup in the place of the database; stop the server first. The backup is checked and brought up
    to this release before anything is replaced. Returns the file that the previous database was kept in,
    None when there was none. Raises Refused."""
    database = Database(settings.database_url)
    if database.file is None:
        raise Refused("file", SERVER)
    if not file.is_file():
        raise Refused("file", f"There is no file {file}.")
    try:
        return backups.restore(
            file, database.file, keep_as=f"{database.file.stem}-before-{now:%Y%m%dT%H%M%SZ}.db"
        )
    except NotADatabase as error:
        raise Refused("file", str(error)) from error
    except OSError as error:
        raise Refused("file", f"The backup can't be put in place: {error}.") from error
