"""Timed heats of a class's teams: making them, timing them, reading them out."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.heats import Act, Pressed, TeamTime, best_totals, places_by, started_at, team_times
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.hands_on import KEY
from app.services.names import same_name
from app.services.reach import note, own_class, refuse_when_put_away
from app.store import classes, heats
from app.store.db import Database

LONGEST_TITLE = 120
LONGEST_TEAM_NAME = 60
LONGEST_REASON = 120
MOST_TEAMS = 12
MOST_HEATS = 30
LONGEST_PENALTY_S = 3600.0
LONGEST_PAGE_MS = 1e9  # eleven days: a page's clock counts from when it was opened


@dataclass(frozen=True)
class ContestRow:
    contest_id: str
    title: str
    made_at: datetime


@dataclass(frozen=True)
class Team:
    team_id: str
    name: str
    members: tuple[str, ...]


@dataclass(frozen=True)
class HeatView:
    """times: in the order of the contest's teams. elapsed_s: since the start, by the server's clock."""

    heat_id: str
    number: int
    started_at: datetime | None
    start_key: str | None
    elapsed_s: float | None
    times: tuple[TeamTime, ...]


@dataclass(frozen=True)
class Ranked:
    """A team in the contest: its best total of all heats; place None without one."""

    team: Team
    best_s: float | None
    place: int | None


@dataclass(frozen=True)
class ContestView:
    """ranking: by place, then teams without a time."""

    contest_id: str
    class_id: str
    class_name: str
    time_zone: str
    title: str
    teams: tuple[Team, ...]
    heats: tuple[HeatView, ...]
    ranking: tuple[Ranked, ...]


def contests_of(database: Database, *, class_id: str, instructor: Person) -> tuple[ContestRow, ...]:
    """The newest first. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        return tuple(
            ContestRow(each.public_id, each.title, each.created_at)
            for each in heats.contests_of(session, row.id)
        )


def make_contest(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    title: str,
    teams: Mapping[str, Sequence[str]],
    now: datetime,
) -> str:
    """teams: by name, the ids of their members, all of them in the class now and each in one team. With its
    first heat; returns the contest's id. Raises NotFound and Refused."""
    title = " ".join(title.split())
    if not title or len(title) > LONGEST_TITLE:
        raise Refused("title", f"Say what is timed, in at most {LONGEST_TITLE} characters.")
    names = [" ".join(name.split()) for name in teams]
    if not 1 <= len(names) <= MOST_TEAMS:
        raise Refused("teams", f"Make 1 to {MOST_TEAMS} teams; these are {len(names)}.")
    if any(not name or len(name) > LONGEST_TEAM_NAME for name in names):
        raise Refused("teams", f"Give each team a name of at most {LONGEST_TEAM_NAME} characters.")
    if len({same_name(name) for name in names}) < len(names):
        raise Refused("teams", "Two teams have the same name. Give each its own.")
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        keys = {
            each.person.public_id: each.person_id
            for each in classes.enrolments_of(session, row.id)
            if each.dropped_at is None
        }
        members = [member for team in teams.values() for member in team]
        if not set(members) <= set(keys):
            raise NotFound("One of these students isn't in this class any more.")
        if len(members) > len(set(members)):
            raise Refused("teams", "A student can be in one team only.")
        contest = heats.add_contest(
            session,
            class_key=row.id,
            title=title,
            teams=[
                (name, [keys[member] for member in team])
                for name, team in zip(names, teams.values(), strict=True)
            ],
            now=now,
        )
        note(session, now, instructor, "make contest", row, title=title, teams=names)
        return str(contest.public_id)


def add_heat(
    database: Database, *, class_id: str, instructor: Person, contest_id: str, now: datetime
) -> None:
    """Raises NotFound and Refused."""
    with database.write() as session:
        row, contest = _own_contest(session, class_id, instructor, contest_id)
        refuse_when_put_away(row)
        if len(heats.heats_of(session, contest.id)) >= MOST_HEATS:
            raise Refused("heat", f"A contest has at most {MOST_HEATS} heats. Make a new contest.")
        heats.add_heat(session, contest.id, now)
        note(session, now, instructor, "add heat", row, contest=contest_id)


def contest(
    database: Database, *, class_id: str, instructor: Person, contest_id: str, now: datetime
) -> ContestView:
    """Raises NotFound."""
    with database.read() as session:
        row, found = _own_contest(session, class_id, instructor, contest_id)
        return view_of(session, row, found, now)


