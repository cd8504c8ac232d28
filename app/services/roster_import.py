"""Taking a class list into a class: first what it would do, then all of it or nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.pass_phrases import make_pass_phrase
from app.services import hashing, received_files
from app.services.accounts import Person
from app.services.cards import Card, add_student
from app.services.delimited import Table, read_table
from app.services.errors import Refused
from app.services.names import free_sign_in_name
from app.services.reach import note, own_class, refuse_when_put_away
from app.services.roster_columns import Columns, matched, rows_of
from app.services.roster_plan import Known, KnownPerson, Planned, PlannedRow, RosterRow, plan
from app.store import classes, people, rosters
from app.store.choices import Role
from app.store.db import Database

CHANGED = "The class has changed since this page was shown. Look at the list once more."


@dataclass(frozen=True)
class Preview(Planned):
    """A list as it is read, and what taking it would do. absent: names of students in the class who aren't
    on it; they stay."""

    table: Table
    columns: Columns
    absent: tuple[str, ...]


@dataclass(frozen=True)
class Taken:
    """What a list did. `cards` are those of new students, by the order of the list."""

    cards: tuple[Card, ...]
    changed: int
    unchanged: int
    left_out: int


def receive(database: Database, *, class_id: str, instructor: Person, content: bytes, now: datetime) -> str:
    """Keep a list for its preview; returns its id. Raises NotFound for the class, and Refused when it is put
    away and for what is no list."""
    with database.read() as session:
        refuse_when_put_away(own_class(session, class_id, instructor))
    read_table(content)
    return received_files.keep(database, instructor=instructor, content=content, now=now)


def preview(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    file_id: str,
    columns: Columns | None,
    now: datetime,
) -> Preview:
    """`columns` None: as the heads say. Raises NotFound, and Refused for columns that can't be."""
    content = received_files.content_of(database, file_id=file_id, instructor=instructor, now=now)
    table = read_table(content)
    columns = columns or matched(table)
    rows = rows_of(table, columns)
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        known = known_people(session, rows, [row], instructor)
    planned = plan(rows, known)
    on_list = {each.person.key for each in planned if each.person}
    absent = sorted(
        known.people[key].sort_name
        for key, there in known.enrolled[0].items()
        if there and key not in on_list
    )
    return Preview(file_id, planned, table, columns, tuple(absent))


def take(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    file_id: str,
    columns: Columns,
    leave_out_faulty: bool,
    now: datetime,
) -> Taken:
    """Carry the preview out. Raises NotFound, and Refused when a line has a fault and isn't to be left out,
    or when what the list would do has changed."""
    looked_at = preview(
        database, class_id=class_id, instructor=instructor, file_id=file_id, columns=columns, now=now
    )
    if looked_at.faulty and not leave_out_faulty:
        raise Refused("columns", faults_stand(len(looked_at.faulty)))
    secrets = pass_phrases_for(looked_at.rows)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        rows = [each.row for each in looked_at.rows]
        if plan(rows, known_people(session, rows, [row], instructor)) != looked_at.rows:
            raise Refused("columns", CHANGED)
        cards = carry_out(session, looked_at.rows, [row], secrets, now)
        rosters.forget_files(session, person_key=instructor.id)
        note(
            session,
            now,
            instructor,
            "take class list",
            row,
            new=len(cards),
            changed=len(looked_at.changing) - len(cards),
            left_out=len(looked_at.faulty),
        )
    return taken(looked_at.rows, cards)


def faults_stand(count: int) -> str:
    """Why nothing was taken."""
    have = "1 line has a fault" if count == 1 else f"{count} lines have a fault"
    return f"{have}. Mend the list and send it again, or choose to leave such lines out."


def taken(rows: Sequence[PlannedRow], cards: Sequence[Card]) -> Taken:
    changing, faulty = sum(row.changes for row in rows), sum(row.fault is not None for row in rows)
    return Taken(tuple(cards), changing - len(cards), len(rows) - changing - faulty, faulty)


def known_people(
    session: Any, rows: Iterable[RosterRow], targets: Sequence[Any | None], instructor: Person
) -> Known:
    """Who may be meant by the rows. targets: the classes' rows; None for one that is yet to be made."""
    rows = list(rows)
    there = [target.id for target in targets if target is not None]
    found = rosters.people_meant(
        session,
        keys={key for row in rows for key in (row.number, row.roster_id) if key},
        sign_in_names={row.sign_in_name for row in rows if row.sign_in_name},
        class_keys=there,
    )
    person_keys = [person.id for person in found]
    keys = rosters.keys_of(session, person_keys)
    own = rosters.taught_by(session, person_keys, instructor.id)
    return Known(
        people={
            person.id: KnownPerson(
                key=person.id,
                display_name=person.display_name,
                sort_name=person.sort_name,
                sign_in_name=person.sign_in_name,
                is_student=person.role is Role.STUDENT,
                own=person.id in own,
                keys=keys.get(person.id, {}),
            )
            for person in found
        },
        enrolled=[
            {}
            if target is None
            else {
                each.person_id: each.dropped_at is None for each in classes.enrolments_of(session, target.id)
            }
            for target in targets
        ],
    )


def pass_phrases_for(rows: Iterable[PlannedRow]) -> list[tuple[str, str]]:
    """A new pass phrase and its hash for each new student; slow, so before the writing."""
    phrases = [make_pass_phrase() for row in rows if row.is_new]
    return [(phrase, hashing.hash_pass_phrase(phrase)) for phrase in phrases]


def carry_out(
    session: Any,
    rows: Sequence[PlannedRow],
    targets: Sequence[Any],
    secrets: Sequence[tuple[str, str]],
    now: datetime,
) -> list[Card]:
    """Write what was planned; returns the cards of the new students."""
    taken_names = people.sign_in_names(session) | {each.row.sign_in_name for each in rows if each.is_new}
    cards, waiting = [], iter(secrets)
    for each in rows:
        name = each.row.name
        if not each.changes or name is None:
            continue
        if each.person is None:
            phrase, phrase_hash = next(waiting)
            sign_in_name = each.row.sign_in_name or free_sign_in_name(name.sign_in_stem, taken_names)
            taken_names.add(sign_in_name)
            key = add_student(session, name, sign_in_name, phrase_hash, now)
            cards.append(Card(name.display_name, sign_in_name, phrase))
        else:
            key = each.person.key
            if each.earlier_name is not None:
                people.rename(session, key, display_name=name.display_name, sort_name=name.sort_name)
        rosters.add_keys(session, key, each.new_keys.items())
        for place in each.enrol:
            classes.enrol(session, class_key=targets[place].id, person_key=key, now=now)
        for place in each.take_back:
            classes.take_back(session, class_key=targets[place].id, person_key=key)
    return cards
