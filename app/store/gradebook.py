"""Questions about the gradebook: categories, grades set by hand, and every attempt's columns."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Float, Row, cast, false, func, literal, select, true, union_all, update
from sqlalchemy.orm import Session, joinedload

from app.store.models import (
    Assignment,
    Attempt,
    Category,
    HandGrade,
    Mark,
    ReflectionRule,
    ReflectionSheet,
    SchoolClass,
    Teaching,
)
from app.store.models.practice import WAITING


def class_with_categories(
    session: Session, class_id: str, instructor_key: int
) -> tuple[SchoolClass, list[Category]] | None:
    """The class, when this person teaches it, and its categories in the order they were made: one query."""
    rows = session.execute(
        select(SchoolClass, Category)
        .join(Teaching, Teaching.class_id == SchoolClass.id)
        .outerjoin(Category, Category.class_id == SchoolClass.id)
        .where(SchoolClass.public_id == class_id, Teaching.person_id == instructor_key)
        .order_by(Category.id)
    ).all()
    if not rows:
        return None
    return rows[0][0], [category for _, category in rows if category is not None]


def categories_of(session: Session, class_key: int) -> Sequence[Category]:
    return session.scalars(select(Category).where(Category.class_id == class_key).order_by(Category.id)).all()


def add_category(session: Session, **columns: Any) -> Category:
    row = Category(**columns)
    session.add(row)
    session.flush()
    return row


def remove_category(session: Session, row: Category) -> None:
    """Its assignments are in no category then."""
    session.execute(update(Assignment).where(Assignment.category_id == row.id).values(category_id=None))
    session.delete(row)
    session.flush()


def attempts_of_class(session: Session, class_key: int, *, only: int | None = None) -> Sequence[Row[Any]]:
    """Every attempt of a class, or of one person in it: the keys of its assignment and person, and then what
    a domain's `Try` takes, in its order. Those of one place come together, as they were begun.

    A gradebook reads ten thousand: they come past the session, which would handle each once more.
    """
    waiting = select(func.count()).where(Mark.attempt_id == Attempt.id, WAITING).scalar_subquery()
    found = (
        select(
            Attempt.assignment_id,
            Attempt.person_id,
            Attempt.number,
            Attempt.started_at,
            Attempt.handed_in_at,
            Attempt.points,
            Attempt.out_of,
            Attempt.public_id,
            waiting,
        )
        .where(Attempt.assignment_id.in_(select(Assignment.id).where(Assignment.class_id == class_key)))
        .order_by(Attempt.assignment_id, Attempt.person_id, Attempt.number)
    )
    if only is not None:
        found = found.where(Attempt.person_id == only)
    return session.connection().execute(found).all()


def grades_beside_marks(session: Session, class_key: int, *, only: int | None = None) -> Sequence[Row[Any]]:
    """What stands beside the marks of a class, or of one person in it: grades set by hand (`is_sheet` false,
    out_of None), and the points that reflection sheets were given. One query."""
    by_hand = (
        select(
            false().label("is_sheet"),
            HandGrade.assignment_id,
            HandGrade.person_id,
            HandGrade.points,
            cast(None, Float).label("out_of"),
            HandGrade.reason,
            HandGrade.comment,
        )
        .join(Assignment, Assignment.id == HandGrade.assignment_id)
        .where(Assignment.class_id == class_key, HandGrade.superseded_at.is_(None))
    )
    sheets = (
        select(
            true(),
            ReflectionSheet.assignment_id,
            ReflectionSheet.person_id,
            ReflectionSheet.points,
            ReflectionRule.out_of,
            literal(""),
            literal(""),
        )
        .join(ReflectionRule, ReflectionRule.assignment_id == ReflectionSheet.assignment_id)
        .join(Assignment, Assignment.id == ReflectionSheet.assignment_id)
        .where(Assignment.class_id == class_key, ReflectionSheet.points.is_not(None))
    )
    if only is not None:
        by_hand = by_hand.where(HandGrade.person_id == only)
        sheets = sheets.where(ReflectionSheet.person_id == only)
    return session.execute(union_all(by_hand, sheets)).all()


def hand_grades_of_student(
    session: Session, assignment_keys: Sequence[int], student_key: int
) -> Sequence[HandGrade]:
    """Those that stand for one student."""
    return session.scalars(
        select(HandGrade).where(
            HandGrade.assignment_id.in_(list(assignment_keys)),
            HandGrade.person_id == student_key,
            HandGrade.superseded_at.is_(None),
        )
    ).all()


def hand_grades_at(session: Session, assignment_key: int, student_key: int) -> Sequence[HandGrade]:
    """Every one that was ever set for a student at an assignment, with who set it, the newest first."""
    return session.scalars(
        select(HandGrade)
        .where(HandGrade.assignment_id == assignment_key, HandGrade.person_id == student_key)
        .options(joinedload(HandGrade.maker))
        .order_by(HandGrade.id.desc())
    ).all()


def set_hand_grade(
    session: Session,
    *,
    assignment_key: int,
    student_key: int,
    points: float | None,
    reason: str,
    comment: str,
    made_by: int,
    now: datetime,
) -> None:
    """Set what stands for a student at an assignment; what stood before stays, as superseded."""
    session.execute(
        update(HandGrade)
        .where(
            HandGrade.assignment_id == assignment_key,
            HandGrade.person_id == student_key,
            HandGrade.superseded_at.is_(None),
        )
        .values(superseded_at=now)
    )
    session.add(
        HandGrade(
            assignment_id=assignment_key,
            person_id=student_key,
            points=points,
            reason=reason,
            comment=comment,
            made_at=now,
            made_by=made_by,
        )
    )
    session.flush()


def marks_ever_of(session: Session, attempt_keys: Sequence[int]) -> Sequence[Mark]:
    """Every mark of these attempts, superseded ones too, in the order in which they were made."""
    return session.scalars(
        select(Mark).where(Mark.attempt_id.in_(list(attempt_keys))).order_by(Mark.id)
    ).all()
