"""Marks in words, the same on screen and on paper."""

from dataclasses import dataclass

from app.domain.marking import Mark, Verdict
from app.services.labs import Result
from app.web.formatting import number


@dataclass(frozen=True)
class VerdictWords:
    """kind: as the macro `verdict` of templates/components/marks.html knows it; sign, word: as it shows."""

    kind: str
    sign: str
    word: str


VERDICTS = {
    Verdict.RIGHT: VerdictWords("right", "✓", "right"),
    Verdict.PART: VerdictWords("part", "½", "part"),
    Verdict.WRONG: VerdictWords("wrong", "✗", "not yet"),
    Verdict.BLANK: VerdictWords("none", "–", "no answer"),
    Verdict.WAITING: VerdictWords("waiting", "…", "waiting"),
}


def points_off(cost: float) -> str:
    """What a hint costs: `takes off 0.5 points`, `free`."""
    return f"takes off {number(cost)} {'point' if cost == 1 else 'points'}" if cost else "free"


def points_of(mark: Mark) -> str:
    """`1.5 of 2`; `– of 2` while the instructor has not marked it."""
    earned = None if mark.verdict is Verdict.WAITING else mark.points
    return f"{number(earned)} of {number(mark.out_of)}"


def score_text(result: Result) -> str:
    """`15 of 22 points`, with what still waits to be marked."""
    text = f"{number(result.points)} of {number(result.out_of)} points"
    return f"{text}, {result.waiting} to be marked" if result.waiting else text
