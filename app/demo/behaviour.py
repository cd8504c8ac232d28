"""How an invented student works a lab: mostly right, with the slips that real ones make."""

import math
from dataclasses import dataclass
from random import Random

import numpy as np

from app.compute.placement import ARRANGEMENTS
from app.demo.written import BY_PROMPT, REASONS, UNDER_ANY_PROMPT
from app.domain.answers import NONE_OF_THEM, Raw, positions_of, tickable
from app.domain.marking import right_option
from app.domain.marking.words import right_ticks
from app.domain.measures import Measure, show
from app.domain.model import quantity_of
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
from app.domain.wrong_turns import wrong_turns


@dataclass(frozen=True)
class Habits:
    """skill: chance that an answer is right; diligence: chance that it is given, and the sheet written."""

    skill: float
    diligence: float


def habits_of(chance: Random) -> Habits:
    return Habits(skill=min(0.97, max(0.35, chance.gauss(0.76, 0.15))), diligence=chance.uniform(0.8, 1.0))


def work(variant: Variant, habits: Habits, chance: Random) -> dict[str, Raw]:
    """What this student types into one lab."""
    answers: dict[str, Raw] = {}
    for task in variant.scenario.tasks:
        if chance.random() < habits.diligence or chance.random() < 0.7:
            answers[task.id] = _answer(task, variant, right=chance.random() < habits.skill, chance=chance)
    return answers


def reflect(habits: Habits, prompt_id: str, chance: Random) -> str:
    """What this student writes under a prompt of a reflection sheet; now and then nothing."""
    text = chance.choice(BY_PROMPT.get(prompt_id, UNDER_ANY_PROMPT))
    return text if chance.random() < habits.diligence else ""


def _answer(task: AnyTask, variant: Variant, *, right: bool, chance: Random) -> Raw:
    match task:
        case NumberTask():
            return _number(task, variant, right=right, chance=chance)
        case ChoiceTask():
            answer = right_option(task, variant.model)
            return answer if right else chance.choice([o.id for o in task.options if o.id != answer])
        case SeveralTask():
            return _several(task, variant, right=right, chance=chance)
        case SpotsTask():
            slip = 0.0 if right else chance.choice((180.0, 90.0, 35.0))
            places = (float(variant.model.value(key)) + slip for key in task.keys)
            return ", ".join(show(place, Measure.ANGLE, variant.units) for place in places)
        case OrderTask():
            order = list(task.right_order)
            if not right:
                place = chance.randrange(len(order) - 1)
                order[place : place + 2] = reversed(order[place : place + 2])
            return {step: str(place) for place, step in enumerate(order, 1)}
        case PlacementTask():
            costs = np.asarray(variant.model.value(task.key))
            rank = 0 if right else chance.randrange(1, len(ARRANGEMENTS))
            return positions_of(int(np.argsort(costs, kind="stable")[rank]), variant.scenario)
        case TextTask():
            return chance.choice(REASONS)
        case BenchTask():
            return None


def _number(task: NumberTask, variant: Variant, *, right: bool, chance: Random) -> str:
    measure = quantity_of(task.key).measure
    value = float(variant.model.value(task.key))
    if right:
        return _typed(_read_off(value, measure, task, chance), measure, variant)
    slips = [float(wrong) for turn, wrong in wrong_turns(variant.model, task.key) if turn.always_differs]
    slips = [slip for slip in slips if math.isfinite(slip)]  # where a slip leads to nothing, nobody types it
    if slips and chance.random() < 0.7:
        return _typed(chance.choice(slips), measure, variant)
    if measure in (Measure.ANGLE, Measure.TURN):
        return _typed(value + chance.choice((-1, 1)) * chance.uniform(20, 80), measure, variant)
    return _typed(value * chance.choice((0.6, 0.75, 1.3, 1.6)) + (measure is Measure.YEARS), measure, variant)


def _read_off(value: float, measure: Measure, task: NumberTask, chance: Random) -> float:
    """A right value as read off a drawing: a little beside it, and no size below zero."""
    beside = value + chance.uniform(-0.5, 0.5) * float(task.tolerance.around(value))
    return beside if measure in (Measure.ANGLE, Measure.TURN) else max(0.0, beside)


def _typed(value: float, measure: Measure, variant: Variant) -> str:
    words = {"counterclockwise": "ccw", "clockwise": "cw", "° (no turn)": ""}
    typed = show(value, measure, variant.units)
    for shown, short in words.items():
        typed = typed.replace(shown, short)
    return typed


def _several(task: SeveralTask, variant: Variant, *, right: bool, chance: Random) -> list[str]:
    ticked = set(right_ticks(task, variant, variant.model))
    if not right:
        names = [name for name, _ in tickable(task, variant.scenario) if name != NONE_OF_THEM]
        ticked ^= {chance.choice(names)}
    return sorted(ticked) or ([] if task.options else [NONE_OF_THEM])
