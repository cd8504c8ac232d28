"""Rubrics: criteria that add up, levels, and the mark that an instructor makes from them."""

from typing import Any

import pytest
from pydantic import ValidationError

from app.domain.faults import faults_from
from app.domain.marking import Verdict, right_answer_text
from app.domain.marking.by_hand import Earned, NotByRubric, mark_by_hand
from app.domain.tasks import TextTask
from tests.domain.writing import small, text, variant

SEAT = {"id": "seat", "text": "Names the driver’s seat.", "points": 1}
WHY = {
    "id": "why",
    "text": "Says why",
    "points": 2,
    "levels": [
        {"text": "in own words", "points": 2},
        {"text": "only repeats the rule", "points": 0.5},
        {"text": "not at all", "points": 0},
    ],
}


def task(*criteria: dict[str, Any], **changes: Any) -> TextTask:
    rubric = list(criteria) or "Says so."
    made = small([text("why", rubric=rubric, points=3, **changes)]).tasks[0]
    assert isinstance(made, TextTask)
    return made


def test_the_mark_names_each_criterion_with_its_points_and_level() -> None:
    mark = mark_by_hand(task(SEAT, WHY), {"seat": 1, "why": 0.5}, marked_by="Robin Lang", your_answer="So.")
    assert (mark.points, mark.verdict, mark.your_answer) == (1.5, Verdict.PART, "So.")
    assert mark.reason == (
        "Names the driver’s seat: 1 of 1. Says why: 0.5 of 2, only repeats the rule. Marked by Robin Lang."
    )


@pytest.mark.parametrize(
    ("earned", "verdict"),
    [({"seat": 1, "why": 2}, Verdict.RIGHT), ({"seat": 0, "why": 0}, Verdict.WRONG), (3.0, None)],
)
def test_the_verdict_follows_from_the_sum(earned: Earned, verdict: Verdict | None) -> None:
    if verdict is None:
        assert mark_by_hand(task(), earned, marked_by="R", your_answer="").verdict is Verdict.RIGHT
    else:
        assert mark_by_hand(task(SEAT, WHY), earned, marked_by="R", your_answer="").verdict is verdict


@pytest.mark.parametrize(
    ("criteria", "earned", "at", "says"),
    [
        ((SEAT, WHY), {"seat": 1.5, "why": 2}, "seat", "Give 0 to 1 points."),
        ((SEAT, WHY), {"seat": float("nan"), "why": 2}, "seat", "Give 0 to 1 points."),
        ((SEAT, WHY), {"seat": 1, "why": 1}, "why", "Choose one of the levels."),
        ((SEAT, WHY), {"seat": 1}, None, "for each criterion"),
        ((SEAT, WHY), {"seat": 1, "why": 2, "more": 1}, None, "and for no other"),
        ((SEAT, WHY), 2.0, None, "for each criterion"),
        ((), 4.0, None, "Give 0 to 3 points."),
        ((), -1.0, None, "Give 0 to 3 points."),
        ((), float("nan"), None, "Give 0 to 3 points."),
    ],
)
def test_points_that_the_rubric_does_not_give_are_refused(
    criteria: tuple[dict[str, Any], ...], earned: Earned, at: str | None, says: str
) -> None:
    with pytest.raises(NotByRubric, match=says) as refused:
        mark_by_hand(task(*criteria), earned, marked_by="R", your_answer="")
    assert refused.value.criterion == at


def test_what_hints_cost_is_taken_off_a_mark_by_hand() -> None:
    hinted = task(hints=[{"text": "Think of the wheel.", "cost": 1}])
    mark = mark_by_hand(hinted, 2.5, marked_by="Robin Lang", your_answer="", hints_shown=1)
    assert (mark.points, mark.taken_off) == (1.5, 1)
    assert mark.reason == "Marked by Robin Lang. For 1 hint 1 point was taken off."


def test_the_key_shows_the_criteria_one_on_each_line() -> None:
    taken = variant(small([text("why", rubric=[SEAT, WHY], points=3)]))
    assert right_answer_text(taken.scenario.tasks[0], taken).endswith(
        "Names the driver’s seat. (1)\nSays why (2)"
    )


@pytest.mark.parametrize(
    ("criteria", "place", "says"),
    [
        ([SEAT], "parts[0].tasks[0]", "criteria add up to 1 points, the task gives 3"),
        (
            [SEAT, SEAT, {**SEAT, "id": "x"}],
            "parts[0].tasks[0]",
            "two criteria of the rubric have the id seat",
        ),
        (
            [SEAT, {**WHY, "levels": WHY["levels"][1:]}],
            "parts[0].tasks[0].rubric[1]",
            "must earn its 2 points",
        ),
        (
            [SEAT, {**WHY, "levels": [*WHY["levels"], WHY["levels"][0]]}],
            "parts[0].tasks[0].rubric[1]",
            "two levels of why earn 2.0 points",
        ),
        ([], "parts[0].tasks[0].rubric", "needs at least 1 entries"),
        ("", "parts[0].tasks[0].rubric", "must not be empty"),
    ],
)
def test_a_rubric_that_can_t_be_used_is_refused_at_its_place(criteria: Any, place: str, says: str) -> None:
    with pytest.raises(ValidationError) as refused:
        small([text("why", rubric=criteria, points=3)])
    (fault,) = faults_from(refused.value)
    assert fault.place == place
    assert says in fault.message
