"""Writes down a few variants with their keys, so that a later release can't change them unseen.

A class that is half-way through an assignment keeps its numbers over an update. When a change of the drawing
is meant, raise DRAWING_VERSION and run `python -m tests.domain.golden_variants`. A new scenario, or a change
of a scenario's own ranges, which is a new version of it, is written down by
`python -m tests.domain.golden_variants ID`.
"""

import json
import sys
from pathlib import Path
from typing import Any

import numpy as np

from app.compute import placement
from app.domain.answers import positions_of
from app.domain.marking import right_option
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from app.domain.tasks import (
    AnyTask,
    BenchTask,
    ChoiceTask,
    NumberTask,
    OrderTask,
    PlacementTask,
    SeveralTask,
    SpotsTask,
    TextTask,
)
from app.domain.variants import Variant, draw, tries_until_well_posed
from tests.domain.writing import answered_labs, shipped

FOLDER = Path(__file__).parent / "golden"
SEEDS = (0, 1, 20_261_005, 2**64 - 1)


def key_of(variant: Variant) -> dict[str, Any]:
    """The right answer of each task: a number (inside unit), an option, ticks, spots or all best placements.

    What is the same for every seed, an order or a fixed choice, stands there too: it belongs to the key.
    """
    return {
        task.id: _right(task, variant)
        for task in variant.scenario.tasks
        if not isinstance(task, TextTask | BenchTask)
    }


def _right(task: AnyTask, variant: Variant) -> Any:
    model = variant.model
    match task:
        case ChoiceTask():
            return right_option(task, model)
        case OrderTask():
            return list(task.right_order)
        case SpotsTask():
            return [round(float(model.value(key)), 6) for key in task.keys]
        case SeveralTask():
            return list(task.right) if task.key is None else np.asarray(model.value(task.key)).tolist()
        case PlacementTask():
            value = np.asarray(model.value(task.key))
            best = np.flatnonzero(placement.is_best(value))
            rows = [positions_of(int(row), variant.scenario) for row in best]
            return [" ".join(row.values()) for row in rows]
        case NumberTask():
            return round(float(model.value(task.key)), 6)
        case _:
            raise TypeError(f"{type(task).__name__} has no right answer to write down")


def golden_file(scenario_id: str) -> Path:
    return FOLDER / f"{scenario_id}.json"


def golden(scenario_id: str) -> dict[str, Any]:
    """By unit system and seed: how many draws were refused, and the key."""
    return {
        units.value: {str(seed): _drawn(shipped(scenario_id), seed, units) for seed in SEEDS}
        for units in UnitSystem
    }


def _drawn(scenario: Scenario, seed: int, units: UnitSystem) -> dict[str, Any]:
    tries = tries_until_well_posed(scenario, np.array([seed], dtype=np.uint64), units)
    return {"tries": int(tries[0]), "key": key_of(draw(scenario, seed, units))}


if __name__ == "__main__":
    for scenario_id in sys.argv[1:] or answered_labs():
        text = json.dumps(golden(scenario_id), indent=1) + "\n"
        golden_file(scenario_id).write_text(text, encoding="utf-8")
