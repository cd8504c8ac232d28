"""`heavyspot demo`."""

import os
from collections.abc import Mapping
from datetime import UTC, datetime

import click
from rich.console import Console
from rich.progress import Progress

from app.commands import opening, serving
from app.demo import DemoAccounts, make_demo
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
        with opening.opened(settings) as database:
            opening.make_when_absent(database)
            opening.require_current(database)
            accounts = _made(database, settings)
        serving.say_address(listener)
        for role, card in (("instructor", accounts.instructor), ("student", accounts.student)):
            serving.say(f"Sign in as the {role} {card.display_name}: {card.sign_in_name}, {card.pass_phrase}")
        serving.run(settings, listener)


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
