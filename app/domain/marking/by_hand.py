"""Marks that an instructor gives for words: points, or points for each criterion of the rubric."""

from collections.abc import Mapping

from app.domain.marking.mark import Mark, Verdict, after_hints
from app.domain.tasks import RubricCriterion, TextTask

Earned = float | Mapping[str, float]
"""Points of an answer; of a rubric with criteria, points by the id of each."""


class NotByRubric(ValueError):  # noqa: N818 -- says what is so
    """Points that the rubric doesn't give. criterion: the id of the one at fault, None for the whole."""

    def __init__(self, criterion: str | None, message: str) -> None:
        super().__init__(message)
        self.criterion = criterion


def mark_by_hand(
    task: TextTask, earned: Earned, *, marked_by: str, your_answer: str, hints_shown: int = 0
) -> Mark:
    """The mark with its reason, made from the rubric. Raises NotByRubric."""
    points, reason = _by_criterion(task, earned) if isinstance(earned, Mapping) else _whole(task, earned)
    verdict = Verdict.RIGHT if points == task.points else Verdict.PART if points > 0 else Verdict.WRONG
    reason = f"{reason} Marked by {marked_by}.".strip()
    mark = Mark(task.id, verdict, points, task.points, reason, your_answer, right_answer="")
    return after_hints(mark, task, hints_shown)


def _whole(task: TextTask, points: float) -> tuple[float, str]:
    if task.criteria:
        raise NotByRubric(None, "Give points for each criterion of the rubric.")
    if not 0 <= points <= task.points:
        raise NotByRubric(None, f"Give 0 to {task.points:g} points.")
    return points, ""


def _by_criterion(task: TextTask, earned: Mapping[str, float]) -> tuple[float, str]:
    if set(earned) != {criterion.id for criterion in task.criteria}:
        raise NotByRubric(None, "Give points for each criterion of the rubric, and for no other.")
    for criterion in task.criteria:
        _refuse_other_points(criterion, earned[criterion.id])
    total = sum(earned.values())
    # Of thirds and the like the sum may miss the whole by the last bit.
    points = task.points if abs(total - task.points) < 1e-9 else total
    return points, " ".join(_line(criterion, earned[criterion.id]) for criterion in task.criteria)


def _refuse_other_points(criterion: RubricCriterion, points: float) -> None:
    if not 0 <= points <= criterion.points:
        raise NotByRubric(criterion.id, f"Give 0 to {criterion.points:g} points.")
    if criterion.levels and points not in [level.points for level in criterion.levels]:
        raise NotByRubric(criterion.id, "Choose one of the levels.")


def _line(criterion: RubricCriterion, points: float) -> str:
    level = next((level.text for level in criterion.levels if level.points == points), "")
    return f"{criterion.text.rstrip('.')}: {points:g} of {criterion.points:g}{', ' + level if level else ''}."
