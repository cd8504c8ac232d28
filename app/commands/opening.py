"""Settings and database for a command, with every fault of the user's turned into one plain sentence."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

import click

from app.services.errors import NotFound, Refused
from app.settings import Settings, SettingsError
from app.store.db import Database
from app.store.errors import StoreError


def read_settings(environ: Mapping[str, str] = os.environ) -> Settings:
    try:
        return Settings.from_environment(environ)
    except SettingsError as error:
        raise click.ClickException(str(error)) from error


@contextmanager
def refusals_said() -> Iterator[None]:
    """What a service refuses, or the store can't do, ends the command with its message."""
    try:
        yield
    except (Refused, NotFound, StoreError) as error:
        raise click.ClickException(str(error)) from error


@contextmanager
def opened(settings: Settings) -> Iterator[Database]:
    """The database of these settings, closed at the end; refusals are said."""
    database = Database(settings.database_url)
    try:
        with refusals_said():
            yield database
    finally:
        database.close()


def require_current(database: Database) -> None:
    if is_absent(database):  # asked first, because opening an absent SQLite file makes an empty one
        raise click.ClickException(f"There is no database at {database.file}. `heavyspot serve` makes one.")
    if not database.is_current():
        raise click.ClickException("The database is not of this release. Run `heavyspot upgrade`.")


def make_when_absent(database: Database) -> None:
    """Make a database file that isn't there. One on a server, or an old one, is upgraded only when asked."""
    if is_absent(database):
        database.upgrade()


def is_absent(database: Database) -> bool:
    return database.file is not None and not database.file.exists()
