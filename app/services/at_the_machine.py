"""What one student did at the machine: the checks that stand, and the times of their teams."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services import hands_on as checks
from app.services import heats as timing
from app.services.accounts import Person
from app.services.hands_on import Standing
from app.store import classes, hands_on, heats, person_rows
from app.store.db import Database


@dataclass(frozen=True)
class CheckLine:
    class_name: str
    skill: str
    code: str | None
    standing: Standing


@dataclass(frozen=True)
class HeatLine:
    """A team of the student in one heat that was begun; total_s and place None until it was stopped."""

    class_name: str
    contest: str
    heat: int
    started_at: datetime
    team: str
    total_s: float | None
    place: int | None


@dataclass(frozen=True)
class LabLine:
    """One attempt, for a list that people read."""

    class_name: str
    title: str
    number: int
    handed_in: bool
    started_at: datetime
    handed_in_at: datetime | None
    points: float | None
    out_of: float | None


@dataclass(frozen=True)
class OwnRecord:
    """What a student sees of it. earlier: labs of classes that they have left or that are put away."""

    time_zone: str
    earlier: tuple[LabLine, ...]
    checks: tuple[CheckLine, ...]
    heats: tuple[HeatLine, ...]


def own_record(database: Database, *, student: Person, now: datetime) -> OwnRecord:
    """A student's own page; in the time zone of the newest class."""
    with database.read() as session:
        every = classes.classes_of_person(session, student.id)
        here = {row.id for row in classes.classes_attended_by(session, student.id)}
        left = [row.id for row in every if row.id not in here]
        return OwnRecord(
            time_zone=every[-1].time_zone if every else "UTC",
            earlier=lab_lines(session, student.id, left),
            checks=check_lines(session, student.id, every),
            heats=heat_lines(session, student.id, every, now),
        )


def lab_lines(session: Any, person_key: int, class_keys: Sequence[int]) -> tuple[LabLine, ...]:
    """A student's attempts in these classes, in the order started."""
    rows = person_rows.labs_of(session, person_key, class_keys)
    return tuple(LabLine(**{name: row[name] for name in LabLine.__dataclass_fields__}) for row in rows)


def check_lines(session: Any, person_key: int, class_rows: Sequence[Any]) -> tuple[CheckLine, ...]:
    """What stands of a student's checks in these classes, in the order of each list; skills that were taken
    off the list too."""
    lines = []
    for row in class_rows:
        skills = hands_on.skills_of(session, row.id)
        found = hands_on.standing_checks(session, [skill.id for skill in skills], person_keys=[person_key])
        by_skill = {each.skill_id: checks.standing_of(each) for each in found}
        lines += [
            CheckLine(row.name, skill.name, skill.code, by_skill[skill.id])
            for skill in skills
            if skill.id in by_skill and by_skill[skill.id].level is not None
        ]
    return tuple(lines)


def heat_lines(
    session: Any, person_key: int, class_rows: Sequence[Any], now: datetime
) -> tuple[HeatLine, ...]:
    """The heats of a student's teams in these classes that were begun, the newest contest first."""
    lines = []
    for row in class_rows:
        for contest in heats.contests_of(session, row.id):
            own = heats.teams_with(session, contest.id, person_key)
            if not own:
                continue
            view = timing.view_of(session, row, contest, now)
            names = {team.team_id: team.name for team in view.teams if team.team_id in own}
            lines += [
                HeatLine(
                    row.name,
                    view.title,
                    heat.number,
                    heat.started_at,
                    names[time.team],
                    time.total_s,
                    time.place,
                )
                for heat in view.heats
                for time in heat.times
                if heat.started_at is not None and time.team in names
            ]
    return tuple(lines)
