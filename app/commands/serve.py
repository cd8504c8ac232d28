"""`heavyspot serve`."""

from datetime import UTC, datetime

import click

from app.commands import opening, serving
from app.domain.scenario import ScenarioFaults
from app.services import accounts, scenarios
from app.settings import SCENARIOS
from app.store.db import Database


@click.command()
@serving.options
def serve(host: str, port: int, *, lan: bool) -> None:
    """Serve Heavy Spot to a classroom.

    On an empty data folder this makes the database, loads the scenarios that come with Heavy Spot and prints
    a link, good once, on which the first instructor makes an account.
    """
    settings = opening.read_settings()
    with serving.listen(host, port, lan=lan) as listener:
        with opening.opened(settings) as database:
            token = prepare(database)
        serving.say_address(listener)
        if token:
            serving.say("There is no instructor yet. Make the first account here; this link works once:")
            serving.say(f"  {serving.address(listener)}setup/{token}")
        serving.run(settings, listener)


def prepare(database: Database) -> str | None:
    """Make an absent database file, load the shipped scenarios, return a set-up token while one is needed."""
    now = datetime.now(UTC)
    opening.make_when_absent(database)
    opening.require_current(database)
    try:
        scenarios.load_shipped(database, folder=SCENARIOS, now=now)
    except ScenarioFaults as error:
        raise click.ClickException(
            f"A scenario in {SCENARIOS} can't be used; `heavyspot check` says which. {error}"
        ) from error
    return accounts.setup_link(database, now=now)
