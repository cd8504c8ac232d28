"""What 200 students would get: their right answers, and why draws are thrown away."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from app.compute.placement import ARRANGEMENTS, POSITIONS
from app.domain.draws import Draw, Numbers, seed_of
from app.domain.marking import placement_text
from app.domain.measures import Measure, UnitSystem
from app.domain.model import Model, quantity_of
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, keys_of
from app.domain.truth import draw_truth
from app.domain.variants import draw_many
from app.domain.well_posed import refusals

COUNT = 200


@dataclass(frozen=True)
class NumberSpread:
    """The right answers to one question in its measure's inside unit, (n,)."""

    task: AnyTask
    key: str
    measure: Measure
    values: Numbers


@dataclass(frozen=True)
class WordSpread:
    """How often each right answer in words occurs, the most frequent first."""

    task: AnyTask
    counts: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Thrown:
    """A reason for which draws are thrown away, and how many of those looked at; one may have several."""

    reason: str
    draws: int


@dataclass(frozen=True)
class Preview:
    """count: of variants, and of first draws. thrown: how many first draws no student gets."""

    count: int
    thrown: int
    reasons: tuple[Thrown, ...]
    spreads: tuple[NumberSpread | WordSpread, ...]


def preview(scenario: Scenario, units: UnitSystem, count: int = COUNT) -> Preview:
    """Of a scenario that can be used. Raises NotWellPosed when its draws are hardly ever accepted.

    units: of the class; the shelf's weights and the instruments' steps go by them.
    """
    seeds = np.array([seed_of("preview", str(number)) for number in range(count)], dtype=np.uint64)
    first = Model(draw_truth(scenario, Draw(seeds, np.zeros_like(seeds)), units))
    masks: dict[str, Any] = {}
    for reason, mask in refusals(scenario, first):
        masks[reason] = masks.get(reason, False) | np.broadcast_to(mask, seeds.shape)
    thrown = np.any(list(masks.values()), axis=0) if masks else np.zeros(count, dtype=bool)
    reasons = [Thrown(reason, int(mask.sum())) for reason, mask in masks.items() if mask.any()]
    model = draw_many(scenario, seeds, units)
    spreads = (_spread(task, key, model, seeds.shape) for task in scenario.tasks for key in keys_of(task))
    return Preview(
        count=count,
        thrown=int(thrown.sum()),
        reasons=tuple(sorted(reasons, key=lambda each: -each.draws)),
        spreads=tuple(spreads),
    )


def _spread(task: AnyTask, key: str, model: Model, shape: tuple[int, ...]) -> NumberSpread | WordSpread:
    measure = quantity_of(key).measure
    value = np.asarray(model.value(key))
    if measure is Measure.CHOICE:
        return WordSpread(task, _counted(np.broadcast_to(value, shape)))
    letters = tuple(model.truth.assemblies)
    if measure is Measure.SEVERAL:
        ticked = np.broadcast_to(value, (*shape, len(letters)))
        words = [", ".join(np.array(letters)[row]) or "none of them" for row in ticked]
        return WordSpread(task, _counted(np.array(words)))
    if measure is Measure.PLACEMENT:
        best = np.nanargmin(np.broadcast_to(value, (*shape, value.shape[-1])), axis=-1)
        return WordSpread(task, _counted(np.array([_placed(row, letters) for row in best])))
    return NumberSpread(task, key, measure, np.broadcast_to(np.asarray(value, dtype=float), shape))


def _placed(arrangement: int, letters: tuple[str, ...]) -> str:
    places = zip(POSITIONS, ARRANGEMENTS[arrangement], strict=True)
    return str(placement_text({position: letters[index] for position, index in places}))


def _counted(words: Any) -> tuple[tuple[str, int], ...]:
    found, counts = np.unique(words, return_counts=True)
    pairs = [(str(word), int(count)) for word, count in zip(found, counts, strict=True)]
    return tuple(sorted(pairs, key=lambda pair: (-pair[1], pair[0])))
