"""One student's numbers: drawn from the scenario by a seed, drawn again until they are well-posed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.domain.draws import DRAWING_VERSION, Draw, Seeds
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.truth import Truth, draw_truth
from app.domain.well_posed import refusals

MOST_TRIES = 2000
"""A scenario is refused when fewer than 1 draw in 50 is accepted, so no variant ever needs nearly as many."""


DRAWN_TOGETHER = 32
"""Draws looked at in one go when few seeds wait."""


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
    waiting, first = np.arange(len(seeds)), 0
    while waiting.size:
        if first >= MOST_TRIES:
            raise NotWellPosed(f"no well-posed variant of {scenario.id} in {first} draws")
        # The fewer seeds wait, the more tries of each are looked at together: numpy likes full arrays.
        together = np.arange(first, first + max(1, DRAWN_TOGETHER // waiting.size), dtype=np.uint64)
        refused_tries = refused(scenario, seeds[waiting, np.newaxis], together, units)
        tries[waiting] = together[np.argmin(refused_tries, axis=1)]
        waiting = waiting[np.all(refused_tries, axis=1)]
        first += len(together)
    return tries


def refused(scenario: Scenario, seeds: Seeds, tries: Seeds, units: UnitSystem) -> NDArray[np.bool_]:
    """Whether each draw is refused. seeds, tries: shapes that broadcast to (...). Returns (...)."""
    draw_of = Draw(seeds, tries)
    model = Model(draw_truth(scenario, draw_of, units))
    any_reason = np.zeros(draw_of.shape, dtype=bool)
    for _, mask in refusals(scenario, model):
        any_reason |= mask
    return any_reason
