"""Questions about contests, their teams and heats."""

from collections.abc import Collection, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session, contains_eager

from app.store.models import Contest, ContestMember, ContestTeam, Heat, HeatEvent, Person


def contests_of(session: Session, class_key: int) -> Sequence[Contest]:
    """The newest first."""
    return session.scalars(
        select(Contest).where(Contest.class_id == class_key).order_by(Contest.id.desc())
    ).all()


def contest_in(session: Session, class_key: int, contest_id: str) -> Contest | None:
    return session.scalar(
        select(Contest).where(Contest.class_id == class_key, Contest.public_id == contest_id)
    )


def add_contest(
    session: Session, *, class_key: int, title: str, teams: Sequence[tuple[str, Sequence[int]]], now: datetime
) -> Contest:
    """With its teams: name and members of each, in order, and the first heat."""
    contest = Contest(class_id=class_key, title=title, created_at=now)
    session.add(contest)
    session.flush()
    for place, (name, members) in enumerate(teams, start=1):
        team = ContestTeam(contest_id=contest.id, name=name, place=place)
        session.add(team)
        session.flush()
        session.add_all(ContestMember(team_id=team.id, person_id=person_key) for person_key in members)
    add_heat(session, contest.id, now)
    return contest


def add_heat(session: Session, contest_key: int, now: datetime) -> Heat:
    last = session.scalar(select(func.max(Heat.number)).where(Heat.contest_id == contest_key))
    heat = Heat(contest_id=contest_key, number=(last or 0) + 1, created_at=now)
    session.add(heat)
    session.flush()
    return heat


def teams_of(session: Session, contest_key: int) -> Sequence[ContestTeam]:
    return session.scalars(
        select(ContestTeam)
        .where(ContestTeam.contest_id == contest_key)
        .order_by(ContestTeam.place, ContestTeam.id)
    ).all()


def members_of(session: Session, team_keys: Collection[int]) -> Sequence[ContestMember]:
    """With their persons, by family name."""
    return session.scalars(
        select(ContestMember)
        .join(ContestMember.person)
        .where(ContestMember.team_id.in_(team_keys))
        .options(contains_eager(ContestMember.person))
        .order_by(Person.sort_name, Person.id)
    ).all()


def teams_with(session: Session, contest_key: int, person_key: int) -> set[str]:
    """The public ids of the teams of a contest that this person is in."""
    return set(
        session.scalars(
            select(ContestTeam.public_id)
            .join(ContestMember, ContestMember.team_id == ContestTeam.id)
            .where(ContestTeam.contest_id == contest_key, ContestMember.person_id == person_key)
        )
    )


def heats_of(session: Session, contest_key: int) -> Sequence[Heat]:
    return session.scalars(select(Heat).where(Heat.contest_id == contest_key).order_by(Heat.number)).all()


def events_of(session: Session, heat_keys: Collection[int]) -> Sequence[HeatEvent]:
    """What was pressed in these heats, in the order in which it arrived."""
    return session.scalars(
        select(HeatEvent).where(HeatEvent.heat_id.in_(heat_keys)).order_by(HeatEvent.id)
    ).all()


def has_event(session: Session, heat_key: int, key: str) -> bool:
    return (
        session.scalar(select(HeatEvent.id).where(HeatEvent.heat_id == heat_key, HeatEvent.key == key))
        is not None
    )


def add_event(session: Session, **columns: Any) -> None:
    session.add(HeatEvent(**columns))
    session.flush()