def press(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    contest_id: str,
    heat_id: str,
    act: Act,
    key: str,
    now: datetime,
    team_id: str | None = None,
    page: str | None = None,
    page_ms: float | None = None,
    penalty_s: float | None = None,
    reason: str = "",
    undoes: str | None = None,
) -> HeatView:
    """Keep one act of the timekeeper and return the heat; for a key that was kept before, only return it.
    `page_ms`: what the page's own even clock said. Raises NotFound and Refused."""
    reason = " ".join(reason.split())
    _refuse_what_cannot_be(act, key, team_id, page, page_ms, penalty_s, reason, undoes)
    with database.write() as session:
        row, found = _own_contest(session, class_id, instructor, contest_id)
        refuse_when_put_away(row)
        heat = next((each for each in heats.heats_of(session, found.id) if each.public_id == heat_id), None)
        teams = {each.public_id: each.id for each in heats.teams_of(session, found.id)}
        if heat is None or (team_id is not None and team_id not in teams):
            raise NotFound("There is no such heat or team in this contest.")
        if not heats.has_event(session, heat.id, key):
            if undoes is not None and not heats.has_event(session, heat.id, undoes):
                raise Refused("undoes", "There is nothing to undo.")
            heats.add_event(
                session,
                heat_id=heat.id,
                act=act,
                team_id=teams[team_id] if team_id else None,
                at=now,
                page=page,
                page_ms=page_ms,
                penalty_s=penalty_s,
                reason=reason,
                undoes=undoes,
                key=key,
                made_by=instructor.id,
            )
        view = view_of(session, row, found, now)
        return next(each for each in view.heats if each.heat_id == heat_id)


def _refuse_what_cannot_be(
    act: Act,
    key: str,
    team_id: str | None,
    page: str | None,
    page_ms: float | None,
    penalty_s: float | None,
    reason: str,
    undoes: str | None,
) -> None:
    if not all(KEY.fullmatch(each) for each in (key, page, undoes) if each is not None):
        raise Refused("key", "Reload the page, then press again.")
    if page_ms is not None and not 0 <= page_ms <= LONGEST_PAGE_MS:  # nan is in no range
        raise Refused("page_ms", "Reload the page, then press again.")
    if (act in (Act.LAP, Act.STOP, Act.PENALTY)) != (team_id is not None) or (act is Act.UNDO) != bool(
        undoes
    ):
        raise Refused("act", "Reload the page, then press again.")
    if act is Act.PENALTY and not (penalty_s is not None and 0 < penalty_s <= LONGEST_PENALTY_S):
        raise Refused("penalty_s", f"Enter seconds above 0, up to {LONGEST_PENALTY_S:g}, like 10.")
    if act is Act.PENALTY and not reason:
        raise Refused("reason", "Say what the penalty is for, like “torque not checked”.")
    if len(reason) > LONGEST_REASON:
        raise Refused("reason", f"Shorten the reason to {LONGEST_REASON} characters.")


def _own_contest(session: Any, class_id: str, instructor: Person, contest_id: str) -> tuple[Any, Any]:
    row = own_class(session, class_id, instructor)
    found = heats.contest_in(session, row.id, contest_id)
    if found is None:
        raise NotFound("There is no such contest in this class.")
    return row, found


def view_of(session: Any, row: Any, found: Any, now: datetime) -> ContestView:
    """A contest of a class, both as rows, with all its heats."""
    team_rows = heats.teams_of(session, found.id)
    members: dict[int, list[str]] = {}
    for member in heats.members_of(session, [each.id for each in team_rows]):
        members.setdefault(member.team_id, []).append(member.person.display_name)
    teams = tuple(Team(each.public_id, each.name, tuple(members.get(each.id, []))) for each in team_rows)
    team_ids = {each.id: each.public_id for each in team_rows}
    heat_rows = heats.heats_of(session, found.id)
    pressed: dict[int, list[Pressed]] = {each.id: [] for each in heat_rows}
    for event in heats.events_of(session, list(pressed)):
        pressed[event.heat_id].append(_pressed(event, team_ids))
    order = [team.team_id for team in teams]
    views = tuple(_heat_view(heat, order, pressed[heat.id], now) for heat in heat_rows)
    best = best_totals(order, [view.times for view in views])
    places = places_by([best[team] for team in order])
    ranking = [Ranked(team, best[team.team_id], place) for team, place in zip(teams, places, strict=True)]
    return ContestView(
        contest_id=found.public_id,
        class_id=row.public_id,
        class_name=row.name,
        time_zone=row.time_zone,
        title=found.title,
        teams=teams,
        heats=views,
        ranking=tuple(sorted(ranking, key=lambda each: each.place or math.inf)),
    )


def _heat_view(heat: Any, order: Sequence[str], pressed: Sequence[Pressed], now: datetime) -> HeatView:
    start = started_at(pressed)
    return HeatView(
        heat_id=heat.public_id,
        number=heat.number,
        started_at=start.at if start else None,
        start_key=start.key if start else None,
        elapsed_s=max(0.0, (now - start.at).total_seconds()) if start else None,
        times=team_times(order, pressed),
    )


def _pressed(event: Any, team_ids: Mapping[int, str]) -> Pressed:
    return Pressed(
        key=event.key,
        act=event.act,
        team=team_ids.get(event.team_id) if event.team_id is not None else None,
        at=event.at,
        page=event.page,
        page_ms=event.page_ms,
        penalty_s=event.penalty_s or 0.0,
        reason=event.reason,
        undoes=event.undoes,
    )
