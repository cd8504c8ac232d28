"""What a mark is: an answer's points and its verdict, with the reason in the student's own numbers."""

from dataclasses import dataclass
from enum import StrEnum

from app.domain.tasks import AnyTask


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
class Judgement:
    """What an answer is worth before its points are reckoned. share: of the points, 0 to 1."""

    share: float
    reason: str
    wrong_turn: str | None = None
    carried: bool = False


def as_mark(task: AnyTask, judged: Judgement, yours: str, right_answer: str) -> Mark:
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
