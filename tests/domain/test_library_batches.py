"""Ten thousand variants of each shipped scenario: each solvable and determined, no slip counted right.

What `app.domain.well_posed` promises is looked at again here by plain comparisons, over seeds that no other
test uses.
"""

import numpy as np
import pytest

from app.compute import placement
from app.domain.measures import Measure, UnitSystem
from app.domain.model import Model, quantity_of
from app.domain.references import is_reference
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, ChoiceTask, NumberTask, PlacementTask, SeveralTask
from app.domain.variants import draw_many
from app.domain.wrong_turns import wrong_turns
from tests.domain.writing import library, shipped

MANY = 10_000
FIRST_SEED = 2**40


@pytest.mark.slow
@pytest.mark.parametrize("scenario_id", library())
def test_ten_thousand_variants_are_solvable_determined_and_safe_from_slips(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    # Each unit system takes half of the seeds, since the two differ in rounding and in stock alone.
    halves = np.split(np.arange(FIRST_SEED, FIRST_SEED + MANY, dtype=np.uint64), len(UnitSystem))
    for units, seeds in zip(UnitSystem, halves, strict=True):
        model = draw_many(scenario, seeds, units)  # raises NotWellPosed for a seed without a variant
        for task in scenario.tasks:
            look_at(task, scenario, model, len(seeds))


def look_at(task: AnyTask, scenario: Scenario, model: Model, count: int) -> None:
    match task:
        case NumberTask():
            values = np.broadcast_to(np.asarray(model.value(task.key), dtype=float), (count,))
            assert np.isfinite(values).all(), task.id
            for turn, wrong in wrong_turns(model, task.key) if is_reference(task.key) else ():
                if turn.always_differs:
                    assert not is_taken_for_right(task, values, wrong).any(), (task.id, turn.id)
        case PlacementTask():
            costs = np.broadcast_to(model.value(task.key), (count, len(placement.ARRANGEMENTS)))
            best = costs.min(axis=-1, keepdims=True)
            assert np.isfinite(best).all(), task.id
            # Every arrangement that costs the least is accepted, and none that costs more.
            least = costs - best <= 1e-9 * np.abs(best) + 1e-12
            assert (placement.is_best(costs) == least).all(), task.id
        case ChoiceTask() if task.key is not None:
            options = {option.id for option in task.options}
            assert set(np.unique(model.value(task.key)).tolist()) <= options, task.id
        case SeveralTask() if task.key is not None:
            assert np.shape(model.value(task.key))[-1] == len(scenario.assembly_ids), task.id
        case _:
            return  # an order, words, work at the bench: the same for every seed, or judged by what is done


def is_taken_for_right(task: NumberTask, right: np.ndarray, wrong: np.ndarray) -> np.ndarray:
    off = np.abs(np.asarray(wrong, dtype=float) - right)
    if quantity_of(task.key).measure in (Measure.ANGLE, Measure.TURN):
        off = np.minimum(off % 360, 360 - off % 360)
    widest = np.maximum(task.tolerance.absolute, task.tolerance.relative * np.abs(right))
    return np.less(off, widest * (1 - 1e-9) - 1e-12)
