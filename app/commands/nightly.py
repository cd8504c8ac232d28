"""The copy of each day that `heavyspot serve --nightly-backup` makes beside serving."""

import threading
from datetime import datetime
from pathlib import Path

import click

from app.commands import opening
from app.services import upkeep
from app.services.errors import Refused
from app.settings import Settings
from app.store.db import Database
from app.store.errors import StoreError

LOOK_EVERY_SECONDS = 10 * 60
"""After midnight the new day's copy is made within this time; a laptop that slept makes it when it wakes."""


def start(settings: Settings, folder: Path, keep: int) -> threading.Thread:
    """Make today's copy now, so that a folder that can't be used is said at once, and each later day's when
    it has begun. The thread ends with the program."""
    with opening.opened(settings) as database:
        copy(database, folder, keep)
    thread = threading.Thread(
        target=_go_on, args=(settings, folder, keep), name="nightly backup", daemon=True
    )
    thread.start()
    return thread


def copy(database: Database, folder: Path, keep: int) -> None:
    made = upkeep.copy_of_the_day(database, folder=folder, keep=keep, now=datetime.now().astimezone())
    if made:
        click.echo(f"Backed up to {made}")


def _go_on(settings: Settings, folder: Path, keep: int) -> None:
    database, ever = Database(settings.database_url), threading.Event()
    while not ever.wait(LOOK_EVERY_SECONDS):
        try:
            copy(database, folder, keep)
        except (Refused, StoreError, OSError) as error:  # said each time, and tried again: serving goes on
            click.echo(f"Today's backup could not be made: {error}", err=True)
