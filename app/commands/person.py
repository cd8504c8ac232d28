"""`heavyspot person`."""

from datetime import UTC, datetime

import click

from app.commands import opening
from app.services import accounts


@click.group()
def person() -> None:
    """Add an instructor; let someone sign in again."""


@person.command("add-instructor")
@click.argument("display_name", metavar="NAME")
@click.argument("sign_in_name", metavar="SIGN-IN-NAME")
def add_instructor(display_name: str, sign_in_name: str) -> None:
    """Add an instructor and print a pass phrase, this once.

    NAME is what students see, such as "J. Rivera".
    """
    with opening.opened(opening.read_settings()) as database:
        opening.make_when_absent(database)
        opening.require_current(database)
        pass_phrase = accounts.add_instructor(
            database, display_name=display_name, sign_in_name=sign_in_name, now=datetime.now(UTC)
        )
    _say_pass_phrase(sign_in_name, pass_phrase)


@person.command()
@click.argument("sign_in_name", metavar="SIGN-IN-NAME")
def reset(sign_in_name: str) -> None:
    """Give someone a new pass phrase and print it, this once.

    It signs that person out everywhere.
    """
    with opening.opened(opening.read_settings()) as database:
        opening.require_current(database)
        pass_phrase = accounts.reset_pass_phrase(database, sign_in_name=sign_in_name, now=datetime.now(UTC))
    _say_pass_phrase(sign_in_name, pass_phrase)


def _say_pass_phrase(sign_in_name: str, pass_phrase: str) -> None:
    click.echo(f"Sign-in name: {sign_in_name}\nPass phrase:  {pass_phrase}")
