"""Assignments: a scenario version given to a class with dates and rules."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, NotRequired, TypedDict, Unpack

from app.domain.measures import UnitSystem
from app.domain.standing import Counts, Rules, Solutions, Unlock
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.reach import note, own_class, refuse_when_put_away
from app.services.records import AssignmentRecord
from app.services.rules import rules_of
from app.services.versions import scenario_of
from app.store import assignments, scenarios
from app.store.db import Database

LONGEST_TITLE = 120
MOST_ATTEMPTS = 50
LONGEST_MINUTES = 600


class RuleEntries(TypedDict):
    """What an instructor sets; what is left out is as usual. unlock_after: the id of what comes first."""

    title: str
    opens_at: datetime
    due_at: datetime
    attempts_allowed: int | None
    closes_at: NotRequired[datetime | None]
    counts: NotRequired[Counts]
    late_percent_per_day: NotRequired[float]
    late_floor_percent: NotRequired[float]
    minutes: NotRequired[int | None]
    practice: NotRequired[bool]
    solutions: NotRequired[Solutions]
    unlock_after: NotRequired[str | None]
    unlock_percent: NotRequired[float | None]


USUAL: dict[str, Any] = {
    "closes_at": None,
    "counts": Counts.BEST,
    "late_percent_per_day": 0.0,
    "late_floor_percent": 0.0,
    "minutes": None,
    "practice": False,
    "solutions": Solutions.AFTER_ATTEMPT,
    "unlock_after": None,
    "unlock_percent": None,
}


@dataclass(frozen=True)
class AssignmentRow:
    """An assignment and how far its class is: students in all, with an attempt begun, with one handed in.

    rules: of the class. unlock_after: the assignment that comes first.
    """

    public_id: str
    title: str
    scenario_title: str
    rules: Rules
    unlock_after: str | None
    students: int
    started: int
    handed_in: int

    @property
    def opens_at(self) -> datetime:
        return self.rules.opens_at

    @property
    def due_at(self) -> datetime:
        return self.rules.due_at

    @property
    def attempts_allowed(self) -> int | None:
        return self.rules.attempts_allowed


@dataclass(frozen=True)
class AssignmentDetail:
    """newest_version: of its scenario; the assignment may be behind it."""

    row: AssignmentRow
    class_id: str
    class_name: str
    time_zone: str
    units: UnitSystem
    scenario_id: str
    version_number: int
    newest_version: int


def assign(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    scenario_id: str,
    now: datetime,
    **entries: Unpack[RuleEntries],
) -> str:
    """Give the newest version of a scenario to a class; returns the assignment's public id.

    The assignment keeps this version whatever becomes of the scenario. Raises NotFound and Refused.
    """
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row, "class_id")
        columns = columns_of(session, row.id, entries, itself=None)
        version = scenarios.newest_version_of(session, scenario_id)
        if version is None:
            raise NotFound("There is no such scenario.")
        added = assignments.add_assignment(
            session,
            class_id=row.id,
            scenario_version_id=version.id,
            created_by=instructor.id,
            now=now,
            **columns,
        )
        note(session, now, instructor, "assign", row, assignment=added.public_id)
        return added.public_id


def change(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    now: datetime,
    **entries: Unpack[RuleEntries],
) -> None:
    """Set title and rules anew; work already done stays, and counts by the new rules at once.

    Raises NotFound and Refused.
    """
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        refuse_when_put_away(row.school_class)
        columns = columns_of(session, row.class_id, entries, itself=row)
        changed = {name: value for name, value in columns.items() if getattr(row, name) != value}
        for name, value in changed.items():
            setattr(row, name, value)
        words = {name: str(value) for name, value in changed.items()}
        note(
            session,
            now,
            instructor,
            "change assignment",
            row.school_class,
            assignment=assignment_id,
            changed=words,
        )


def of_class(database: Database, *, class_id: str, instructor: Person) -> list[AssignmentRow]:
    """What a class was given, in the order in which it opens. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        students = assignments.students_in_class(session, row.id)
        progress = assignments.progress_in_class(session, row.id)
        given = assignments.assignments_of_class(session, row.id)
        by_key: dict[int | None, AssignmentRecord] = {each.id: each for each in given}
        return [_row(each, students, progress, by_key.get(each.unlock_after_id)) for each in given]


