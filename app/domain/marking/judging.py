"""One answer against what a model says is right: the share of the points that it earns, and why."""

from app.compute import angles
from app.domain.answers import (
    Answer,
    ChoiceAnswer,
    NumberAnswer,
    OrderAnswer,
    PlacementAnswer,
    SeveralAnswer,
    SpotsAnswer,
)
from app.domain.marking.arranging import judge_order, judge_placement
from app.domain.marking.collecting import judge_several, judge_spots
from app.domain.marking.mark import Judgement
from app.domain.marking.numbers import RightNumber, right_number
from app.domain.marking.words import option_text, right_option
from app.domain.measures import Measure, show
from app.domain.model import Model, quantity_of
from app.domain.tasks import (
    AnyTask,
    ChoiceTask,
    NumberTask,
    OrderTask,
    PlacementTask,
    SeveralTask,
    SpotsTask,
)
from app.domain.variants import Variant
from app.domain.well_posed import within
from app.domain.wrong_turns import wrong_turns


def judge(
    task: AnyTask, answer: Answer, variant: Variant, model: Model, number: RightNumber | None = None
) -> Judgement:
    """The answer to a task that the machine marks. model: the variant's, or with own earlier values in it.

    number: the right one by this model, where it is known already.
    """
    match task, answer:
        case NumberTask(), NumberAnswer():
            right = number or right_number(task, model, variant.units)
            return _judge_number(task, answer, variant, model, right)
        case ChoiceTask(), ChoiceAnswer():
            return _judge_choice(task, answer, model)
        case SeveralTask(), SeveralAnswer():
            return judge_several(task, answer, variant, model)
        case SpotsTask(), SpotsAnswer():
            return judge_spots(task, answer, variant, model)
        case OrderTask(), OrderAnswer():
            return judge_order(task, answer)
        case PlacementTask(), PlacementAnswer():
            return judge_placement(task, answer, variant, model)
        case _:
            raise TypeError(f"{type(task).__name__} can't be answered by {type(answer).__name__}")


def _judge_choice(task: ChoiceTask, answer: ChoiceAnswer, model: Model) -> Judgement:
    right = right_option(task, model)
    if answer.option == right:
        return Judgement(1.0, "Right.")
    chosen = next(option for option in task.options if option.id == answer.option)
    why = f"{chosen.because} " if chosen.because else ""
    return Judgement(0.0, f"{why}It is “{option_text(task, right)}”.")


def _judge_number(
    task: NumberTask, answer: NumberAnswer, variant: Variant, model: Model, right: RightNumber
) -> Judgement:
    measure = quantity_of(task.key).measure
    around = measure in (Measure.ANGLE, Measure.TURN)
    off = float(angles.difference(answer.value, right.value)) if around else answer.value - right.value
    yours = show(answer.value, measure, variant.units)
    if abs(off) <= right.reach:
        if not right.allowed or yours == right.words:
            return Judgement(1.0, f"Right: {right.words}.")
        return Judgement(1.0, f"Right: within {_size(right.allowed, measure, variant)} of {right.words}.")
    for turn, wrong in wrong_turns(model, task.key):
        tolerance = task.tolerance.scaled(turn.scale)
        if bool(within(measure, tolerance, float(wrong), answer.value)):
            return Judgement(0.0, f"{turn.words} Yours: {yours}; right: {right.words}.", turn.id)
    if around:
        way = "clockwise" if off > 0 else "counterclockwise"
        return Judgement(0.0, f"Your {yours} is {abs(off):.0f}° {way} of {right.words}.")
    way = "more" if off > 0 else "less"
    return Judgement(0.0, f"Your {yours} is {_size(abs(off), measure, variant)} {way} than {right.words}.")


def _size(value: float, measure: Measure, variant: Variant) -> str:
    return f"{value:g}°" if measure in (Measure.ANGLE, Measure.TURN) else show(value, measure, variant.units)
