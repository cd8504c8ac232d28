"""Answers in words for people: the student's own, and the line of the answer key."""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from app.compute import placement
from app.domain.answers import (
    Answer,
    ChoiceAnswer,
    NumberAnswer,
    OrderAnswer,
    PlacementAnswer,
    SeveralAnswer,
    SpotsAnswer,
    TextAnswer,
    measure_of,
    positions_of,
)
from app.domain.bench import judging
from app.domain.marking.numbers import right_number
from app.domain.measures import Measure, show
from app.domain.model import Model
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
from app.domain.variants import Variant


def right_option(task: ChoiceTask, model: Model) -> str:
    """The id of the right option."""
    return task.right if task.right is not None else str(model.value(task.key or ""))


def option_text(task: ChoiceTask, option_id: str) -> str:
    """The words of an option; the id itself where the task has no such option."""
    return next((option.text for option in task.options if option.id == option_id), option_id)


def right_ticks(task: SeveralTask, variant: Variant, model: Model) -> frozenset[str]:
    """The ids of what is to be ticked."""
    if task.key is None:
        return frozenset(task.right)
    holds = np.asarray(model.value(task.key))
    return frozenset(
        letter for letter, true in zip(variant.scenario.assembly_ids, holds, strict=True) if true
    )


def ticks_text(task: SeveralTask, ticks: Iterable[str]) -> str:
    """Letters of assemblies, or the words of own options in the author's order."""
    if not task.options:
        return ", ".join(sorted(ticks)) or "none of them"
    ticked = set(ticks)
    return "; ".join(option.text for option in task.options if option.id in ticked)


def angles_text(angles_deg: Iterable[float], variant: Variant) -> str:
    return ", ".join(show(float(angle), Measure.ANGLE, variant.units) for angle in angles_deg)


def order_text(task: OrderTask, order: Sequence[str]) -> str:
    """The steps by their numbers, one on each line."""
    return "\n".join(f"{place}. {task.step(name).text}" for place, name in enumerate(order, 1))


def placement_text(positions: Mapping[str, str]) -> str:
    return ", ".join(f"{position} {letter}" for position, letter in positions.items())


def understood_text(task: AnyTask, answer: Answer, variant: Variant) -> str:
    """The student's answer as it was understood: a number in the class's units."""
    if isinstance(answer, NumberAnswer):
        return show(answer.value, measure_of(task) or Measure.COUNT, variant.units)
    return answer_text(task, answer, variant)


def answer_text(task: AnyTask, answer: Answer, variant: Variant) -> str:
    """The student's answer for people: their own typing of a number, the words of an option."""
    match answer:
        case NumberAnswer(typed=typed):
            understood = understood_text(task, answer, variant)
            return typed if typed == understood else f"{typed} ({understood})"
        case ChoiceAnswer(option=option):
            return option_text(task, option) if isinstance(task, ChoiceTask) else option
        case SpotsAnswer(typed=typed, angles_deg=angles_deg):
            understood = angles_text(angles_deg, variant)
            return typed if typed == understood else f"{typed} ({understood})"
        case SeveralAnswer(ticked=ticked):
            return ticks_text(task, ticked) if isinstance(task, SeveralTask) else ", ".join(sorted(ticked))
        case OrderAnswer(order=order):
            return order_text(task, order) if isinstance(task, OrderTask) else ", ".join(order)
        case PlacementAnswer(positions=positions):
            return placement_text(positions)
        case TextAnswer(text=text):
            return text


def right_answer_text(task: AnyTask, variant: Variant) -> str:
    """The answer key's line for one task of a variant."""
    match task:
        case NumberTask():
            return right_number(task, variant.model, variant.units).words
        case ChoiceTask():
            return option_text(task, right_option(task, variant.model))
        case SeveralTask():
            return ticks_text(task, right_ticks(task, variant, variant.model))
        case SpotsTask():
            return angles_text(sorted(float(variant.model.value(key)) for key in task.keys), variant)
        case OrderTask():
            others = "\nOther orders that keep each required pair are right too."
            return order_text(task, task.right_order) + ("" if task.has_one_order else others)
        case PlacementTask():
            best = np.flatnonzero(placement.is_best(variant.model.value(task.key)))
            return " or ".join(placement_text(positions_of(int(row), variant.scenario)) for row in best)
        case TextTask():
            return f"For the instructor to mark: {task.rubric_in_words}"
        case BenchTask():
            return judging.goal(variant, task)
