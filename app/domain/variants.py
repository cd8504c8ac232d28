"""One student's numbers: drawn from the scenario by a seed, drawn again until they are well-posed."""

from dataclasses import dataclass

import numpy as np

from app.domain.draws import DRAWING_VERSION, Draw, Seeds
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.truth import Truth, draw_truth
from app.domain.well_posed import refusals

MOST_TRIES = 2000
"""A scenario is refused when fewer than 1 draw in 50 is accepted, so no variant ever needs nearly as many."""


class NotWellPosed(ValueError):  # noqa: N818 -- says what is so
    """No accepted variant was found; the scenario's ranges leave its answers undetermined."""


class UnknownDrawing(ValueError):  # noqa: N818 -- says what is so
    """The attempt was drawn by a scheme that this release doesn't have."""


@dataclass(frozen=True)
class Variant:
    scenario: Scenario
    seed: int
    units: UnitSystem
    truth: Truth
    model: Model


def draw(scenario: Scenario, seed: int, units: UnitSystem, *, version: int = DRAWING_VERSION) -> Variant:
    """The variant of one seed (0 to 2^64 - 1): the same on every machine and in every later release.

    Raises NotWellPosed, UnknownDrawing.
    """
    if version != DRAWING_VERSION:
        raise UnknownDrawing(f"drawing version {version}; this release draws version {DRAWING_VERSION}")
    seeds = np.array([seed], dtype=np.uint64)
    tries = tries_until_well_posed(scenario, seeds, units)
    truth = draw_truth(scenario, Draw(seeds[0], tries[0]), units)
    return Variant(scenario, seed, units, truth, Model(truth))


def draw_many(scenario: Scenario, seeds: Seeds, units: UnitSystem) -> Model:
    """The model of many variants at once, each as `draw` gives it for its seed. seeds: shape (n,)."""
    tries = tries_until_well_posed(scenario, seeds, units)
    return Model(draw_truth(scenario, Draw(seeds, tries), units))


def tries_until_well_posed(scenario: Scenario, seeds: Seeds, units: UnitSystem) -> Seeds:
    """How many draws each seed was refused before its first accepted one: shape (n,). Raises NotWellPosed."""
    tries = np.zeros(len(seeds), dtype=np.uint64)
    waiting = np.arange(len(seeds))
    for attempt in range(MOST_TRIES):
        tries[waiting] = attempt
        waiting = waiting[refused(scenario, seeds[waiting], tries[waiting], units)]
        if not waiting.size:
            return tries
    raise NotWellPosed(f"no well-posed variant of {scenario.id} in {MOST_TRIES} draws")


def refused(scenario: Scenario, seeds: Seeds, tries: Seeds, units: UnitSystem) -> np.ndarray:
    """Whether each draw is refused: shape (n,) of bool."""
    model = Model(draw_truth(scenario, Draw(seeds, tries), units))
    any_reason = np.zeros(seeds.shape, dtype=bool)
    for _, mask in refusals(scenario, model):
        any_reason |= mask
    return any_reason
