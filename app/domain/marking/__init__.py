"""Marks: an answer against the student's own right value, with the reason in their own numbers.

The page, the exports and the tests all read the same reasons. Marking is a pure function of variant and
answers, so a regrade is the same call again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.compute.errors import ComputeError
from app.domain.answers import (
    Answer,
    ChoiceAnswer,
    NumberAnswer,
    Raw,
    SeveralAnswer,
    TextAnswer,
    UnreadableAnswer,
    read_answer,
)
from app.domain.bench import BenchState
from app.domain.bench import judging as bench_judging
from app.domain.marking.judging import judge
from app.domain.marking.mark import Judgement, Mark, Verdict, after_hints, as_mark
from app.domain.marking.numbers import RightNumber, RightNumbers, right_numbers
from app.domain.marking.words import (
    answer_text,
    option_text,
    placement_text,
    right_answer_text,
    right_option,
    understood_text,
)
from app.domain.tasks import AnyTask, BenchTask, FollowingTask, TextTask, key_of
from app.domain.texts import as_shown
from app.domain.variants import Variant


@dataclass(frozen=True)
class _Earlier:
    """What the student gave so far, by task id, and which of it was marked right."""

    answers: dict[str, Answer]
    right: set[str]


def mark_all(
    variant: Variant,
    raw_answers: Mapping[str, Raw],
    bench: BenchState | None = None,
    hints: Mapping[str, int] | None = None,
    numbers: RightNumbers | None = None,
) -> tuple[Mark, ...]:
    """A mark for each task of the lab, in order. An unreadable answer earns nothing, with the reason why.

    bench: what the actions at the bench left, where the lab has one. hints: how many were shown, by task.
    numbers: the variant's right ones, where they are known already.
    """
    tasks, shown = variant.scenario.tasks, hints or {}
    if numbers is None:
        numbers = next(right_numbers(tasks, variant.model, variant.units, 1))
    earlier = _Earlier({}, set())
    marks = []
    for task in tasks:
        if isinstance(task, BenchTask):
            mark = _bench_mark(task, variant, bench)
        else:
            number = numbers.get(task.id)
            mark, answer = _mark(task, raw_answers.get(task.id), variant, earlier, number)
            if answer is not None:
                earlier.answers[task.id] = answer
            if mark.verdict is Verdict.RIGHT:
                earlier.right.add(task.id)
        marks.append(after_hints(mark, task, shown.get(task.id, 0)))
    return tuple(marks)


def _mark(
    task: AnyTask, raw: Raw, variant: Variant, earlier: _Earlier, number: RightNumber | None
) -> tuple[Mark, Answer | None]:
    if number is not None:
        right_answer = number.words
    else:
        # A text has no right answer to show: what is looked for in it is the instructor's.
        right_answer = "" if isinstance(task, TextTask) else right_answer_text(task, variant)
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
        reason = "Your instructor marks this one."
        waiting = Mark(task.id, Verdict.WAITING, 0.0, task.points, reason, yours, right_answer)
        return waiting, answer
    judged = judge(task, answer, variant, variant.model, number)
    followed = _carried_forward(task, answer, variant, earlier) if judged.share < 1 else None
    if followed is not None and followed.share > judged.share:
        judged = followed
    return as_mark(task, judged, yours, right_answer), answer


def _bench_mark(task: BenchTask, variant: Variant, bench: BenchState | None) -> Mark:
    asked = bench_judging.goal(variant, task)
    if bench is None or bench.number == 0:
        return Mark(task.id, Verdict.BLANK, 0.0, task.points, "Nothing was done at the bench.", "", asked)
    judged = bench_judging.judge(variant, bench, task)
    return as_mark(task, Judgement(judged.share, judged.reason), judged.yours, asked)


def _carried_forward(task: AnyTask, answer: Answer, variant: Variant, earlier: _Earlier) -> Judgement | None:
    """The answer judged against what follows from the student's own values; None where it doesn't follow.

    Values that are right within their tolerance may add up to one that is not: what follows from right values
    alone is right.
    """
    if not isinstance(task, FollowingTask):
        return None
    tasks = {each.id: each for each in variant.scenario.tasks if each.id in earlier.answers}
    values = {
        name: value
        for name in task.follows
        if name in tasks
        and key_of(tasks[name]) is not None
        and (value := _carried_value(earlier.answers[name], variant)) is not None
    }
    followed = [name for name in task.follows if name in values]
    if not followed:
        return None
    own = {str(key_of(tasks[name])): value for name, value in values.items()}
    try:
        judged = judge(task, answer, variant, variant.model.with_given(own))
    except ComputeError:
        # The student's own value is one that nothing can follow from, such as week 60.
        return None
    if judged.share < 1:
        return None
    if earlier.right.issuperset(followed):
        return Judgement(1.0, "Right: this follows from your own earlier values, which are right.")
    own_words = "; ".join(
        f"“{tasks[name].title}”, {understood_text(tasks[name], earlier.answers[name], variant)}"
        for name in followed
    )
    near = judged.reason.removeprefix("Right: ") if judged.reason.startswith("Right: ") else ""
    reason = f"This follows rightly from your own {own_words}{': ' + near if near else '.'}"
    share = f"It earns {task.carried_share:.0%} of the points."
    return Judgement(task.carried_share, f"{reason} {share}", carried=True)


def _carried_value(answer: Answer, variant: Variant) -> Any:
    match answer:
        case NumberAnswer(value=value):
            return np.asarray(value)
        case ChoiceAnswer(option=option):
            return np.asarray(option)
        case SeveralAnswer(ticked=ticked):
            return np.asarray([letter in ticked for letter in variant.scenario.assembly_ids])
        case _:
            return None


__all__ = [
    "Mark",
    "Verdict",
    "mark_all",
    "option_text",
    "placement_text",
    "right_answer_text",
    "right_option",
]
