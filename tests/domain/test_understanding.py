"""What a class understood, from marks written by hand. Statistics are tested beside their functions."""

from datetime import UTC, datetime, timedelta

import pytest

from app.domain.marking import Mark, Verdict
from app.domain.understanding import TurnCount, time_by_task, understanding
from app.domain.wrong_turns import words_of

START = datetime(2030, 3, 4, 15, tzinfo=UTC)


def mark(task: str, points: float, *, turn: str | None = None, verdict: Verdict | None = None) -> Mark:
    verdict = verdict or (Verdict.RIGHT if points == 2 else Verdict.WRONG)
    return Mark(task, verdict, points, 2, "", "", "", wrong_turn=turn)


def of(*marks: Mark) -> dict[str, Mark]:
    return {each.task_id: each for each in marks}


CLASS = (
    of(mark("a", 2), mark("b", 0, turn="planes-swapped")),
    of(mark("a", 0, turn="heavy-spot"), mark("b", 0, turn="planes-swapped")),
    of(mark("a", 0, turn="heavy-spot"), mark("b", 0, verdict=Verdict.BLANK)),
    of(mark("a", 2), mark("b", 2)),
)


def test_each_task_counts_its_students_and_ranks_its_wrong_turns():
    first, second = understanding(["a", "b"], CLASS).tasks
    assert (first.analysis.difficulty, first.answered, first.turns) == (0.5, 4, (TurnCount("heavy-spot", 2),))
    assert (second.analysis.difficulty, second.answered) == (0.25, 3)
    assert second.turns == (TurnCount("planes-swapped", 2),)


def test_a_student_counts_once_for_a_turn_taken_in_two_tasks():
    found = understanding(["a", "b"], [of(mark("a", 0, turn="x"), mark("b", 0, turn="x")), *CLASS])
    assert found.turns == (TurnCount("heavy-spot", 2), TurnCount("planes-swapped", 2), TurnCount("x", 1))


def test_what_waits_for_its_mark_is_in_no_share():
    waiting = of(mark("a", 2), mark("b", 0, verdict=Verdict.WAITING))
    found = understanding(["a", "b"], [waiting])
    assert found.shares == (1.0,)
    assert (found.tasks[1].analysis.students, found.tasks[1].analysis.difficulty) == (0, None)


def test_nobody_is_an_empty_class():
    found = understanding(["a"], [])
    assert (found.shares, found.turns, found.tasks[0].minutes) == ((), (), None)
    assert found.reliability.coefficient is None


def test_time_goes_to_the_task_that_is_saved_next_and_pauses_are_left_out():
    minute = timedelta(minutes=1)
    moments = [
        (START + minute, "a"),
        (START + 2 * minute, "b"),
        (START + 60 * minute, "b"),
        (START + 61 * minute, None),
    ]
    spent = time_by_task(START, moments)
    assert spent == {"a": minute, "b": minute + timedelta(minutes=5)}
    found = understanding(["a", "b"], CLASS[:2], [spent, {"a": 3 * minute}])
    assert [each.minutes for each in found.tasks] == [pytest.approx(2), pytest.approx(6)]


def test_every_wrong_turn_has_words():
    assert "driver" in words_of("drive-side-mirrored")
    assert words_of("of-another-release") == "of-another-release"
