"""`heavyspot check`."""

import json
from pathlib import Path

import click

from app.domain.scenario import Scenario, ScenarioFaults
from app.domain.toml_lines import line_of
from app.library import read_scenario


@click.command()
@click.argument("files", nargs=-1, metavar="FILE...", type=click.Path(path_type=Path))
@click.option("--schema", is_flag=True, help="Print the JSON Schema of a scenario instead.")
@click.pass_context
def check(context: click.Context, files: tuple[Path, ...], *, schema: bool) -> None:
    """Find every fault in scenario files.

    Each fault is a line with the file, its line, the place and what is allowed there. Exit code 1 when there
    is one.
    """
    if schema != (not files):
        raise click.UsageError("Give scenario files to check, or --schema.")
    if schema:
        click.echo(json.dumps(Scenario.model_json_schema(), indent=2))
        return
    sound = [report(file) for file in files]
    if not all(sound):
        context.exit(1)


def report(file: Path) -> bool:
    """Print what is wrong with one file, or that nothing is; returns whether it can be used."""
    try:
        scenario = read_scenario(file)
    except OSError as error:
        click.echo(f"{file}: can't be read: {error.strerror}")
    except ScenarioFaults as error:
        content = file.read_text(encoding="utf-8", errors="replace")
        for fault in error.faults:
            line = line_of(content, fault.place)
            click.echo(f"{file}:{f'{line}:' if line else ''} {fault}")
    else:
        click.echo(f"{file}: no faults ({len(scenario.tasks)} tasks, {scenario.out_of:g} points)")
        return True
    return False
