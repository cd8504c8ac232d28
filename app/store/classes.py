"""Questions about classes, who teaches them and who is in them."""

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import Row, func, select
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


def enrol(session: Session, *, class_id: int, person_id: int, now: datetime) -> None:
    session.add(Enrolment(class_id=class_id, person_id=person_id, enrolled_at=now))
