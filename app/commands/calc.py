"""`heavyspot calc`: the calculations over standard input and output."""

import sys

import click

from app.calculations import json_text, registry

EXIT_ERROR = 2


@click.command()
@click.argument("name", required=False)
@click.option(
    "--lines", is_flag=True, help='Read one {"name": ..., "given": {...}} a line, answer one a line.'
)
@click.option("--list", "list_names", is_flag=True, help="List the calculations with one line about each.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of the calculation's input.")
@click.pass_context
def calc(context: click.Context, name: str | None, lines: bool, list_names: bool, schema: bool) -> None:
    """Compute NAME: read one JSON object from standard input, write the answer as one JSON object.

    An input that has no answer gives {"error": {"field": ..., "message": ...}} and exit code 2; with --lines
    that is the answer to its line, and spoils no other.
    """
    if lines + list_names + (name is not None) != 1 or (schema and name is None):
        raise click.UsageError("Give one of: NAME (with or without --schema), --lines, --list.")
    if list_names:
        width = max(map(len, registry.names()))
        for each in registry.names():
            click.echo(f"{each:{width}}  {registry.description(each)}")
        return

    source, sink = sys.stdin.buffer, sys.stdout.buffer
    if name is None:
        for line in source:
            sink.write(json_text.encoded(json_text.answer_line(line)))
            sink.flush()
        return

    if schema:
        answer = registry.unknown_name(name) or registry.schema(name)
    else:
        answer = json_text.answer(name, source.read())
    sink.write(json_text.encoded(answer))
    if "error" in answer:
        context.exit(EXIT_ERROR)
