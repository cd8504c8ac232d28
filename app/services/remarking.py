"""What becomes of each attempt's marks when it is marked again: computed in batches, kept by nobody yet."""

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from app.domain import bench
from app.domain.batches import Work, mark_in_turn, same_numbers
from app.domain.draws import DRAWING_VERSION
from app.domain.marking import Mark
from app.domain.measures import UnitSystem
from app.domain.variants import NotWellPosed, draw
from app.services.labs import detail_of, mark_of, newest_answers
from app.services.records import VersionRecord
from app.services.versions import scenario_of
from app.store.choices import AttemptState, EventKind

AT_ONCE = 2000
"""Attempts in one batch: enough for numpy, few enough for the memory of a laptop."""

OLD_DRAWING = "its numbers were drawn by an older release, which this one can’t repeat"
OTHER_NUMBERS = "the other version gives this seed other numbers than the student had"
OTHER_BENCH = "the other version has another bench than the one that was worked at"


@dataclass(frozen=True)
class TaskChange:
    """A mark that becomes another; points None where the question is gone."""

    task_id: str
    title: str
    before_points: float
    points: float | None
    reason: str
    by_instructor: bool = False

    @property
    def changes_points(self) -> bool:
        return self.points is None or not math.isclose(self.before_points, self.points, abs_tol=1e-9)


@dataclass(frozen=True)
class AttemptPlan:
    """What becomes of one attempt. superseded: keys of the marks that go; marks: those that come instead.

    moves: to the version that is asked for. kept_because: why it stays at its own.
    """

    attempt_key: int
    attempt_id: str
    student_name: str
    sort_name: str
    number: int
    handed_in: bool
    before_points: float
    before_out_of: float
    points: float
    out_of: float
    changes: tuple[TaskChange, ...] = ()
    superseded: tuple[int, ...] = ()
    marks: tuple[Mark, ...] = ()
    moves: bool = False
    kept_because: str = ""

    @property
    def changes_points(self) -> bool:
        return any(change.changes_points for change in self.changes)

    @property
    def gained(self) -> float:
        """Points; below 0 where some are lost."""
        return self.points - self.before_points


@dataclass(frozen=True)
class Case:
    """One attempt with what it left, by kind of event, and the marks of it that count.

    own: its version; version: what it is marked by.
    """

    row: Any
    work: Mapping[EventKind, Sequence[Any]]
    marks: Sequence[Any]
    own: VersionRecord
    version: VersionRecord
    kept_because: str = ""


def plans_of(cases: Sequence[Case], target: VersionRecord | None) -> list[AttemptPlan]:
    """A plan for each attempt of a batch. target: the version they are to be moved to; None: each is marked
    again by its own."""
    if target is not None:
        cases = [case for group in _groups(cases) for case in _moved(group, target)]
    return [plan for group in _groups(cases) for plan in _plans(group)]


def _groups(cases: Sequence[Case]) -> Iterable[list[Case]]:
    """Those that are marked together: of one version, drawn alike."""
    groups: dict[tuple[Any, ...], list[Case]] = {}
    for case in cases:
        key = (case.version.id, case.row.units, case.row.drawing_version)
        groups.setdefault(key, []).append(case)
    return groups.values()


def _moved(group: Sequence[Case], target: VersionRecord) -> list[Case]:
    """The cases at the version they are moved to, or at their own with why."""
    before, after = scenario_of(group[0].version), scenario_of(target)
    row = group[0].row
    if row.drawing_version != DRAWING_VERSION:
        return [_stays(case, OLD_DRAWING) for case in group]
    try:
        same = same_numbers(before, after, [int(case.row.seed) for case in group], row.units)
    except NotWellPosed:
        same = np.zeros(len(group), dtype=bool)
    return [
        _stays(case, OTHER_NUMBERS)
        if not alike
        else _stays(case, OTHER_BENCH)
        if before.bench != after.bench and case.work.get(EventKind.ACTION)
        else replace(case, version=target)
        for case, alike in zip(group, same, strict=True)
    ]


def _stays(case: Case, why: str) -> Case:
    return replace(case, kept_because=why)


def _plans(group: Sequence[Case]) -> list[AttemptPlan]:
    drawn_so = group[0].row.drawing_version
    done = [case for case in group if case.row.state is AttemptState.HANDED_IN]
    plans = [_unchanged(case) for case in group if case.row.state is not AttemptState.HANDED_IN]
    if drawn_so != DRAWING_VERSION:
        return plans + [_unchanged(_stays(case, OLD_DRAWING)) for case in done]
    scenario, units = scenario_of(group[0].version), group[0].row.units
    marked = mark_in_turn(scenario, units, [_work(case, units) for case in done], version=drawn_so)
    titles = {
        version.id: {task.id: task.title for task in scenario_of(version).tasks}
        for version in {case.own.id: case.own for case in done}.values()
    }
    return plans + [_plan(case, marks, titles[case.own.id]) for case, marks in zip(done, marked, strict=True)]


def _work(case: Case, units: UnitSystem) -> Work:
    scenario, seed = scenario_of(case.version), int(case.row.seed)
    left = None
    if scenario.bench is not None:
        left, _ = bench.replay(draw(scenario, seed, units), case.work.get(EventKind.ACTION, ()))
    hints = Counter(body["task"] for body in case.work.get(EventKind.HINT, ()))
    return Work(seed, newest_answers(case.work.get(EventKind.ANSWER, ())), left, hints)


def _plan(case: Case, marks: Sequence[Mark], titles: Mapping[str, str]) -> AttemptPlan:
    """A question that was added after the hand-in is not asked of it: no mark, and no points lost."""
    fresh = {mark.task_id: mark for mark in marks}
    changes, superseded, instead, standing = [], [], [], []
    for old in case.marks:
        new = fresh.get(old.task_id)
        if new is not None and (old.by_instructor or _is_same(old, new)):
            standing.append((old.points, old.out_of))
            continue
        superseded.append(old.id)
        if new is not None:
            instead.append(new)
            standing.append((new.points, new.out_of))
        changes.append(
            TaskChange(
                old.task_id,
                titles.get(old.task_id, old.task_id),
                old.points,
                None if new is None else new.points,
                "This question is no longer asked." if new is None else new.reason,
                old.by_instructor,
            )
        )
    return _as_planned(
        case,
        math.fsum(points for points, _ in standing),
        math.fsum(out_of for _, out_of in standing),
        changes=tuple(changes),
        superseded=tuple(superseded),
        marks=tuple(instead),
    )


def _is_same(old: Any, new: Mark) -> bool:
    """Whether a stored mark says the same; what releases before kept of one may lack some of its words."""
    kept = (old.verdict, old.points, old.out_of)
    if kept == (new.verdict, new.points, new.out_of) and old.detail == detail_of(new):
        return True
    return mark_of(old) == new


def _unchanged(case: Case) -> AttemptPlan:
    return _as_planned(case, case.row.points or 0.0, case.row.out_of or 0.0)


def _as_planned(case: Case, points: float, out_of: float, **becomes: Any) -> AttemptPlan:
    row = case.row
    return AttemptPlan(
        attempt_key=row.id,
        attempt_id=row.public_id,
        student_name=row.display_name,
        sort_name=row.sort_name,
        number=row.number,
        handed_in=row.state is AttemptState.HANDED_IN,
        before_points=row.points or 0.0,
        before_out_of=row.out_of or 0.0,
        points=points,
        out_of=out_of,
        moves=case.version.id != case.own.id,
        kept_because=case.kept_because,
        **becomes,
    )
