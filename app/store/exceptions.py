"""Questions about what is otherwise for single students: their exceptions and their extra time."""

from collections.abc import Iterable, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session, contains_eager

from app.store.models import Assignment, AssignmentException, Enrolment


def exceptions_at(
    session: Session, assignment_keys: Iterable[int], person_keys: Iterable[int] | None = None
) -> Sequence[AssignmentException]:
    """The exceptions at some assignments with their persons: of these persons, or of all."""
    found = (
        select(AssignmentException)
        .join(AssignmentException.person)
        .where(AssignmentException.assignment_id.in_(list(assignment_keys)))
        .options(contains_eager(AssignmentException.person))
        .order_by(AssignmentException.id)
    )
    if person_keys is not None:
        found = found.where(AssignmentException.person_id.in_(list(person_keys)))
    return session.scalars(found).all()


def exceptions_in_class(session: Session, class_key: int) -> Sequence[AssignmentException]:
    """Every exception at the assignments of a class."""
    return session.scalars(
        select(AssignmentException)
        .join(Assignment, Assignment.id == AssignmentException.assignment_id)
        .where(Assignment.class_id == class_key)
    ).all()


def exception_of(session: Session, assignment_key: int, person_key: int) -> AssignmentException | None:
    return session.scalar(
        select(AssignmentException).where(
            AssignmentException.assignment_id == assignment_key, AssignmentException.person_id == person_key
        )
    )


def add(session: Session, exception: dict[str, object]) -> None:
    session.add(AssignmentException(**exception))
    session.flush()


def extra_time_factors(
    session: Session, class_keys: Iterable[int], person_keys: Iterable[int] | None = None
) -> dict[tuple[int, int], float]:
    """The factor of each (class, person) that is or was in these classes."""
    found = select(Enrolment.class_id, Enrolment.person_id, Enrolment.extra_time_factor).where(
        Enrolment.class_id.in_(list(class_keys))
    )
    if person_keys is not None:
        found = found.where(Enrolment.person_id.in_(list(person_keys)))
    return {(class_key, person_key): factor for class_key, person_key, factor in session.execute(found)}
