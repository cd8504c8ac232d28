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


def judge(task: AnyTask, answer: Answer, variant: Variant, model: Model) -> Judgement:
    """The answer to a task that the machine marks. model: the variant's, or with own earlier values in it."""
    match task, answer:
        case NumberTask(), NumberAnswer():
            return _judge_number(task, answer, variant, model)
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
        tolerance = task.tolerance.scaled(turn.scale)
        if bool(within(measure, tolerance, float(wrong), answer.value)):
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
