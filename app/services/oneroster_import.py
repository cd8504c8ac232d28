"""Taking classes of a OneRoster zip: choosing them, seeing what it would do, and all of it or nothing."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.measures import UnitSystem
from app.services import received_files
from app.services.accounts import Person
from app.services.classes import LONGEST_CLASS_NAME, class_fields
from app.services.delimited import fault_in_cell
from app.services.errors import NotFound, Refused
from app.services.names import typed_name
from app.services.oneroster import Roster, RosterClass, RosterUser, read_roster
from app.services.reach import note, own_class, refuse_when_put_away
from app.services.roster_columns import fault_in_name
from app.services.roster_import import (
    CHANGED,
    Taken,
    carry_out,
    faults_stand,
    known_people,
    pass_phrases_for,
    taken,
)
from app.services.roster_plan import Planned, RosterRow, plan
from app.store import classes, rosters
from app.store.db import Database

NEW_CLASS = "new"
MOST_STUDENTS = 600


@dataclass(frozen=True)
class OfferedClass:
    """A class of the zip. known_as: the id of this instructor's class that was made from it before."""

    roster_id: str
    name: str
    students: int
    known_as: str | None


@dataclass(frozen=True)
class Offer:
    """own: this instructor's classes that aren't put away, id and name."""

    file_id: str
    classes: tuple[OfferedClass, ...]
    own: tuple[tuple[str, str], ...]
    unknown: int


@dataclass(frozen=True)
class ZipPreview(Planned):
    """class_names: the classes that are taken, in the order that rows count them by."""

    class_names: tuple[str, ...]


def receive(database: Database, *, instructor: Person, content: bytes, now: datetime) -> str:
    """Keep a zip for its preview; returns its id. Raises Refused for what is no roster."""
    read_roster(content)
    return received_files.keep(database, instructor=instructor, content=content, now=now)


def offer(database: Database, *, instructor: Person, file_id: str, now: datetime) -> Offer:
    """The classes to choose from, by name. Raises NotFound."""
    roster = _roster(database, file_id, instructor, now)
    with database.read() as session:
        known = rosters.classes_by_roster_id(session, instructor.id)
        own = classes.classes_taught_by(session, instructor.id)
        offered = [
            OfferedClass(
                each.roster_id,
                _name(each, roster),
                len(each.students),
                known[each.roster_id].public_id if each.roster_id in known else None,
            )
            for each in roster.classes
        ]
        return Offer(
            file_id,
            tuple(sorted(offered, key=lambda each: each.name.casefold())),
            tuple((row.public_id, row.name) for row, _ in own if row.archived_at is None),
            roster.unknown,
        )


def preview(
    database: Database, *, instructor: Person, file_id: str, into: Mapping[str, str], now: datetime
) -> ZipPreview:
    """into: by a class's roster id, NEW_CLASS or the id of an own class. Raises NotFound and Refused."""
    roster = _roster(database, file_id, instructor, now)
    chosen, rows = _chosen(roster, into)
    with database.read() as session:
        targets = _targets(session, chosen, into, instructor)
        known = known_people(session, rows, targets, instructor)
    names = tuple(
        _name(each, roster) if target is None else target.name
        for each, target in zip(chosen, targets, strict=True)
    )
    return ZipPreview(file_id, plan(rows, known), names)


def take(
    database: Database,
    *,
    instructor: Person,
    file_id: str,
    into: Mapping[str, str],
    leave_out_faulty: bool,
    time_zone: str,
    units: UnitSystem,
    now: datetime,
) -> Taken:
    """Carry the preview out; new classes get this time zone and these units. Raises NotFound and Refused."""
    looked_at = preview(database, instructor=instructor, file_id=file_id, into=into, now=now)
    if looked_at.faulty and not leave_out_faulty:
        raise Refused("into", faults_stand(len(looked_at.faulty)))
    roster = _roster(database, file_id, instructor, now)
    chosen, rows = _chosen(roster, into)
    fields = [class_fields(_name(each, roster), time_zone, units) for each in chosen]
    secrets = pass_phrases_for(looked_at.rows)
    with database.write() as session:
        targets = _targets(session, chosen, into, instructor)
        if plan(rows, known_people(session, rows, targets, instructor)) != looked_at.rows:
            raise Refused("into", CHANGED)
        made = [
            target or classes.add_class(session, instructor_key=instructor.id, **fields[place], now=now)
            for place, target in enumerate(targets)
        ]
        cards = carry_out(session, looked_at.rows, made, secrets, now)
        for each, row in zip(chosen, made, strict=True):
            rosters.set_roster_id(session, row.id, each.roster_id)
            note(session, now, instructor, "take roster", row, roster_class=each.roster_id)
        rosters.forget_files(session, person_key=instructor.id)
    return taken(looked_at.rows, cards)


def _roster(database: Database, file_id: str, instructor: Person, now: datetime) -> Roster:
    return read_roster(received_files.content_of(database, file_id=file_id, instructor=instructor, now=now))


def _chosen(roster: Roster, into: Mapping[str, str]) -> tuple[list[RosterClass], list[RosterRow]]:
    """The classes to take, in the order of the file, and each of their students once."""
    chosen = [each for each in roster.classes if each.roster_id in into]
    if len(chosen) < len(into):
        raise NotFound("One of these classes isn't in the zip. Send it again.")
    if not chosen:
        raise Refused("into", "Choose at least one class to take.")
    places: dict[str, list[int]] = {}
    for place, each in enumerate(chosen):
        for student in each.students:
            places.setdefault(student, []).append(place)
    if len(places) > MOST_STUDENTS:
        raise Refused("into", f"These classes have {len(places)} students. Take {MOST_STUDENTS} at a time.")
    rows = [_row(roster.users[user], tuple(where)) for user, where in places.items()]
    return chosen, sorted(rows, key=lambda row: (row.typed.casefold(), row.line))


def _row(user: RosterUser, targets: tuple[int, ...]) -> RosterRow:
    name = typed_name(user.given, user.family)
    cells = (user.given, user.family, user.identifier, user.roster_id)
    return RosterRow(
        line=user.line,
        typed=", ".join(filter(None, (user.family, user.given))),
        name=name,
        number=user.identifier,
        roster_id=user.roster_id,
        targets=targets,
        fault=next(filter(None, map(fault_in_cell, cells)), None) or fault_in_name(name),
    )


def _targets(
    session: Any, chosen: list[RosterClass], into: Mapping[str, str], instructor: Person
) -> list[Any | None]:
    """The row of each chosen class; None for one to be made. Raises NotFound, and Refused for a class that is
    put away or chosen twice."""
    ids = [into[each.roster_id] for each in chosen]
    existing = [each for each in ids if each != NEW_CLASS]
    if len(existing) > len(set(existing)):
        raise Refused(
            "into", "Two classes of the zip go into the same class. Choose another for one of them."
        )
    rows = [None if each == NEW_CLASS else own_class(session, each, instructor) for each in ids]
    for row in rows:
        if row is not None:
            refuse_when_put_away(row, "into")
    return rows


def _name(each: RosterClass, roster: Roster) -> str:
    """Its title, with the code where another has the same title."""
    same = [other for other in roster.classes if other.title == each.title]
    name = f"{each.title} ({each.code})" if len(same) > 1 and each.code else each.title or each.code
    return " ".join(name.split())[:LONGEST_CLASS_NAME] or "Class without a title"
