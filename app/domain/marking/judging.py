"""One answer against what a model says is right: the share of the points that it earns, and why."""

import numpy as np

from app.compute import angles, placement
from app.domain.answers import Answer, ChoiceAnswer, NumberAnswer, OrderAnswer, PlacementAnswer, SeveralAnswer
from app.domain.marking.mark import Judgement
from app.domain.marking.words import letters_text, option_text, right_letters, right_option
from app.domain.measures import Measure, show
from app.domain.model import Model, quantity_of
from app.domain.tasks import AnyTask, ChoiceTask, NumberTask, OrderTask, PlacementTask, SeveralTask
from app.domain.tasks.order import broken
from app.domain.variants import Variant
from app.domain.well_posed import within
from app.domain.wrong_turns import mirrored_costs, wrong_turns

MOST_NAMED_PAIRS = 3
"""A reason names so many broken pairs of an order; mending these often mends the rest."""


def judge(task: AnyTask, answer: Answer, variant: Variant, model: Model) -> Judgement:
    """The answer to a task that the machine marks. model: the variant's, or with own earlier values in it."""
    match task, answer:
        case NumberTask(), NumberAnswer():
            return _judge_number(task, answer, variant, model)
        case ChoiceTask(), ChoiceAnswer():
            right = right_option(task, model)
            if answer.option == right:
                return Judgement(1.0, "Right.")
            return Judgement(0.0, f"It is “{option_text(task, right)}”.")
        case SeveralTask(), SeveralAnswer():
            return _judge_several(answer, right_letters(task, variant, model))
        case OrderTask(), OrderAnswer():
            return _judge_order(task, answer)
        case PlacementTask(), PlacementAnswer():
            return _judge_placement(task, answer, variant, model)
        case _:
            raise TypeError(f"{type(task).__name__} can't be answered by {type(answer).__name__}")


def _judge_number(task: NumberTask, answer: NumberAnswer, variant: Variant, model: Model) -> Judgement:
    measure = quantity_of(task.key).measure
    right = float(model.value(task.key))

    def words(value: float) -> str:
        return show(value, measure, variant.units)

    if bool(within(measure, task.tolerance, right, answer.value)):
        allowed = float(task.tolerance.around(right))
        if not allowed or words(right) == words(answer.value):
            return Judgement(1.0, f"Right: {words(right)}.")
        return Judgement(1.0, f"Right: within {_size(allowed, measure, variant)} of {words(right)}.")
    for turn, wrong in wrong_turns(model, task.key):
        if bool(within(measure, task.tolerance, float(wrong), answer.value)):
            return Judgement(
                0.0, f"{turn.words} Yours: {words(answer.value)}; right: {words(right)}.", turn.id
            )
    if measure in (Measure.ANGLE, Measure.TURN):
        off = float(angles.difference(answer.value, right))
        way = "clockwise" if off > 0 else "counterclockwise"
        return Judgement(0.0, f"Your {words(answer.value)} is {abs(off):.0f}° {way} of {words(right)}.")
    off = answer.value - right
    way = "more" if off > 0 else "less"
    return Judgement(
        0.0, f"Your {words(answer.value)} is {_size(abs(off), measure, variant)} {way} than {words(right)}."
    )


def _size(value: float, measure: Measure, variant: Variant) -> str:
    return f"{value:g}°" if measure in (Measure.ANGLE, Measure.TURN) else show(value, measure, variant.units)


def _judge_several(answer: SeveralAnswer, right: frozenset[str]) -> Judgement:
    if answer.letters == right:
        return Judgement(1.0, f"Right: {letters_text(right)}.")
    missed, extra = right - answer.letters, answer.letters - right
    parts = []
    if missed:
        parts.append(f"{letters_text(missed)} {'belongs' if len(missed) == 1 else 'belong'} to it too")
    if extra:
        parts.append(f"{letters_text(extra)} {'does' if len(extra) == 1 else 'do'} not")
    return Judgement(0.0, "; ".join(parts) + ".")


def _judge_order(task: OrderTask, answer: OrderAnswer) -> Judgement:
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


def _judge_placement(
    task: PlacementTask, answer: PlacementAnswer, variant: Variant, model: Model
) -> Judgement:
    costs = np.asarray(model.value(task.key), dtype=float)
    best, worst, yours = costs.min(), costs.max(), costs[answer.arrangement]

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
