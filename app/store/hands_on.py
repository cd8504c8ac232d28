"""Questions about skills at the machine and who was seen doing them."""

from collections.abc import Collection, Sequence
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.domain.hands_on import Level
from app.store.models import HandsOnCheck, HandsOnSkill


def skills_of(session: Session, class_key: int) -> Sequence[HandsOnSkill]:
    """Every skill of a class, those put away too, in the instructor's order."""
    return session.scalars(
        select(HandsOnSkill)
        .where(HandsOnSkill.class_id == class_key)
        .order_by(HandsOnSkill.place, HandsOnSkill.id)
    ).all()


def skill_in(session: Session, class_key: int, skill_id: str) -> HandsOnSkill | None:
    return session.scalar(
        select(HandsOnSkill).where(HandsOnSkill.class_id == class_key, HandsOnSkill.public_id == skill_id)
    )


def add_skill(session: Session, *, class_key: int, name: str, code: str | None, now: datetime) -> None:
    """At the end of the list."""
    last = session.scalar(select(func.max(HandsOnSkill.place)).where(HandsOnSkill.class_id == class_key))
    session.add(HandsOnSkill(class_id=class_key, name=name, code=code, place=(last or 0) + 1, created_at=now))
    session.flush()


def standing_checks(
    session: Session, skill_keys: Collection[int], *, person_keys: Collection[int] | None = None
) -> Sequence[HandsOnCheck]:
    """The newest check of each student at each of these skills, what was undone included."""
    newest = select(func.max(HandsOnCheck.id)).where(HandsOnCheck.skill_id.in_(skill_keys))
    if person_keys is not None:
        newest = newest.where(HandsOnCheck.person_id.in_(person_keys))
    return session.scalars(
        select(HandsOnCheck).where(
            HandsOnCheck.id.in_(newest.group_by(HandsOnCheck.skill_id, HandsOnCheck.person_id))
        )
    ).all()


def checks_of(session: Session, skill_keys: Collection[int], person_key: int) -> Sequence[HandsOnCheck]:
    """Every check of a student at these skills, the newest first."""
    return session.scalars(
        select(HandsOnCheck)
        .where(HandsOnCheck.skill_id.in_(skill_keys), HandsOnCheck.person_id == person_key)
        .order_by(HandsOnCheck.id.desc())
    ).all()


def newest_check(session: Session, skill_key: int, person_key: int) -> HandsOnCheck | None:
    return session.scalar(
        select(HandsOnCheck)
        .where(HandsOnCheck.skill_id == skill_key, HandsOnCheck.person_id == person_key)
        .order_by(HandsOnCheck.id.desc())
        .limit(1)
    )


def check_by_key(session: Session, instructor_key: int, key: str) -> HandsOnCheck | None:
    """The check that this instructor's page sent under this key."""
    return session.scalar(
        select(HandsOnCheck).where(HandsOnCheck.made_by == instructor_key, HandsOnCheck.key == key)
    )


def add_check(
    session: Session,
    *,
    skill_key: int,
    person_key: int,
    level: Level,
    note: str,
    done_on: date,
    key: str,
    made_by: int,
    now: datetime,
) -> None:
    session.add(
        HandsOnCheck(
            skill_id=skill_key,
            person_id=person_key,
            level=level,
            note=note,
            done_on=done_on,
            key=key,
            made_by=made_by,
            at=now,
        )
    )
    session.flush()
