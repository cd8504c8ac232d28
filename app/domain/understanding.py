"""What a class understood of a lab: its marks and its saved answers, task by task."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

import numpy as np

from app.domain.item_analysis import Reliability, TaskAnalysis, analyse_tasks, reliability
from app.domain.marking import Mark, Verdict

LONGEST_PAUSE = timedelta(minutes=5)
"""Of the time between two saved things, no more than this counts as work on the later one."""

Moment = tuple[datetime, str | None]
"""When something was saved, and in which task; None at the bench and when the lab was handed in."""


@dataclass(frozen=True)
class TurnCount:
    """How many students took a known wrong turn; `turn` is its id."""

    turn: str
    students: int


@dataclass(frozen=True)
class TaskUnderstanding:
    """answered: without those who left it blank. carried: right for own earlier values that were wrong.
    minutes: the median time of those who spent any on it, None while nobody did."""

    task_id: str
    analysis: TaskAnalysis
    answered: int
    carried: int
    turns: tuple[TurnCount, ...]
    minutes: float | None


@dataclass(frozen=True)
class Understanding:
    """shares: each student's part of the points, without what still waits for its mark."""

    tasks: tuple[TaskUnderstanding, ...]
    turns: tuple[TurnCount, ...]
    reliability: Reliability
    shares: tuple[float, ...]


def understanding(
    task_ids: Sequence[str],
    marks: Sequence[Mapping[str, Mark]],
    spent: Sequence[Mapping[str, timedelta]] = (),
) -> Understanding:
    """marks: of each student, by task. spent: time of each student, by task."""
    table = np.array([[_share(each.get(task)) for task in task_ids] for each in marks], dtype=np.float64)
    table = table.reshape(len(marks), len(task_ids))
    tasks = tuple(
        TaskUnderstanding(
            task_id=task,
            analysis=analysis,
            answered=sum(mark.verdict is not Verdict.BLANK for mark in own),
            carried=sum(mark.carried for mark in own),
            turns=_ranked(mark.wrong_turn for mark in own),
            minutes=_median_minutes([each[task] for each in spent if task in each]),
        )
        for task, analysis in zip(task_ids, analyse_tasks(table), strict=True)
        for own in [[each[task] for each in marks if task in each]]
    )
    return Understanding(
        tasks=tasks,
        turns=_ranked(turn for each in marks for turn in {mark.wrong_turn for mark in each.values()}),
        reliability=reliability(table),
        shares=tuple(_total_share(each.values()) for each in marks),
    )


def time_by_task(started_at: datetime, moments: Sequence[Moment]) -> dict[str, timedelta]:
    """How long a student worked on each task: the time before each thing that was saved in it, pauses left
    out. What was saved elsewhere ends the time before it."""
    spent: dict[str, timedelta] = defaultdict(timedelta)
    before = started_at
    for at, task in moments:
        if task is not None:
            spent[task] += min(at - before, LONGEST_PAUSE)
        before = at
    return dict(spent)


def _share(mark: Mark | None) -> float:
    """nan while the instructor still has to mark it; a task that the student's version didn't have, too."""
    if mark is None or mark.verdict is Verdict.WAITING or not mark.out_of:
        return np.nan
    return mark.points / mark.out_of


def _total_share(marks: Iterable[Mark]) -> float:
    done = [mark for mark in marks if mark.verdict is not Verdict.WAITING]
    out_of = sum(mark.out_of for mark in done)
    return sum(mark.points for mark in done) / out_of if out_of else 0.0


def _ranked(turns: Iterable[str | None]) -> tuple[TurnCount, ...]:
    """The commonest first, equals by name."""
    counts = Counter(turn for turn in turns if turn)
    ranked = sorted(counts.items(), key=lambda each: (-each[1], each[0]))
    return tuple(TurnCount(turn, count) for turn, count in ranked)


def _median_minutes(spans: Sequence[timedelta]) -> float | None:
    return median(span.total_seconds() for span in spans) / 60 if spans else None
