"""`heavyspot calc`: the calculations over standard input and output."""

import click

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

    An answer that can't be computed is {"error": {"field": ..., "message": ...}}, and the exit code is 2; with
    --lines it is the answer to its line, and the exit code is 0.
    """
    # Loaded here so that the other commands start without the calculations.
    from app.calculations import json_text, registry

    if lines + list_names + (name is not None) != 1 or (schema and name is None):
        raise click.UsageError("Give one of: NAME (with or without --schema), --lines, --list.")
    if list_names:
        width = max(map(len, registry.names()))
        for each in registry.names():
            click.echo(f"{each:{width}}  {registry.description(each)}")
        return

    source, sink = click.get_binary_stream("stdin"), click.get_binary_stream("stdout")
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
