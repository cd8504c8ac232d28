"""`heavyspot upgrade`, `heavyspot backup` and `heavyspot restore`."""

from datetime import UTC, datetime
from pathlib import Path

import click

from app.commands import opening
from app.services import upkeep

FILE = click.Path(path_type=Path)


@click.command()
def upgrade() -> None:
    """Bring the database up to this release.

    Make a backup first. Nothing is changed when the upgrade can't be finished.
    """
    with opening.opened(opening.read_settings()) as database:
        database.upgrade()
    click.echo("The database is of this release.")


@click.command()
@click.argument("file", metavar="FILE", type=FILE)
def backup(file: Path) -> None:
    """Write a copy of the database to a file.

    People may go on working meanwhile. FILE must be new.
    """
    with opening.opened(opening.read_settings()) as database:
        opening.require_current(database)
        upkeep.backup(database, file=file, now=datetime.now(UTC))
    click.echo(f"Backed up to {file}")


@click.command()
@click.argument("file", metavar="FILE", type=FILE)
def restore(file: Path) -> None:
    """Put a backup in the database's place.

    Stop the server first. The database that was there is kept beside it.
    """
    with opening.refusals_said():
        kept = upkeep.restore(opening.read_settings(), file=file, now=datetime.now(UTC))
    click.echo(f"Restored from {file}")
    if kept:
        click.echo(f"What was there before is kept in {kept}")
