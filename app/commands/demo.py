"""`heavyspot demo`."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import click
from rich.console import Console
from rich.progress import Progress

from app.commands import opening, serving
from app.demo import DemoAccounts, make_demo
from app.services.cards import Card
from app.settings import Settings
from app.store.db import Database

DEMO_FOLDER = "instance/demo"


@click.command()
@serving.options
def demo(host: str, port: int, *, lan: bool) -> None:
    """Serve a class that has worked its labs, to look around in.

    It is kept in ./instance/demo, apart from a real class, unless HEAVYSPOT_DATA names another folder.
    Delete the folder to start over.
    """
    settings = demo_settings(os.environ)
    with serving.listen(host, port, lan=lan) as listener:
        with opening.opened(settings) as database, _undone_when_cut_short(database):
            opening.make_when_absent(database)
            opening.require_current(database)
            accounts = _made(database, settings)
        serving.say_address(listener)
        _say_card("instructor", accounts.instructor)
        _say_card("student", accounts.student)
        serving.run(settings, listener)


def _say_card(role: str, card: Card) -> None:
    serving.say(f"Look around as the {role}, {card.display_name}:")
    serving.say(f"  sign-in name  {card.sign_in_name}\n  pass phrase   {card.pass_phrase}")


@contextmanager
def _undone_when_cut_short(database: Database) -> Iterator[None]:
    """Ctrl-C while the class is made leaves no half of one: the next start makes it whole."""
    is_new = opening.is_absent(database)
    try:
        yield
    except BaseException:
        if is_new and database.file:
            database.close()
            for ending in ("", "-wal", "-shm"):
                Path(f"{database.file}{ending}").unlink(missing_ok=True)
        raise


def _made(database: Database, settings: Settings) -> DemoAccounts:
    """The demo class, with a progress bar on a terminal while its students work."""
    console = Console(stderr=True)
    with Progress(console=console, transient=True, disable=not console.is_terminal) as progress:
        bar = progress.add_task("The demo class works its labs", total=None)
        return make_demo(
            database,
            folder=settings.data_folder,
            now=datetime.now(UTC),
            progress=lambda done, of: progress.update(bar, completed=done, total=of),
        )


def demo_settings(environ: Mapping[str, str]) -> Settings:
    """Always a database file of its own: a demo class has no business on a school's database server."""
    own = {name: value for name, value in environ.items() if name != "HEAVYSPOT_DATABASE_URL"}
    return opening.read_settings({"HEAVYSPOT_DATA": DEMO_FOLDER} | own)
