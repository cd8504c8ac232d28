"""Questions about a school's own keys, and lists that were received and not yet taken."""

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime

from sqlalchemy import ColumnElement, delete, or_, select
from sqlalchemy.orm import Session

from app.store.choices import KeyKind
from app.store.models import ClassKey, Enrolment, Person, PersonKey, ReceivedFile, SchoolClass, Teaching


def people_meant(
    session: Session,
    *,
    keys: Collection[str],
    sign_in_names: Collection[str],
    class_keys: Collection[int],
) -> Sequence[Person]:
    """Everyone with one of these school keys or sign-in names, or who is or was in one of the classes."""
    meant: list[ColumnElement[bool]] = [
        Person.id.in_(select(PersonKey.person_id).where(PersonKey.value.in_(keys))),
        Person.sign_in_name.in_(sign_in_names),
        Person.id.in_(select(Enrolment.person_id).where(Enrolment.class_id.in_(class_keys))),
    ]
    return session.scalars(select(Person).where(or_(*meant)).order_by(Person.id)).all()


def keys_of(session: Session, person_keys: Collection[int]) -> dict[int, dict[KeyKind, str]]:
    """The school keys of these people, by person."""
    found: dict[int, dict[KeyKind, str]] = {}
    rows = session.scalars(select(PersonKey).where(PersonKey.person_id.in_(person_keys)))
    for row in rows:
        found.setdefault(row.person_id, {})[row.kind] = row.value
    return found


def taught_by(session: Session, person_keys: Collection[int], instructor_key: int) -> set[int]:
    """Those of these people who are or were in a class of this instructor."""
    return set(
        session.scalars(
            select(Enrolment.person_id)
            .join(Teaching, Teaching.class_id == Enrolment.class_id)
            .where(Teaching.person_id == instructor_key, Enrolment.person_id.in_(person_keys))
        )
    )


def add_keys(session: Session, person_key: int, keys: Iterable[tuple[KeyKind, str]]) -> None:
    session.add_all(PersonKey(person_id=person_key, kind=kind, value=value) for kind, value in keys)


def classes_by_roster_id(session: Session, instructor_key: int) -> dict[str, SchoolClass]:
    """This instructor's classes that a school's list has named, by the id it has there."""
    rows = session.execute(
        select(ClassKey.roster_id, SchoolClass)
        .join(SchoolClass, SchoolClass.id == ClassKey.class_id)
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .where(Teaching.person_id == instructor_key)
        .order_by(SchoolClass.id)
    )
    return dict(rows.tuples().all())


def roster_id_of(session: Session, class_key: int) -> str | None:
    return session.scalar(select(ClassKey.roster_id).where(ClassKey.class_id == class_key))


def set_roster_id(session: Session, class_key: int, roster_id: str) -> None:
    session.merge(ClassKey(class_id=class_key, roster_id=roster_id))


def keep_file(session: Session, *, person_key: int, content: bytes, now: datetime) -> str:
    """Keep one list of this person, in place of an earlier one; returns its public id."""
    session.execute(delete(ReceivedFile).where(ReceivedFile.person_id == person_key))
    row = ReceivedFile(person_id=person_key, content=content, received_at=now)
    session.add(row)
    session.flush()
    return row.public_id


def kept_file(
    session: Session, file_id: str, person_key: int, *, not_before: datetime
) -> ReceivedFile | None:
    """A list that this person sent, unless it is too old."""
    return session.scalar(
        select(ReceivedFile).where(
            ReceivedFile.public_id == file_id,
            ReceivedFile.person_id == person_key,
            ReceivedFile.received_at >= not_before,
        )
    )


def forget_files(session: Session, *, person_key: int | None = None, before: datetime | None = None) -> None:
    """Drop received lists: of one person, and those received before a time."""
    old = [ReceivedFile.person_id == person_key] if person_key is not None else []
    old += [ReceivedFile.received_at < before] if before is not None else []
    session.execute(delete(ReceivedFile).where(or_(*old)) if old else delete(ReceivedFile))
