"""Short ways to people and classes, through the services that make them for real."""

from datetime import UTC, datetime
from itertools import count

from app.domain.measures import UnitSystem
from app.services import accounts, cards, classes
from app.services.accounts import Person
from app.services.cards import Card
from app.store import people
from app.store.db import Database

MADE_AT = datetime(2030, 3, 1, 14, 0, tzinfo=UTC)

numbers = count(1)


def instructor(database: Database, *, sign_in_name: str | None = None, now: datetime = MADE_AT) -> Person:
    return instructor_and_phrase(database, sign_in_name=sign_in_name, now=now)[0]


def instructor_and_phrase(
    database: Database, *, sign_in_name: str | None = None, now: datetime = MADE_AT
) -> tuple[Person, str]:
    name = sign_in_name or f"teacher{next(numbers)}"
    phrase = accounts.add_instructor(database, display_name="Robin Lang", sign_in_name=name, now=now)
    return person_named(database, name), phrase


def school_class(
    database: Database, *, instructor: Person, name: str = "Auto 2", now: datetime = MADE_AT
) -> str:
    """The public id of a new class."""
    return classes.make_class(
        database, instructor=instructor, name=name, time_zone="America/Chicago", units=UnitSystem.US, now=now
    )


def student(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    name: str | None = None,
    now: datetime = MADE_AT,
) -> Person:
    return student_and_card(database, class_id=class_id, instructor=instructor, name=name, now=now)[0]


def student_and_card(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    name: str | None = None,
    now: datetime = MADE_AT,
) -> tuple[Person, Card]:
    [card] = cards.add_students(
        database,
        class_id=class_id,
        instructor=instructor,
        names=[name or f"Sam Number {next(numbers)}"],
        now=now,
    )
    return person_named(database, card.sign_in_name), card


def person_named(database: Database, sign_in_name: str) -> Person:
    with database.read() as session:
        row = people.person_by_sign_in_name(session, sign_in_name)
        assert row is not None
        return Person(row.id, row.public_id, row.role, row.display_name, row.sign_in_name)
