"""Questions about reflection sheets."""

from collections.abc import Collection, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, delete, func, select
from sqlalchemy.orm import Session, selectinload

from app.store.choices import ReflectionState
from app.store.models import (
    Assignment,
    Reflection,
    ReflectionAside,
    ReflectionPrompt,
    ReflectionRule,
    ReflectionSheet,
    ReflectionStep,
)


def reflections_of(
    session: Session, assignment_key: int, student_key: int | None = None
) -> Sequence[Reflection]:
    """What one student, or everyone, wrote for an assignment, with what is kept beside it."""
    query = (
        select(Reflection)
        .where(Reflection.assignment_id == assignment_key)
        .options(selectinload(Reflection.asides))
    )
    if student_key is not None:
        query = query.where(Reflection.person_id == student_key)
    return session.scalars(query).all()


def sheets_of(
    session: Session, assignment_key: int, student_key: int | None = None
) -> Sequence[ReflectionSheet]:
    """The sheet of one student, or everyone's, with its steps and who made them."""
    query = (
        select(ReflectionSheet)
        .where(ReflectionSheet.assignment_id == assignment_key)
        .options(selectinload(ReflectionSheet.steps).joinedload(ReflectionStep.maker))
    )
    if student_key is not None:
        query = query.where(ReflectionSheet.person_id == student_key)
    return session.scalars(query).all()


def sheet_to_change(session: Session, assignment_key: int, student_key: int) -> ReflectionSheet:
    """A student's sheet, made when there is none. Only for write(): it keeps all others from writing."""
    [*found] = sheets_of(session, assignment_key, student_key)
    if found:
        return found[0]
    row = ReflectionSheet(
        assignment_id=assignment_key, person_id=student_key, state=ReflectionState.WRITING, changes=0
    )
    session.add(row)
    session.flush()
    return row


def add_step(session: Session, sheet: ReflectionSheet, **columns: Any) -> None:
    """Append a step, whose state and points are then the sheet's."""
    sheet.state, sheet.points = columns["state"], columns["points"]
    sheet.steps.append(ReflectionStep(number=len(sheet.steps) + 1, **columns))
    session.flush()


def reflection_to_change(
    session: Session, assignment_key: int, student_key: int, prompt_id: str, now: datetime
) -> Reflection:
    """What a student wrote under one prompt, an empty text when there is none. Only for write()."""
    row = session.scalar(
        select(Reflection)
        .where(
            Reflection.assignment_id == assignment_key,
            Reflection.person_id == student_key,
            Reflection.prompt_id == prompt_id,
        )
        .options(selectinload(Reflection.asides))
    )
    if row is None:
        row = Reflection(
            assignment_id=assignment_key, person_id=student_key, prompt_id=prompt_id, text="", saved_at=now
        )
        session.add(row)
        session.flush()
    return row


def aside_to_change(reflection: Reflection, opened_page: str) -> ReflectionAside:
    """What one opened page has beside a text, an empty text when there is nothing."""
    row = next((each for each in reflection.asides if each.opened_page == opened_page), None)
    if row is None:
        row = ReflectionAside(opened_page=opened_page, text="", saved_at=reflection.saved_at)
        reflection.asides.append(row)
    return row


def drop_aside(session: Session, reflection: Reflection, aside: ReflectionAside) -> None:
    reflection.asides.remove(aside)
    session.delete(aside)
    session.flush()


def prompts_of(session: Session, assignment_key: int) -> Sequence[ReflectionPrompt]:
    """The instructor's own prompts and the closed ones of the scenario, in the order they were added."""
    return session.scalars(
        select(ReflectionPrompt)
        .where(ReflectionPrompt.assignment_id == assignment_key)
        .order_by(ReflectionPrompt.id)
    ).all()


def add_prompt(session: Session, **columns: Any) -> ReflectionPrompt:
    row = ReflectionPrompt(**columns)
    session.add(row)
    session.flush()
    return row


def drop_prompt(session: Session, prompt: ReflectionPrompt) -> None:
    session.delete(prompt)
    session.flush()


def texts_by_prompt(session: Session, assignment_key: int) -> dict[str, int]:
    """How many students' texts stand, or are kept beside one, under each prompt."""
    rows = session.execute(
        select(Reflection.prompt_id, func.count(Reflection.id.distinct()))
        .outerjoin(ReflectionAside, ReflectionAside.reflection_id == Reflection.id)
        .where(
            Reflection.assignment_id == assignment_key,
            (Reflection.text != "") | ReflectionAside.id.is_not(None),
        )
        .group_by(Reflection.prompt_id)
    )
    return dict(rows.tuples().all())


def out_of(session: Session, assignment_key: int) -> float | None:
    """What the sheets of an assignment are worth; None where no points are given."""
    return session.scalar(select(ReflectionRule.out_of).where(ReflectionRule.assignment_id == assignment_key))


def set_out_of(session: Session, assignment_key: int, value: float | None) -> None:
    session.execute(delete(ReflectionRule).where(ReflectionRule.assignment_id == assignment_key))
    if value is not None:
        session.add(ReflectionRule(assignment_id=assignment_key, out_of=value))
    session.flush()


def most_points(session: Session, assignment_key: int) -> float:
    """The most that any sheet of an assignment was given."""
    most = select(func.max(ReflectionSheet.points)).where(ReflectionSheet.assignment_id == assignment_key)
    return session.scalar(most) or 0.0


def points_in_class(session: Session, class_key: int) -> Sequence[Row[Any]]:
    """(assignment_id, person_id, state, points, out_of) of every sheet of a class with a row."""
    return session.execute(
        select(
            ReflectionSheet.assignment_id,
            ReflectionSheet.person_id,
            ReflectionSheet.state,
            ReflectionSheet.points,
            ReflectionRule.out_of,
        )
        .join(Assignment, Assignment.id == ReflectionSheet.assignment_id)
        .outerjoin(ReflectionRule, ReflectionRule.assignment_id == Assignment.id)
        .where(Assignment.class_id == class_key)
    ).all()


def begun_by(session: Session, student_key: int) -> dict[int, ReflectionState]:
    """How each sheet stands that a student began, by assignment."""
    rows = session.execute(
        select(ReflectionSheet.assignment_id, ReflectionSheet.state).where(
            ReflectionSheet.person_id == student_key
        )
    )
    return dict(rows.tuples().all())


def prompts_of_each(session: Session, assignment_keys: Collection[int]) -> dict[int, list[ReflectionPrompt]]:
    """As prompts_of, by assignment; without those that have none."""
    rows = session.scalars(
        select(ReflectionPrompt)
        .where(ReflectionPrompt.assignment_id.in_(assignment_keys))
        .order_by(ReflectionPrompt.id)
    )
    by_assignment: dict[int, list[ReflectionPrompt]] = {}
    for row in rows:
        by_assignment.setdefault(row.assignment_id, []).append(row)
    return by_assignment
