"""Work at the bench that an earlier release stored still gives what it gave: the numbers, not the words.

A file holds its scenario, a seed, the actions as they were kept, and what each gave.
Each release may add a file; none is ever changed.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from app.domain.bench import BenchState, Observation, replay
from app.domain.measures import UnitSystem
from app.domain.scenario import parse
from app.domain.variants import draw

STORED = sorted((Path(__file__).parent / "stored").glob("*.json"))


def numbers(state: BenchState, seen: tuple[Observation, ...]) -> dict[str, Any]:
    """What must stay as it was; rounded where the last bits of a sum may differ between machines."""
    return {
        "read": [
            [list(each.readings.angles_deg), [round(value, 6) for value in each.readings.values]]
            if each.readings
            else None
            for each in seen
        ],
        "refused": [place for place, each in enumerate(seen) if each.refused],
        "minutes": [each.minutes for each in seen],
        "broken": [[each.rule, each.assembly, each.at] for each in state.broken],
        "cautions": list(state.cautions),
        "stands": {each.id: [each.where, each.beads, len(each.weights)] for each in state.assemblies},
        "counts": [state.number, state.spins, state.pieces],
    }


def test_there_is_stored_work_of_both_unit_systems() -> None:
    assert {json.loads(path.read_text(encoding="utf-8"))["units"] for path in STORED} == set(UnitSystem)


@pytest.mark.parametrize("path", STORED, ids=lambda path: path.stem)
def test_stored_work_gives_what_it_gave(path: Path) -> None:
    stored = json.loads(path.read_text(encoding="utf-8"))
    variant = draw(parse(stored["scenario"]), stored["seed"], UnitSystem(stored["units"]))
    assert numbers(*replay(variant, stored["actions"])) == stored["gave"]
