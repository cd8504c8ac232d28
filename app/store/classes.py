"""Questions about classes, who teaches them and who is in them."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import Row, delete, func, select, update
from sqlalchemy.orm import Session, contains_eager

from app.domain.measures import UnitSystem
from app.store.models import Enrolment, Person, SchoolClass, SignIn, Teaching


def add_class(
    session: Session, *, instructor_key: int, name: str, time_zone: str, units: UnitSystem, now: datetime
) -> SchoolClass:
    row = SchoolClass(name=name, time_zone=time_zone, units=units, created_at=now)
    session.add(row)
    session.flush()
    session.add(Teaching(class_id=row.id, person_id=instructor_key))
    return row


def class_taught_by(session: Session, class_id: str, instructor_key: int) -> SchoolClass | None:
    """The class, when this person is one of its instructors."""
    return session.scalar(
        select(SchoolClass)
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .where(SchoolClass.public_id == class_id, Teaching.person_id == instructor_key)
    )


def classes_taught_by(session: Session, instructor_key: int) -> Sequence[Row[tuple[SchoolClass, int]]]:
    """Each class with the number of students in it now, by name."""
    return session.execute(
        select(SchoolClass, func.count(Enrolment.id))
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .outerjoin(Enrolment, (Enrolment.class_id == SchoolClass.id) & Enrolment.dropped_at.is_(None))
        .where(Teaching.person_id == instructor_key)
        .group_by(SchoolClass.id)
        .order_by(SchoolClass.name, SchoolClass.id)
    ).all()


def classes_attended_by(session: Session, student_key: int) -> Sequence[SchoolClass]:
    """The classes a student is in now, by name; archived ones are left out."""
    return session.scalars(
        select(SchoolClass)
        .join(Enrolment, Enrolment.class_id == SchoolClass.id)
        .where(
            Enrolment.person_id == student_key,
            Enrolment.dropped_at.is_(None),
            SchoolClass.archived_at.is_(None),
        )
        .order_by(SchoolClass.name, SchoolClass.id)
    ).all()


def enrolments_of(session: Session, class_key: int) -> list[Enrolment]:
    """Everyone who is or was in the class, with the person, by family name."""
    rows = session.scalars(
        select(Enrolment)
        .join(Enrolment.person)
        .where(Enrolment.class_id == class_key)
        .options(contains_eager(Enrolment.person))
    )
    return sorted(rows, key=lambda row: (row.person.sort_name.casefold(), row.id))


def last_seen_in(session: Session, class_key: int) -> dict[int, datetime]:
    """When each person who is or was in the class was last seen on any device, by person id."""
    rows = session.execute(
        select(SignIn.person_id, func.max(SignIn.last_seen_at))
        .join(Enrolment, Enrolment.person_id == SignIn.person_id)
        .where(Enrolment.class_id == class_key)
        .group_by(SignIn.person_id)
    )
    return dict(rows.tuples().all())


def enrolment_of(session: Session, class_key: int, student_id: str) -> Enrolment | None:
    """A student's place in the class, dropped or not, with the person."""
    return session.scalar(
        select(Enrolment)
        .join(Enrolment.person)
        .where(Enrolment.class_id == class_key, Person.public_id == student_id)
        .options(contains_eager(Enrolment.person))
    )


def instructors_of(session: Session, class_key: int) -> Sequence[Person]:
    """Who teaches the class, by name."""
    return session.scalars(
        select(Person)
        .join(Teaching, Teaching.person_id == Person.id)
        .where(Teaching.class_id == class_key)
        .order_by(Person.sort_name, Person.id)
    ).all()


def add_instructor(session: Session, class_key: int, instructor_key: int) -> None:
    session.merge(Teaching(class_id=class_key, person_id=instructor_key))


def remove_instructor(session: Session, class_key: int, instructor_key: int) -> None:
    session.execute(
        delete(Teaching).where(Teaching.class_id == class_key, Teaching.person_id == instructor_key)
    )


def students_taught_elsewhere(session: Session, class_key: int, instructor_key: int) -> Sequence[Person]:
    """Students of this instructor's classes who never were in this one, once each, by family name."""
    rows = session.scalars(
        select(Person)
        .join(Enrolment, Enrolment.person_id == Person.id)
        .join(Teaching, Teaching.class_id == Enrolment.class_id)
        .where(
            Teaching.person_id == instructor_key,
            Enrolment.dropped_at.is_(None),
            Person.id.not_in(select(Enrolment.person_id).where(Enrolment.class_id == class_key)),
        )
        .distinct()
    )
    return sorted(rows, key=lambda row: (row.sort_name.casefold(), row.id))


def classes_of_person(session: Session, person_key: int) -> Sequence[SchoolClass]:
    """Every class a student is or was in, archived ones too."""
    return session.scalars(
        select(SchoolClass)
        .join(Enrolment, Enrolment.class_id == SchoolClass.id)
        .where(Enrolment.person_id == person_key)
        .order_by(SchoolClass.id)
    ).all()


def class_keys_taught_by(session: Session, instructor_key: int) -> set[int]:
    return set(session.scalars(select(Teaching.class_id).where(Teaching.person_id == instructor_key)))


def enrol(session: Session, *, class_key: int, person_key: int, now: datetime) -> None:
    session.add(Enrolment(class_id=class_key, person_id=person_key, enrolled_at=now))


def take_back(session: Session, *, class_key: int, person_key: int) -> None:
    """Undo a student's leaving."""
    session.execute(
        update(Enrolment)
        .where(Enrolment.class_id == class_key, Enrolment.person_id == person_key)
        .values(dropped_at=None)
    )
