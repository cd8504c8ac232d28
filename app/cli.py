"""The command `heavyspot`. A subcommand's module is imported only when that subcommand runs, so that
`heavyspot calc` never waits for the web or the database."""

import gc
import importlib
import os
import sys
from types import ModuleType

import click

# Read when numpy is loaded. Its matrices are small here: a second thread would only be waited for, and would
# sum in another order than a machine with one core does.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

COMMANDS = {
    "demo": "Serve a finished class to look around in.",
    "serve": "Serve Heavy Spot to a classroom.",
    "calc": "Compute one result, or many, from JSON.",
    "check": "Find every fault in scenario files.",
    "key": "Show the answer key of one variant of a scenario file.",
    "person": "Add an instructor; let someone sign in again.",
    "upgrade": "Bring the database up to this release.",
    "backup": "Write a copy of the database to a file.",
    "restore": "Put a backup in the database's place.",
}

MODULES = {"upgrade": "upkeep", "backup": "upkeep", "restore": "upkeep"}


class LazyGroup(click.Group):
    """Knows its commands' names and one line each; a command's module is `app.commands.<name>`."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        module = loaded(f"app.commands.{MODULES.get(cmd_name, cmd_name)}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


def loaded(name: str) -> ModuleType:
    """A module, loaded while the garbage collector rests, then left out of its rounds. Modules stay as long
    as the program: looking through them, over and over while more are loaded, finds nothing."""
    if name not in sys.modules:
        gc.disable()
        try:
            importlib.import_module(name)
            gc.freeze()
        finally:
            gc.enable()
    return sys.modules[name]


@click.group(cls=LazyGroup)
@click.version_option(package_name="heavyspot", message="Heavy Spot %(version)s")
def main() -> None:
    """Heavy Spot: classroom labs for wheel service."""


if __name__ == "__main__":
    main()
