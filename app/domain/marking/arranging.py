"""Judging what is put in order and what is put in its place: part points for both."""

import numpy as np

from app.compute import placement
from app.domain.answers import OrderAnswer, PlacementAnswer
from app.domain.marking.mark import Judgement
from app.domain.measures import Measure, show
from app.domain.model import Model, placing
from app.domain.tasks import OrderTask, PlacementTask
from app.domain.tasks.order import broken
from app.domain.variants import Variant
from app.domain.wrong_turns import mirrored_costs

MOST_NAMED_PAIRS = 3
"""A reason names so many broken pairs of an order; mending these often mends the rest."""


def judge_order(task: OrderTask, answer: OrderAnswer) -> Judgement:
    """The share of the required pairs that are kept."""
    required = task.required_pairs
    wrong = broken(required, answer.order)
    if not wrong:
        return Judgement(1.0, f"Right: each of the {len(required)} required pairs is kept.")
    kept = len(required) - len(wrong)
    # What the author wrote explains more than what follows from it, and where that is kept the rest is too.
    named = broken(task.written_pairs, answer.order)[:MOST_NAMED_PAIRS]
    faults = " ".join(_pair_fault(task, first, second) for first, second in named)
    return Judgement(kept / len(required), f"{kept} of {len(required)} required pairs are kept. {faults}")


def _pair_fault(task: OrderTask, first: str, second: str) -> str:
    before, after = task.step(first), task.step(second)
    why = f": {after.because}" if after.because else "."
    return f"“{after.text}” comes after “{before.text}”{why}"


def judge_placement(
    task: PlacementTask, answer: PlacementAnswer, variant: Variant, model: Model
) -> Judgement:
    """How far the cost has come from the worst arrangement to the best one; nothing for one not permitted."""
    costs = np.asarray(model.value(task.key), dtype=float)
    best, worst, yours = costs.min(), float(placement.worst_cost(costs)), costs[answer.arrangement]
    if not np.isfinite(yours):
        return Judgement(0.0, _misplaced(answer, model))

    def felt(cost: float) -> str:
        return show(float(cost), Measure.FORCE, variant.units)

    words = f"Your arrangement costs {felt(yours)}; the best costs {felt(best)} and the worst {felt(worst)}."
    if placement.is_best(costs)[answer.arrangement]:
        return Judgement(1.0, f"Right: no arrangement costs less than {felt(best)}.")
    share = float((worst - yours) / (worst - best))
    mirrored = mirrored_costs(model, task.key)
    if mirrored is not None and placement.is_best(mirrored[1])[answer.arrangement]:
        return Judgement(share, f"{mirrored[0].words} {words}", mirrored[0].id)
    return Judgement(share, words)


def _misplaced(answer: PlacementAnswer, model: Model) -> str:
    reasons = (
        (letter, position, placing.why_not(model.assembly(letter), position))
        for position, letter in answer.positions.items()
    )
    return " ".join(
        f"Assembly {letter} may not go to {position}: {reason}."
        for letter, position, reason in reasons
        if reason
    )
