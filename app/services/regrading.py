"""Marking an assignment's work again: what it would change first, then all of it in one transaction.

Work is marked again by the version that the assignment has, or moved to another version of its scenario.
Answers are kept by the ids of their tasks; an attempt keeps its seed and its drawing version. Marks that an
instructor made stay, and no mark is erased: one that is replaced is superseded.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.errors import NotFound, Refused
from app.services.labs import machine_mark
from app.services.reach import note, refuse_when_put_away
from app.services.records import AssignmentRecord, VersionRecord
from app.services.remarking import AT_ONCE, AttemptPlan, Case, TaskChange, plans_of
from app.services.versions import scenario_of
from app.store import regrading as store
from app.store.choices import EventKind
from app.store.db import Database

CHANGED = "Work came in or was marked since this was looked at. Here it is as it stands now: look again."


@dataclass(frozen=True)
class Band:
    """How many attempts have so many percent of their points before and after, from low up to high."""

    low: int
    high: int
    before: int
    after: int


@dataclass(frozen=True)
class RegradePreview:
    """What marking again would change. stamp: what it was reckoned from, to be sent back.

    plans: of every attempt. gone, added: titles of questions that only the old or only the new version asks.
    """

    assignment_id: str
    title: str
    class_id: str
    class_name: str
    version: int
    to_version: int
    versions: tuple[int, ...]
    stamp: str
    plans: tuple[AttemptPlan, ...]
    gone: tuple[str, ...]
    added: tuple[str, ...]

    @property
    def handed_in(self) -> list[AttemptPlan]:
        return [plan for plan in self.plans if plan.handed_in]

    @property
    def changed(self) -> list[AttemptPlan]:
        """Those whose points change."""
        return [plan for plan in self.handed_in if plan.changes_points]

    @property
    def reworded(self) -> int:
        """How many get other words and the same points."""
        return sum(bool(plan.changes) and not plan.changes_points for plan in self.handed_in)

    @property
    def kept(self) -> list[AttemptPlan]:
        """Those that stay at their version, with why."""
        return [plan for plan in self.plans if plan.kept_because]

    @property
    def higher(self) -> int:
        return sum(plan.points > plan.before_points for plan in self.changed)

    @property
    def lower(self) -> int:
        return sum(plan.points < plan.before_points for plan in self.changed)

    @property
    def changes_anything(self) -> bool:
        return self.version != self.to_version or any(plan.changes or plan.moves for plan in self.plans)

    @property
    def bands(self) -> tuple[Band, ...]:
        """The distribution of the attempts over tenths of their points."""
        befores = [_tenth(plan.before_points, plan.before_out_of) for plan in self.handed_in]
        afters = [_tenth(plan.points, plan.out_of) for plan in self.handed_in]
        return tuple(
            Band(10 * tenth, 10 * tenth + 10, befores.count(tenth), afters.count(tenth))
            for tenth in range(10)
        )

    @property
    def task_changes(self) -> list[tuple[AttemptPlan, TaskChange]]:
        """Every mark that changes in points, by student and task."""
        return [(plan, change) for plan in self.changed for change in plan.changes if change.changes_points]


def preview_regrade(
    database: Database, *, assignment_id: str, instructor: Person, to_version: int | None = None
) -> RegradePreview:
    """What marking the work at an assignment again would change.

    to_version: the number of the version that it is moved to, None for the one it has. Raises NotFound, for a
    version that isn't there too.
    """
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        versions = store.versions_of(session, row.scenario_version.scenario.public_id)
        wanted = row.scenario_version.number if to_version is None else to_version
        target = next((each for each in versions if each.number == wanted), None)
        if target is None:
            raise NotFound("There is no such version of this scenario.")
        stamp = store.stamp_of(session, row.id)
        moved_to = target if target.id != row.scenario_version_id else None
        known = {each.id: each for each in versions}
        plans = _plans(session, store.attempts_at(session, row.id), known, moved_to)
    return _preview(row, target, [each.number for each in versions], stamp, plans)


def _plans(
    session: Any, rows: Sequence[Any], versions: Mapping[int, VersionRecord], target: VersionRecord | None
) -> list[AttemptPlan]:
    """Those of every attempt, by family name; what they hold is read a batch at a time."""
    plans: list[AttemptPlan] = []
    for first in range(0, len(rows), AT_ONCE):
        batch = rows[first : first + AT_ONCE]
        keys = [row.id for row in batch]
        work, marks = store.work_of(session, keys), store.standing_marks_of(session, keys)
        plans += plans_of([_case(row, versions, work, marks) for row in batch], target)
    return sorted(plans, key=lambda plan: (plan.sort_name.casefold(), plan.attempt_key))


def _case(
    row: Any,
    versions: Mapping[int, VersionRecord],
    work: Mapping[int, Mapping[EventKind, list[Any]]],
    marks: Mapping[int, Sequence[Any]],
) -> Case:
    version = versions[row.scenario_version_id]
    return Case(row, work.get(row.id, {}), marks.get(row.id, ()), version, version)


def regrade(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    to_version: int | None = None,
    expect: str,
    now: datetime,
) -> RegradePreview:
    """Do what the preview with the stamp `expect` says, as a whole or not at all; doing it again changes
    nothing. Returns what it did. Raises NotFound, and Refused when work has changed since the preview."""
    preview = preview_regrade(
        database, assignment_id=assignment_id, instructor=instructor, to_version=to_version
    )
    if preview.stamp != expect:
        raise Refused("expect", CHANGED)
    if not preview.changes_anything:
        return preview
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        refuse_when_put_away(row.school_class)
        if store.stamp_of(session, row.id) != preview.stamp:
            raise Refused("expect", CHANGED)
        _keep(session, preview.plans, now)
        versions = store.versions_of(session, row.scenario_version.scenario.public_id)
        target = next(each for each in versions if each.number == preview.to_version)
        store.change_attempts(
            session,
            [
                {"id": plan.attempt_key, "scenario_version_id": target.id}
                for plan in preview.plans
                if plan.moves
            ],
        )
        row.scenario_version_id = target.id
        note(
            session,
            now,
            instructor,
            "regrade",
            row.school_class,
            assignment=assignment_id,
            version=preview.version,
            to_version=preview.to_version,
            attempts=len(preview.handed_in),
            changed=len(preview.changed),
            reworded=preview.reworded,
        )
    return preview


def _keep(session: Any, plans: Sequence[AttemptPlan], now: datetime) -> None:
    store.supersede(session, [key for plan in plans for key in plan.superseded], now)
    store.add_marks(
        session,
        [
            {**machine_mark(mark), "attempt_id": plan.attempt_key, "made_at": now, "superseded_at": None}
            for plan in plans
            for mark in plan.marks
        ],
    )
    store.change_attempts(
        session,
        [
            {"id": plan.attempt_key, "points": plan.points, "out_of": plan.out_of}
            for plan in plans
            if plan.handed_in and plan.changes
        ],
    )


def _preview(
    row: AssignmentRecord,
    target: VersionRecord,
    versions: Sequence[int],
    stamp: str,
    plans: Sequence[AttemptPlan],
) -> RegradePreview:
    old, new = (
        {task.id: task.title for task in scenario_of(version).tasks}
        for version in (row.scenario_version, target)
    )
    return RegradePreview(
        assignment_id=row.public_id,
        title=row.title,
        class_id=row.school_class.public_id,
        class_name=row.school_class.name,
        version=row.scenario_version.number,
        to_version=target.number,
        versions=tuple(versions),
        stamp=stamp,
        plans=tuple(plans),
        gone=tuple(title for name, title in old.items() if name not in new),
        added=tuple(title for name, title in new.items() if name not in old),
    )


def _tenth(points: float, out_of: float) -> int:
    share = points / out_of if out_of else 0.0
    return min(9, max(0, int(share * 10)))
