"""Writes down a few variants with their keys, so that a later release can't change them unseen.

A class that is half-way through an assignment keeps its numbers over an update. When a change of the drawing
is meant, raise DRAWING_VERSION and run `python -m tests.domain.golden_variants`. A change of a shipped
scenario's own ranges is a new version of that scenario, and is written down the same way.
"""

import json
from pathlib import Path
from typing import Any

import numpy as np

from app.domain.answers import positions_of
from app.domain.marking import right_option
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from app.domain.tasks import ChoiceTask, PlacementTask, SeveralTask, TextTask
from app.domain.variants import Variant, draw, tries_until_well_posed
from tests.domain.writing import SHIPPED, shipped

FILE = Path(__file__).parent / "golden" / "variants.json"
SEEDS = (0, 1, 20_261_005, 2**64 - 1)


def key_of(variant: Variant) -> dict[str, Any]:
    """The right answer of each task: a number (inside unit), an option, letters, or all best placements."""
    key: dict[str, Any] = {}
    for task in variant.scenario.tasks:
        if isinstance(task, TextTask):
            continue
        if isinstance(task, ChoiceTask):
            key[task.id] = right_option(task, variant.model)
            continue
        value = np.asarray(variant.model.value(task.key))
        if isinstance(task, SeveralTask):
            key[task.id] = value.tolist()
        elif isinstance(task, PlacementTask):
            best = np.flatnonzero(value <= value.min() + 1e-9 * value.max())
            rows = [positions_of(int(row), variant.scenario) for row in best]
            key[task.id] = [" ".join(row.values()) for row in rows]
        else:
            key[task.id] = round(float(value), 6)
    return key


def golden() -> dict[str, Any]:
    return {
        scenario_id: {
            units.value: {str(seed): _drawn(shipped(scenario_id), seed, units) for seed in SEEDS}
            for units in UnitSystem
        }
        for scenario_id in SHIPPED
    }


def _drawn(scenario: Scenario, seed: int, units: UnitSystem) -> dict[str, Any]:
    tries = tries_until_well_posed(scenario, np.array([seed], dtype=np.uint64), units)
    return {"tries": int(tries[0]), "key": key_of(draw(scenario, seed, units))}


if __name__ == "__main__":
    FILE.write_text(json.dumps(golden(), indent=1) + "\n", encoding="utf-8")
