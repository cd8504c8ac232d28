"""What a mark is: an answer's points and its verdict, with the reason in the student's own numbers."""

from enum import StrEnum
from typing import NamedTuple

from app.domain.tasks import AnyTask


class Verdict(StrEnum):
    RIGHT = "right"
    PART = "part"
    WRONG = "wrong"
    BLANK = "blank"
    WAITING = "waiting"
    """For the instructor to mark."""


class Mark(NamedTuple):
    """One answer's mark.

    wrong_turn: the id of the known slip it matches; carried: right for own earlier values that are wrong.
    taken_off: points that shown hints cost; `points` are what is left, and `reason` says it.
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
    taken_off: float = 0.0


class Judgement(NamedTuple):
    """What an answer is worth before its points are reckoned. share: of the points, 0 to 1."""

    share: float
    reason: str
    wrong_turn: str | None = None
    carried: bool = False


def as_mark(task: AnyTask, judged: Judgement, yours: str, right_answer: str) -> Mark:
    """A judged answer with its points; RIGHT only for the whole share by the right values themselves."""
    verdict = Verdict.PART if judged.share > 0 else Verdict.WRONG
    if judged.share == 1 and not judged.carried:
        verdict = Verdict.RIGHT
    points = judged.share * task.points
    earned = (verdict, points, task.points, judged.reason)
    return Mark(task.id, *earned, yours, right_answer, judged.wrong_turn, judged.carried)


def after_hints(mark: Mark, task: AnyTask, shown: int) -> Mark:
    """The mark less what the first `shown` hints of its task cost; never below 0."""
    cost = cost_of_hints(task, shown) if shown else 0.0
    if not cost:
        return mark
    if mark.verdict is Verdict.WAITING:
        return mark._replace(reason=f"{mark.reason} {hints_in_words(cost, shown)} will be taken off.")
    taken = min(cost, mark.points)
    if not taken:
        return mark
    reason = f"{mark.reason} {hints_in_words(taken, shown)} {'was' if taken == 1 else 'were'} taken off."
    return mark._replace(points=mark.points - taken, taken_off=taken, reason=reason)


def cost_of_hints(task: AnyTask, shown: int) -> float:
    """What the first `shown` hints of a task cost together."""
    return sum(hint.cost for hint in task.hints[:shown])


def hints_in_words(points: float, shown: int) -> str:
    """`For 2 hints 1.5 points`, to be gone on with."""
    counted = "1 hint" if shown == 1 else f"{shown} hints"
    return f"For {counted} {round(points, 2):g} {'point' if points == 1 else 'points'}"
