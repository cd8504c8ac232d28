"""Sign-in cards. A pass phrase is kept only as a hash, so a card exists only while it is being made."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.pass_phrases import make_pass_phrase
from app.services import hashing
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.names import LONGEST_NAME, TypedName, free_sign_in_name, read_name, same_name
from app.services.reach import note, own_class, refuse_when_put_away
from app.store import classes, people
from app.store.choices import Role
from app.store.db import Database

MOST_NAMES = 200
MOST_FAULTS_TOLD = 5


@dataclass(frozen=True)
class Card:
    display_name: str
    sign_in_name: str
    pass_phrase: str


def add_students(
    database: Database, *, class_id: str, instructor: Person, names: list[str], now: datetime
) -> list[Card]:
    """Add students and return their cards in the order of the list: all of them, or none.

    names: lines `Given Family` or `Family, Given`; empty lines are skipped. Raises NotFound, and Refused
    that tells what is wrong on which lines.
    """
    typed = _read(names)
    phrases = [make_pass_phrase() for _ in typed]
    hashes = [hashing.hash_pass_phrase(phrase) for phrase in phrases]
    cards = []
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        _refuse_duplicates(typed, classes.enrolments_of(session, row.id))
        taken = people.sign_in_names(session)
        for name, phrase, phrase_hash in zip(typed.values(), phrases, hashes, strict=True):
            sign_in_name = free_sign_in_name(name.sign_in_stem, taken)
            taken.add(sign_in_name)
            student_key = add_student(session, name, sign_in_name, phrase_hash, now)
            classes.enrol(session, class_key=row.id, person_key=student_key, now=now)
            cards.append(Card(name.display_name, sign_in_name, phrase))
        note(session, now, instructor, "add students", row, students=[card.sign_in_name for card in cards])
    return cards


def add_student(session: Any, name: TypedName, sign_in_name: str, phrase_hash: str, now: datetime) -> int:
    """The key of a new student, in no class yet."""
    row = people.add_person(
        session,
        role=Role.STUDENT,
        display_name=name.display_name,
        sort_name=name.sort_name,
        sign_in_name=sign_in_name,
        pass_phrase_hash=phrase_hash,
        now=now,
    )
    return row.id


def new_cards(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    student_ids: Iterable[str],
    now: datetime,
) -> list[Card]:
    """New pass phrases for students of the class, by family name. Their old phrases and open sign-ins end,
    and so does any wait after wrong tries. Raises NotFound when one isn't in the class now."""
    wanted = set(student_ids)
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        students = [
            enrolment.person
            for enrolment in classes.enrolments_of(session, row.id)
            if enrolment.dropped_at is None and enrolment.person.public_id in wanted
        ]
    if len(students) < len(wanted):
        raise NotFound("One of these students isn't in this class any more.")
    cards = [Card(student.display_name, student.sign_in_name, make_pass_phrase()) for student in students]
    hashes = [hashing.hash_pass_phrase(card.pass_phrase) for card in cards]
    with database.write() as session:
        for student, phrase_hash in zip(students, hashes, strict=True):
            people.set_pass_phrase_hash(session, people.known_person(session, student.id), phrase_hash, now)
        note(session, now, instructor, "new cards", row, students=[card.sign_in_name for card in cards])
    return cards


def _read(names: list[str]) -> dict[int, TypedName]:
    """The names by line number. Raises Refused for lines that are no names."""
    lines = {number: text for number, text in enumerate(names, start=1) if text.strip()}
    if not lines:
        raise Refused("names", "Type at least one name.")
    if len(lines) > MOST_NAMES:
        raise Refused("names", f"Add at most {MOST_NAMES} students at a time; these are {len(lines)}.")
    typed, faults = {}, []
    for number, text in lines.items():
        name = read_name(text)
        if name is None:
            faults.append(f"Line {number}: a name needs letters.")
        elif len(name.display_name) > LONGEST_NAME:
            faults.append(f"Line {number}: a name has at most {LONGEST_NAME} characters.")
        else:
            typed[number] = name
    _refuse(faults)
    return typed


def _refuse_duplicates(typed: dict[int, TypedName], enrolments: list[Any]) -> None:
    """Two cards with one name would be mixed up."""
    known = {
        same_name(enrolment.person.display_name): "is in this class already"
        if enrolment.dropped_at is None
        else "was dropped from this class; restore that student instead"
        for enrolment in enrolments
    }
    faults = []
    for line, name in typed.items():
        key = same_name(name.display_name)
        if key in known:
            faults.append(f"Line {line}: {name.display_name} {known[key]}.")
        known.setdefault(key, f"stands on line {line} already")
    _refuse(faults, "If they are two people, add a middle initial.")


def _refuse(faults: list[str], remedy: str = "") -> None:
    """Raises Refused with the first faults when there are any."""
    if faults:
        more = len(faults) - MOST_FAULTS_TOLD
        told = [*faults[:MOST_FAULTS_TOLD], f"And {more} more." if more > 0 else "", remedy]
        raise Refused("names", " ".join(filter(None, told)))
