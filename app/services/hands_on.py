"""Skills at the machine: the list of a class, and one tap for each thing seen.

A tap carries a key that its page made. The page sends it until it is answered; the second time it changes
nothing, so a weak network can lose an answer and never doubles a tap.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from app.domain.hands_on import Level
from app.domain.texts import as_shown
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.names import same_name
from app.services.reach import note as audit_note
from app.services.reach import own_class, own_student, refuse_when_put_away
from app.store import classes, hands_on
from app.store.db import Database

LONGEST_SKILL = 120
LONGEST_CODE = 40
LONGEST_NOTE = 500
MOST_SKILLS = 200
KEY = re.compile(r"[0-9A-Za-z_-]{8,40}")


@dataclass(frozen=True)
class Skill:
    """`code`: its number in the school's task list; None without one."""

    skill_id: str
    name: str
    code: str | None
    put_away: bool


@dataclass(frozen=True)
class Standing:
    """How far a student is at a skill. level is None when nothing stands: never checked, or undone."""

    level: Level | None
    done_on: date | None = None
    note: str = ""


NOTHING = Standing(None)


@dataclass(frozen=True)
class GridRow:
    """One student. standings: in the order of the grid's skills; alone: how many of them are done alone."""

    student_id: str
    display_name: str
    sort_name: str
    standings: tuple[Standing, ...]

    @property
    def alone(self) -> int:
        return sum(each.level is Level.ALONE for each in self.standings)

    @property
    def checked(self) -> int:
        return sum(each.level is not None for each in self.standings)


@dataclass(frozen=True)
class Grid:
    """Students who are in the class now, by family name, against its skills that aren't put away."""

    class_id: str
    class_name: str
    time_zone: str
    today: date
    skills: tuple[Skill, ...]
    rows: tuple[GridRow, ...]
    put_away: tuple[Skill, ...]


@dataclass(frozen=True)
class HistoryLine:
    skill: str
    level: Level
    note: str
    done_on: date
    at: datetime
    by: str


def grid(database: Database, *, class_id: str, instructor: Person, now: datetime) -> Grid:
    """Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        rows = hands_on.skills_of(session, row.id)
        shown = [each for each in rows if each.put_away_at is None]
        students = [each.person for each in classes.enrolments_of(session, row.id) if each.dropped_at is None]
        standing = {
            (each.person_id, each.skill_id): standing_of(each)
            for each in hands_on.standing_checks(session, [skill.id for skill in shown])
        }
        return Grid(
            class_id=row.public_id,
            class_name=row.name,
            time_zone=row.time_zone,
            today=_today(row, now),
            skills=tuple(_skill(each) for each in shown),
            rows=tuple(
                GridRow(
                    student.public_id,
                    student.display_name,
                    student.sort_name,
                    tuple(standing.get((student.id, skill.id), NOTHING) for skill in shown),
                )
                for student in students
            ),
            put_away=tuple(_skill(each) for each in rows if each.put_away_at is not None),
        )


def today_in(database: Database, *, class_id: str, instructor: Person, now: datetime) -> date:
    """The day it is in the class's time zone. Raises NotFound."""
    with database.read() as session:
        return _today(own_class(session, class_id, instructor), now)


def history(
    database: Database, *, class_id: str, instructor: Person, student_id: str
) -> tuple[HistoryLine, ...]:
    """Every tap for a student of the class, the newest first. Raises NotFound."""
    with database.read() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        skills = {each.id: each.name for each in hands_on.skills_of(session, row.id)}
        names = {each.id: each.display_name for each in classes.instructors_of(session, row.id)}
        return tuple(
            HistoryLine(
                skills[each.skill_id],
                each.level,
                each.note,
                each.done_on,
                each.at,
                names.get(each.made_by, "an instructor who has left"),
            )
            for each in hands_on.checks_of(session, list(skills), enrolment.person_id)
        )


