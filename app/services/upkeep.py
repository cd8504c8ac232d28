"""Backup and restore, one call each; a copy of each day; how long ago the last one was."""

from datetime import datetime
from pathlib import Path

from app.services.errors import Refused
from app.settings import Settings
from app.store import audit, backups
from app.store.db import Database
from app.store.errors import NotADatabase

SERVER = (
    "This database is on a server. Use its own tools: pg_dump to back it up, pg_restore to bring it back."
)

SUBJECT, BACK_UP = "database", "back up"
COPY_OF_THE_DAY = "heavyspot-{:%Y-%m-%d}.db"
COPIES = "heavyspot-[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9].db"


def backup(database: Database, *, file: Path, now: datetime) -> None:
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
    with database.write() as session:
        audit.record(session, at=now, person_key=None, action=BACK_UP, subject=SUBJECT)


def copy_of_the_day(database: Database, *, folder: Path, keep: int, now: datetime) -> Path | None:
    """Back up to a file named after the day of `now`, which is in local time, and let go of older ones of
    this kind beyond `keep`. None when the day has its copy. Raises Refused."""
    file = folder / COPY_OF_THE_DAY.format(now)
    if file.exists():
        return None
    backup(database, file=file, now=now)
    for old in sorted(folder.glob(COPIES))[:-keep]:
        old.unlink()
    return file


def days_without_backup(database: Database, *, now: datetime) -> int | None:
    """Whole days since the last backup, or since there is something to lose. None for an empty database and
    for one on a server, which is backed up by its own tools."""
    if not database.is_sqlite:
        return None
    with database.read() as session:
        since = audit.newest(session, action=BACK_UP, subject=SUBJECT) or audit.oldest(session)
    return None if since is None else (now - since).days


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
