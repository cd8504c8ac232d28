"""`heavyspot key`."""

import json
import math
from pathlib import Path
from typing import Any

import click

from app.domain import measures
from app.domain.draws import DRAWING_VERSION
from app.domain.marking import right_answer_text, right_option
from app.domain.marking.words import right_ticks
from app.domain.model import quantity_of
from app.domain.scenario import ScenarioFaults
from app.domain.tasks import AnyTask, ChoiceTask, NumberTask, OrderTask, SeveralTask, SpotsTask
from app.domain.variants import NotWellPosed, Variant, draw
from app.library import read_scenario

LARGEST_SEED = 2**64 - 1


@click.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path))
@click.option(
    "--seed", type=click.IntRange(0, LARGEST_SEED), default=1, show_default=True, help="Whose numbers."
)
@click.option(
    "--units",
    type=click.Choice([system.value for system in measures.UnitSystem]),
    default="metric",
    show_default=True,
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object, with unrounded numbers.")
def key(file: Path, seed: int, units: str, *, as_json: bool) -> None:
    """Show the answer key of one variant of a scenario file.

    The same seed gives the same numbers on every machine.
    """
    variant = read_variant(file, seed, measures.UnitSystem(units))
    click.echo(json.dumps(as_object(variant), indent=2, ensure_ascii=False) if as_json else as_text(variant))


def read_variant(file: Path, seed: int, units: measures.UnitSystem) -> Variant:
    try:
        return draw(read_scenario(file), seed, units)
    except OSError as error:
        raise click.ClickException(f"{file} can't be read: {error.strerror}") from error
    except ScenarioFaults as error:
        faults = "\n".join(f"  {fault}" for fault in error.faults)
        raise click.ClickException(f"{file} can't be used:\n{faults}") from error
    except NotWellPosed as error:
        raise click.ClickException(f"{file}: {error}") from error


def as_text(variant: Variant) -> str:
    scenario = variant.scenario
    lines = [f"{scenario.title}: seed {variant.seed}, {variant.units} units, {scenario.out_of:g} points"]
    for part in scenario.lab_parts:
        lines += ["", part.title]
        answers = [(task.title, right_answer_text(task, variant)) for task in part.tasks]
        lines += [f"  {title}: {answer}".replace("\n", "\n    ") for title, answer in answers]
    return "\n".join(lines)


def as_object(variant: Variant) -> dict[str, Any]:
    return {
        "scenario": variant.scenario.id,
        "seed": variant.seed,
        "units": variant.units,
        "drawing_version": DRAWING_VERSION,
        "answers": [
            {"task": task.id, "points": task.points, "answer": right_answer_text(task, variant)}
            | exact(task, variant)
            for task in variant.scenario.tasks
        ],
    }


def exact(task: AnyTask, variant: Variant) -> dict[str, Any]:
    """What a program wants beside the words: the unrounded value in its shown unit, or ids."""
    if isinstance(task, ChoiceTask):
        return {"option": right_option(task, variant.model)}
    if isinstance(task, SeveralTask):
        return {"ticked": sorted(right_ticks(task, variant, variant.model))}
    if isinstance(task, OrderTask):
        return {"order": list(task.right_order)}
    if isinstance(task, SpotsTask):
        return {"values": [float(variant.model.value(key)) for key in task.keys], "unit": "°"}
    if isinstance(task, NumberTask):
        shown = measures.shown_as(quantity_of(task.key).measure, variant.units)
        value = float(variant.model.value(task.key)) / shown.factor
        return {"value": None if math.isnan(value) else value, "unit": shown.unit}
    return {}