def one(database: Database, *, assignment_id: str, instructor: Person) -> AssignmentDetail:
    """Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        school_class = row.school_class
        students = assignments.students_in_class(session, school_class.id)
        progress = assignments.progress_in_class(session, school_class.id)
        return AssignmentDetail(
            row=_row(row, students, progress, row.unlock_after),
            class_id=school_class.public_id,
            class_name=school_class.name,
            time_zone=school_class.time_zone,
            units=school_class.units,
            scenario_id=row.scenario_version.scenario.public_id,
            version_number=row.scenario_version.number,
            newest_version=_newest(session, row),
        )


def own_assignment(session: Any, assignment_id: str, instructor: Person) -> AssignmentRecord:
    """The row of an assignment in a class this person teaches. Raises NotFound."""
    row = assignments.assignment_taught_by(session, assignment_id, instructor.id)
    if row is None:
        raise NotFound("There is no such assignment in your classes.")
    return row


def _row(
    row: AssignmentRecord, students: int, progress: Mapping[int, tuple[int, int]], first: Any
) -> AssignmentRow:
    started, handed_in = progress.get(row.id, (0, 0))
    rules = rules_of(row)
    if first is not None:
        rules = replace(rules, unlock=Unlock(first.title, row.unlock_percent))
    return AssignmentRow(
        public_id=row.public_id,
        title=row.title,
        scenario_title=scenario_of(row.scenario_version).title,
        rules=rules,
        unlock_after=None if first is None else first.public_id,
        students=students,
        started=started,
        handed_in=handed_in,
    )


def _newest(session: Any, row: AssignmentRecord) -> int:
    newest = scenarios.newest_version_of(session, row.scenario_version.scenario.public_id)
    return row.scenario_version.number if newest is None else newest.number


def columns_of(
    session: Any, class_key: int, entries: Mapping[str, Any], itself: AssignmentRecord | None
) -> dict[str, Any]:
    """The columns of valid entries. Raises Refused."""
    columns = {**USUAL, **entries, "title": " ".join(entries["title"].split())}
    _refuse_impossible(columns)
    first = columns.pop("unlock_after")
    columns["unlock_after_id"] = None if first is None else _first_key(session, class_key, first, itself)
    if first is None:
        columns["unlock_percent"] = None
    return columns


def _refuse_impossible(entries: Mapping[str, Any]) -> None:
    if not entries["title"] or len(entries["title"]) > LONGEST_TITLE:
        raise Refused("title", f"Give the assignment a title of at most {LONGEST_TITLE} characters.")
    if entries["due_at"] <= entries["opens_at"]:
        raise Refused("due_at", "The due time must come after the opening time.")
    if entries["closes_at"] is not None and entries["closes_at"] < entries["due_at"]:
        raise Refused("closes_at", "It can't close before it is due. Choose the due time or a later one.")
    _refuse_outside(
        entries,
        "attempts_allowed",
        (1, MOST_ATTEMPTS),
        f"Allow 1 to {MOST_ATTEMPTS} attempts, or leave it empty for as many as they like.",
    )
    _refuse_outside(
        entries,
        "minutes",
        (1, LONGEST_MINUTES),
        f"Give 1 to {LONGEST_MINUTES} minutes, or leave it empty for no time limit.",
    )
    for name in ("late_percent_per_day", "late_floor_percent", "unlock_percent"):
        _refuse_outside(entries, name, (0, 100), "Enter a percentage from 0 to 100.")
    if entries["solutions"] is Solutions.AFTER_CLOSING and entries["closes_at"] is None:
        raise Refused("closes_at", "Choose when it closes: the worked solutions are to be shown then.")


def _refuse_outside(
    entries: Mapping[str, Any], name: str, between: tuple[float, float], message: str
) -> None:
    value, (least, most) = entries[name], between
    if value is not None and not least <= value <= most:
        raise Refused(name, message)


def _first_key(session: Any, class_key: int, first: str, itself: AssignmentRecord | None) -> int:
    """The key of the assignment that comes first; none may wait for itself, however long the chain."""
    of_class = assignments.assignments_of_class(session, class_key)
    after = {row.id: row.unlock_after_id for row in of_class}
    key = next((row.id for row in of_class if row.public_id == first), None)
    if key is None:
        raise Refused("unlock_after", "Choose one of this class’s assignments, or none.")
    step: int | None = key
    while step is not None:
        if itself is not None and step == itself.id:
            raise Refused(
                "unlock_after", "That lab waits for this one, so neither would open. Choose another, or none."
            )
        step = after[step]
    return key
