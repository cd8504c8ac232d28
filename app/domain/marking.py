"""Marks: an answer against the student's own right value, with the reason in their own numbers.

The page, the exports and the tests all read the same reasons. Marking is a pure function of variant and
answers, so a regrade is the same call again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np

from app.compute import angles, placement
from app.compute.errors import ComputeError
from app.domain.answers import (
    Answer,
    ChoiceAnswer,
    NumberAnswer,
    PlacementAnswer,
    Raw,
    SeveralAnswer,
    TextAnswer,
    UnreadableAnswer,
    measure_of,
    positions_of,
    read_answer,
)
from app.domain.bench import BenchState, judging
from app.domain.measures import Measure, show
from app.domain.model import Model, quantity_of
from app.domain.tasks import (
    AnyTask,
    BenchTask,
    ChoiceTask,
    FollowingTask,
    NumberTask,
    PlacementTask,
    SeveralTask,
    TextTask,
    key_of,
)
from app.domain.texts import as_shown
from app.domain.variants import Variant
from app.domain.well_posed import within
from app.domain.wrong_turns import mirrored_costs, wrong_turns


class Verdict(StrEnum):
    RIGHT = "right"
    PART = "part"
    WRONG = "wrong"
    BLANK = "blank"
    WAITING = "waiting"
    """For the instructor to mark."""


@dataclass(frozen=True)
class Mark:
    """One answer's mark.

    wrong_turn: the id of the known slip it matches; carried: right for own earlier values that are wrong.
    """

    task_id: str
    verdict: Verdict
    points: float
    out_of: float
    reason: str
    your_answer: str
    right_answer: str
    wrong_turn: str | None = None
    carried: bool = False


@dataclass(frozen=True)
class _Judgement:
    share: float
    reason: str
    wrong_turn: str | None = None
    carried: bool = False


@dataclass(frozen=True)
class _Earlier:
    """What the student gave so far, by task id, and which of it was marked right."""

    values: dict[str, Any]
    right: set[str]


def mark_all(
    variant: Variant, raw_answers: Mapping[str, Raw], bench: BenchState | None = None
) -> tuple[Mark, ...]:
    """A mark for each task of the lab, in order. An unreadable answer earns nothing, with the reason why.

    bench: what the actions at the bench left, where the lab has one.
    """
    earlier = _Earlier({}, set())
    marks = []
    for task in variant.scenario.tasks:
        if isinstance(task, BenchTask):
            marks.append(_bench_mark(task, variant, bench))
            continue
        mark, answer = _mark(task, raw_answers.get(task.id), variant, earlier)
        marks.append(mark)
        if answer is not None and (value := _carried_value(answer, variant)) is not None:
            earlier.values[task.id] = value
        if mark.verdict is Verdict.RIGHT:
            earlier.right.add(task.id)
    return tuple(marks)


def _mark(task: AnyTask, raw: Raw, variant: Variant, earlier: _Earlier) -> tuple[Mark, Answer | None]:
    right_answer = right_answer_text(task, variant)
    try:
        answer = read_answer(task, raw, variant.scenario, variant.units)
    except UnreadableAnswer as error:
        unread = Mark(
            task.id, Verdict.WRONG, 0.0, task.points, str(error), as_shown(str(raw))[:200], right_answer
        )
        return unread, None
    if answer is None:
        return Mark(task.id, Verdict.BLANK, 0.0, task.points, "No answer was given.", "", right_answer), None
    yours = answer_text(task, answer, variant)
    if isinstance(answer, TextAnswer):
        waiting = Mark(
            task.id, Verdict.WAITING, 0.0, task.points, "Your instructor marks this one.", yours, ""
        )
        return waiting, answer
    judged = _judge(task, answer, variant, variant.model)
    followed = _carried_forward(task, answer, variant, earlier) if judged.share < 1 else None
    if followed is not None and followed.share > judged.share:
        judged = followed
    return _as_mark(task, judged, yours, right_answer), answer


def _bench_mark(task: BenchTask, variant: Variant, bench: BenchState | None) -> Mark:
    asked = judging.goal(variant, task)
    if bench is None or bench.number == 0:
        return Mark(task.id, Verdict.BLANK, 0.0, task.points, "Nothing was done at the bench.", "", asked)
    judged = judging.judge(variant, bench, task)
    return _as_mark(task, _Judgement(judged.share, judged.reason), judged.yours, asked)


def _as_mark(task: AnyTask, judged: _Judgement, yours: str, right_answer: str) -> Mark:
    verdict = Verdict.PART if judged.share > 0 else Verdict.WRONG
    if judged.share == 1 and not judged.carried:
        verdict = Verdict.RIGHT
    return Mark(
        task_id=task.id,
        verdict=verdict,
        points=judged.share * task.points,
        out_of=task.points,
        reason=judged.reason,
        your_answer=yours,
        right_answer=right_answer,
        wrong_turn=judged.wrong_turn,
        carried=judged.carried,
    )


def _carried_forward(task: AnyTask, answer: Answer, variant: Variant, earlier: _Earlier) -> _Judgement | None:
    """The answer judged against what follows from the student's own values; None where it doesn't follow.

    Values that are right within their tolerance may add up to one that is not: what follows from right values
    alone is right.
    """
    if not isinstance(task, FollowingTask):
        return None
    keys = {each.id: key for each in variant.scenario.tasks if (key := key_of(each)) is not None}
    followed = [name for name in task.follows if name in keys and name in earlier.values]
    if not followed:
        return None
    own = {keys[name]: earlier.values[name] for name in followed}
    try:
        judged = _judge(task, answer, variant, variant.model.with_given(own))
    except ComputeError:
        # The student's own value is one that nothing can follow from, such as week 60.
        return None
    if judged.share < 1:
        return None
    if earlier.right.issuperset(followed):
        return _Judgement(1.0, "Right: this follows from your own earlier values, which are right.")
    return _Judgement(
        task.carried_share,
        "This follows rightly from your own earlier values, so it earns part points.",
        carried=True,
    )


def _carried_value(answer: Answer, variant: Variant) -> Any:
    match answer:
        case NumberAnswer(value=value):
            return np.asarray(value)
        case ChoiceAnswer(option=option):
            return np.asarray(option)
        case SeveralAnswer(letters=letters):
            return np.asarray([letter in letters for letter in variant.scenario.assembly_ids])
        case _:
            return None


def _judge(task: AnyTask, answer: Answer, variant: Variant, model: Model) -> _Judgement:
    match task, answer:
        case NumberTask(), NumberAnswer():
            return _judge_number(task, answer, variant, model)
        case ChoiceTask(), ChoiceAnswer():
            right = right_option(task, model)
            if answer.option == right:
                return _Judgement(1.0, "Right.")
            return _Judgement(0.0, f"It is “{option_text(task, right)}”.")
        case SeveralTask(), SeveralAnswer():
            return _judge_several(answer, _right_letters(task, variant, model))
        case PlacementTask(), PlacementAnswer():
            return _judge_placement(task, answer, variant, model)
        case _:
            raise TypeError(f"{type(task).__name__} can't be answered by {type(answer).__name__}")


def _judge_number(task: NumberTask, answer: NumberAnswer, variant: Variant, model: Model) -> _Judgement:
    measure = quantity_of(task.key).measure
    right = float(model.value(task.key))

    def words(value: float) -> str:
        return show(value, measure, variant.units)

    if bool(within(measure, task.tolerance, right, answer.value)):
        allowed = float(task.tolerance.around(right))
        if not allowed or words(right) == words(answer.value):
            return _Judgement(1.0, f"Right: {words(right)}.")
        return _Judgement(1.0, f"Right: within {_size(allowed, measure, variant)} of {words(right)}.")
    for turn, wrong in wrong_turns(model, task.key):
        if bool(within(measure, task.tolerance, float(wrong), answer.value)):
            return _Judgement(
                0.0, f"{turn.words} Yours: {words(answer.value)}; right: {words(right)}.", turn.id
            )
    if measure in (Measure.ANGLE, Measure.TURN):
        off = float(angles.difference(answer.value, right))
        way = "clockwise" if off > 0 else "counterclockwise"
        return _Judgement(0.0, f"Your {words(answer.value)} is {abs(off):.0f}° {way} of {words(right)}.")
    off = answer.value - right
    way = "more" if off > 0 else "less"
    return _Judgement(
        0.0, f"Your {words(answer.value)} is {_size(abs(off), measure, variant)} {way} than {words(right)}."
    )


def _size(value: float, measure: Measure, variant: Variant) -> str:
    return f"{value:g}°" if measure in (Measure.ANGLE, Measure.TURN) else show(value, measure, variant.units)


def _judge_several(answer: SeveralAnswer, right: frozenset[str]) -> _Judgement:
    if answer.letters == right:
        return _Judgement(1.0, f"Right: {_letters(right)}.")
    missed, extra = right - answer.letters, answer.letters - right
    parts = []
    if missed:
        parts.append(f"{_letters(missed)} {'belongs' if len(missed) == 1 else 'belong'} to it too")
    if extra:
        parts.append(f"{_letters(extra)} {'does' if len(extra) == 1 else 'do'} not")
    return _Judgement(0.0, "; ".join(parts) + ".")


def _judge_placement(
    task: PlacementTask, answer: PlacementAnswer, variant: Variant, model: Model
) -> _Judgement:
    costs = np.asarray(model.value(task.key), dtype=float)
    best, worst, yours = costs.min(), costs.max(), costs[answer.arrangement]

    def felt(cost: float) -> str:
        return show(float(cost), Measure.FORCE, variant.units)

    words = f"Your arrangement costs {felt(yours)}; the best costs {felt(best)} and the worst {felt(worst)}."
    if placement.is_best(costs)[answer.arrangement]:
        return _Judgement(1.0, f"Right: no arrangement costs less than {felt(best)}.")
    share = float((worst - yours) / (worst - best))
    mirrored = mirrored_costs(model, task.key)
    if mirrored is not None and placement.is_best(mirrored[1])[answer.arrangement]:
        return _Judgement(share, f"{mirrored[0].words} {words}", mirrored[0].id)
    return _Judgement(share, words)


def right_option(task: ChoiceTask, model: Model) -> str:
    return task.right if task.right is not None else str(model.value(task.key or ""))


def option_text(task: ChoiceTask, option_id: str) -> str:
    return next((option.text for option in task.options if option.id == option_id), option_id)


def _right_letters(task: SeveralTask, variant: Variant, model: Model) -> frozenset[str]:
    holds = np.asarray(model.value(task.key))
    return frozenset(
        letter for letter, true in zip(variant.scenario.assembly_ids, holds, strict=True) if true
    )


def _letters(letters: frozenset[str]) -> str:
    return ", ".join(sorted(letters)) or "none of them"


def placement_text(positions: Mapping[str, str]) -> str:
    return ", ".join(f"{position} {letter}" for position, letter in positions.items())


def answer_text(task: AnyTask, answer: Answer, variant: Variant) -> str:
    """The student's answer for people: their own typing of a number, the words of an option."""
    match answer:
        case NumberAnswer(typed=typed, value=value):
            understood = show(value, measure_of(task) or Measure.COUNT, variant.units)
            return typed if typed == understood else f"{typed} ({understood})"
        case ChoiceAnswer(option=option):
            return option_text(task, option) if isinstance(task, ChoiceTask) else option
        case SeveralAnswer(letters=letters):
            return _letters(letters)
        case PlacementAnswer(positions=positions):
            return placement_text(positions)
        case TextAnswer(text=text):
            return text


def right_answer_text(task: AnyTask, variant: Variant) -> str:
    """The answer key's line for one task of a variant."""
    match task:
        case NumberTask():
            return show(float(variant.model.value(task.key)), quantity_of(task.key).measure, variant.units)
        case ChoiceTask():
            return option_text(task, right_option(task, variant.model))
        case SeveralTask():
            return _letters(_right_letters(task, variant, variant.model))
        case PlacementTask():
            best = np.flatnonzero(placement.is_best(variant.model.value(task.key)))
            return " or ".join(placement_text(positions_of(int(row), variant.scenario)) for row in best)
        case TextTask():
            return f"For the instructor to mark: {task.rubric}"
        case BenchTask():
            return judging.goal(variant, task)
