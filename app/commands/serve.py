"""`heavyspot serve`."""

from datetime import UTC, datetime
from importlib.util import find_spec
from pathlib import Path

import click

from app.commands import network, nightly, opening, serving
from app.domain.scenario import ScenarioFaults
from app.services import accounts, scenarios
from app.settings import SCENARIOS
from app.store.db import Database

MOST_WORKERS = 64
COPIES_KEPT = 14


@click.command()
@serving.options
@click.option(
    "--workers",
    type=click.IntRange(1, MOST_WORKERS),
    default=1,
    show_default=True,
    help="Processes, for a school's server behind TLS.",
)
@click.option(
    "--nightly-backup",
    metavar="FOLDER",
    type=click.Path(path_type=Path, exists=True, file_okay=False, writable=True),
    help="Write a copy of the database here each day.",
)
@click.option(
    "--keep",
    type=click.IntRange(min=1),
    default=COPIES_KEPT,
    show_default=True,
    help="How many of the nightly copies stay.",
)
def serve(host: str, port: int, workers: int, nightly_backup: Path | None, keep: int, *, lan: bool) -> None:
    """Serve Heavy Spot to a classroom.

    On an empty data folder this makes the database, loads the scenarios that come with Heavy Spot and prints
    a link, good once, on which the first instructor makes an account.
    """
    if workers > 1:
        require_what_workers_need(host, lan=lan)
        if nightly_backup:
            raise click.UsageError(
                "Several workers leave the nightly copy to the machine: let its scheduler run "
                "`heavyspot backup`."
            )
    settings = opening.read_settings()
    with serving.listen(host, port, lan=lan) as listener:
        with opening.opened(settings) as database:
            token = prepare(database)
        if nightly_backup:
            nightly.start(settings, nightly_backup, keep)
        serving.say_address(listener)
        if token:
            serving.say("There is no instructor yet. Make the first account here; this link works once:")
            serving.say(f"  {serving.address(listener)}setup/{token}")
        if workers > 1:
            from app.commands import workers as several  # gunicorn is there on a server only

            serving.say("Stop it with Ctrl-C.")
            several.run(settings, listener, workers)
        else:
            serving.run(settings, listener)


def require_what_workers_need(host: str, *, lan: bool) -> None:
    if lan or host != network.LOCAL_HOST:
        raise click.UsageError(
            "Several workers listen on this machine alone, behind a web server with TLS. "
            "Leave --lan and --host out, or --workers."
        )
    if find_spec("gunicorn") is None:
        raise click.UsageError("Several workers need one more package: pip install gunicorn")


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