def check(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    student_id: str,
    skill_id: str,
    level: Level,
    key: str,
    now: datetime,
    note: str | None = None,
    done_on: date | None = None,
) -> Standing:
    """Keep one tap and return what now stands; for a key that was kept before, only return it. `note` None
    keeps the note that stands; `done_on` None is today. Raises NotFound and Refused."""
    if not KEY.fullmatch(key):
        raise Refused("key", "Reload the page, then tap again.")
    words = None if note is None else as_shown(note).strip()
    if words is not None and len(words) > LONGEST_NOTE:
        raise Refused("note", f"Shorten the note to {LONGEST_NOTE} characters; it has {len(words)}.")
    with database.write() as session:
        row, enrolment = own_student(session, class_id, instructor, student_id)
        refuse_when_put_away(row)
        skill = hands_on.skill_in(session, row.id, skill_id)
        if skill is None:
            raise NotFound("This skill isn't on the list of this class any more.")
        newest = hands_on.newest_check(session, skill.id, enrolment.person_id)
        if hands_on.check_by_key(session, instructor.id, key) is None:
            today = _today(row, now)
            if done_on is not None and not today - timedelta(days=366) <= done_on <= today:
                raise Refused("done_on", "Enter the day it was done: today or within the past year.")
            standing_note = newest.note if newest and newest.level is not Level.UNDONE else ""
            hands_on.add_check(
                session,
                skill_key=skill.id,
                person_key=enrolment.person_id,
                level=level,
                note=standing_note if words is None else words,
                done_on=done_on or today,
                key=key,
                made_by=instructor.id,
                now=now,
            )
            newest = hands_on.newest_check(session, skill.id, enrolment.person_id)
        return standing_of(newest)


def add_skills(
    database: Database, *, class_id: str, instructor: Person, lines: Sequence[str], now: datetime
) -> int:
    """Add skills, one a line, each after a code and a colon where it has one: `C.3: Balance an assembly`.
    One that was put away comes back. Returns how many were added or came back. Raises NotFound and
    Refused."""
    wanted = [_read_skill(number, line) for number, line in enumerate(lines, start=1) if line.strip()]
    if not wanted:
        raise Refused("skills", "Type at least one skill, or tick one from a scenario.")
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        there = {same_name(each.name): each for each in hands_on.skills_of(session, row.id)}
        if len(there) + len(wanted) > MOST_SKILLS:
            raise Refused("skills", f"A class has at most {MOST_SKILLS} skills.")
        added = 0
        for name, code in wanted:
            known = there.get(same_name(name))
            if known is None:
                hands_on.add_skill(session, class_key=row.id, name=name, code=code, now=now)
                there |= {same_name(each.name): each for each in hands_on.skills_of(session, row.id)}
                added += 1
            elif known.put_away_at is not None:
                known.put_away_at = None
                added += 1
        audit_note(session, now, instructor, "add skills", row, skills=[name for name, _ in wanted])
        return added


def put_skill_away(
    database: Database, *, class_id: str, instructor: Person, skill_id: str, away: bool, now: datetime
) -> str:
    """Take a skill off the list or put it back, with its checks; returns its name. Raises NotFound
    and Refused."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        skill = hands_on.skill_in(session, row.id, skill_id)
        if skill is None:
            raise NotFound("This skill isn't on the list of this class.")
        skill.put_away_at = now if away else None
        audit_note(
            session, now, instructor, "put skill away" if away else "take skill back", row, skill=skill.name
        )
        return str(skill.name)


def _read_skill(number: int, line: str) -> tuple[str, str | None]:
    """Name and code: a colon parts them after one word with a digit; any other belongs to the name."""
    code, colon, rest = (part.strip() for part in line.partition(":"))
    has_code = bool(colon and rest) and " " not in code and any(sign.isdigit() for sign in code)
    name = " ".join((rest if has_code else line).split())
    if len(name) > LONGEST_SKILL or (has_code and len(code) > LONGEST_CODE):
        raise Refused(
            "skills",
            f"Line {number}: a skill has at most {LONGEST_SKILL} characters, its code {LONGEST_CODE}.",
        )
    if not any(sign.isalnum() for sign in name):
        raise Refused("skills", f"Line {number}: a skill needs words.")
    return name, code if has_code else None


def _skill(row: Any) -> Skill:
    return Skill(row.public_id, row.name, row.code, row.put_away_at is not None)


def standing_of(row: Any) -> Standing:
    """What the newest check of a student at a skill says."""
    return NOTHING if row.level is Level.UNDONE else Standing(row.level, row.done_on, row.note)


def _today(school_class: Any, now: datetime) -> date:
    return now.astimezone(ZoneInfo(school_class.time_zone)).date()
