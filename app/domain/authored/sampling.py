"""One sample variant of a scenario that is still written, and the key to its tasks."""

from dataclasses import dataclass

import numpy as np

from app.compute.errors import ComputeError
from app.domain.draws import Draw, seed_of
from app.domain.marking import right_answer_text
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask
from app.domain.truth import draw_truth
from app.domain.variants import Variant, refused

TRIES = 64
"""Draws looked at for a sample; a scenario that can be used has an accepted one among them nearly always."""


@dataclass(frozen=True)
class SampleVariant:
    """accepted: whether a student could get it. Where no draw is accepted, the first one is shown."""

    variant: Variant
    accepted: bool


@dataclass(frozen=True)
class KeyLine:
    """A task as it is asked, and its right answer in words."""

    title: str
    right_answer: str


def sample_variant(scenario: Scenario, number: int, units: UnitSystem) -> SampleVariant | None:
    """The sample of a number; None where nothing can be computed yet from what is written."""
    seed = seed_of("draft", str(number))
    seeds = np.array([seed], dtype=np.uint64)
    tries = np.arange(TRIES, dtype=np.uint64)
    try:
        good = np.flatnonzero(~refused(scenario, seeds, tries, units))
        first = tries[good[0]] if good.size else tries[0]
        truth = draw_truth(scenario, Draw(seeds[0], first), units)
    except (ComputeError, LookupError, ValueError):
        return None
    return SampleVariant(Variant(scenario, seed, units, truth, Model(truth)), bool(good.size))


def key_of_task(task_id: str, variant: Variant) -> tuple[KeyLine, ...]:
    """The key of one authored task: a line for each assembly where it asks every one. Empty where it can't be
    computed."""
    asked = [task for task in variant.scenario.tasks if task.id == task_id or _asks_one_of(task, task_id)]
    try:
        return tuple(KeyLine(task.title, right_answer_text(task, variant)) for task in asked)
    except (ComputeError, LookupError, ValueError):
        return ()


def _asks_one_of(task: AnyTask, task_id: str) -> bool:
    """Whether this is the question about one assembly of a task that asks every one."""
    name, _, letter = task.id.rpartition("-")
    return name == task_id and letter.isalnum() and len(letter) <= 2
