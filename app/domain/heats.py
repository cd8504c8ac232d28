"""Timed heats: from what the timekeeper pressed to times, penalties and places.

Which clock is trusted: an interval is taken from the clock of the page that started the heat, which runs
evenly (a monotonic clock) and isn't held up by the network. Where another page stopped a team, there is only
the server's clock, which counts from when it heard of the start to when it heard of the stop; such a time is
called "by the server's clock". When a heat took place is always the server's word.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

CLOCKS_AGREE_S = 2.0
"""Network delay that nobody need look at; beyond it the page shows how far the two clocks differ."""


class Act(StrEnum):
    """What the timekeeper can press. UNDO takes one earlier act back: the list keeps both."""

    START = "start"
    LAP = "lap"
    STOP = "stop"
    PENALTY = "penalty"
    UNDO = "undo"


@dataclass(frozen=True)
class Pressed:
    """One act; `team` is None for the start of the heat. `page` and `page_ms`: whose clock said what.

    undoes: the key of the act that an UNDO takes back.
    """

    key: str
    act: Act
    team: str | None
    at: datetime
    page: str | None = None
    page_ms: float | None = None
    penalty_s: float = 0.0
    reason: str = ""
    undoes: str | None = None


@dataclass(frozen=True)
class Clocked:
    """An interval since the start. by_server: the server's clock was all there was.

    differ_s: how much longer the server saw it, where that is worth a look; else None.
    """

    key: str
    seconds: float
    by_server: bool
    differ_s: float | None


@dataclass(frozen=True)
class Penalty:
    key: str
    seconds: float
    reason: str


@dataclass(frozen=True)
class TeamTime:
    """One team in one heat. total_s: the time with its penalties, None until the team is stopped; place: by
    total, equal totals share one, None without a total."""

    team: str
    laps: tuple[Clocked, ...]
    stopped: Clocked | None
    penalties: tuple[Penalty, ...]
    total_s: float | None
    place: int | None


def standing_acts(pressed: Iterable[Pressed]) -> list[Pressed]:
    """What was pressed, in order, without what was taken back and without the taking back. Of two starts and
    of two stops of a team the first stands: a second press is a slip."""
    acts = list(pressed)
    undone = {act.undoes for act in acts if act.act is Act.UNDO}
    standing: list[Pressed] = []
    once: set[tuple[Act, str | None]] = set()
    for act in acts:
        if act.act is Act.UNDO or act.key in undone:
            continue
        if act.act in (Act.START, Act.STOP):
            if (act.act, act.team) in once:
                continue
            once.add((act.act, act.team))
        standing.append(act)
    return standing


def started_at(pressed: Iterable[Pressed]) -> Pressed | None:
    """The start that stands; None while the heat hasn't begun."""
    return next((act for act in standing_acts(pressed) if act.act is Act.START), None)


def team_times(teams: Sequence[str], pressed: Iterable[Pressed]) -> tuple[TeamTime, ...]:
    """Every team's time in a heat, in the order of `teams`. A lap or a stop without a start counts
    nothing."""
    acts = standing_acts(pressed)
    start = next((act for act in acts if act.act is Act.START), None)
    times = [_team_time(team, [act for act in acts if act.team == team], start) for team in teams]
    places = places_by([time.total_s for time in times])
    return tuple(
        TeamTime(time.team, time.laps, time.stopped, time.penalties, time.total_s, place)
        for time, place in zip(times, places, strict=True)
    )


def best_totals(teams: Sequence[str], heats: Iterable[Sequence[TeamTime]]) -> dict[str, float | None]:
    """Each team's least total of several heats; None for a team that was never stopped."""
    totals: dict[str, list[float]] = {team: [] for team in teams}
    for heat in heats:
        for time in heat:
            if time.total_s is not None:
                totals[time.team].append(time.total_s)
    return {team: min(own, default=None) for team, own in totals.items()}


def places_by(totals: Sequence[float | None]) -> tuple[int | None, ...]:
    """1 for the least total; equals share a place and the next one is left out, as in a race: 1, 2, 2, 4.

    Totals are compared as they are shown, to a tenth of a second: a place must follow from what can be read.
    """
    shown = [None if total is None else round(total, 1) for total in totals]
    known = [total for total in shown if total is not None]
    return tuple(None if total is None else 1 + sum(other < total for other in known) for total in shown)


def _team_time(team: str, acts: Sequence[Pressed], start: Pressed | None) -> TeamTime:
    penalties = tuple(Penalty(act.key, act.penalty_s, act.reason) for act in acts if act.act is Act.PENALTY)
    laps = tuple(_clocked(act, start) for act in acts if act.act is Act.LAP and start)
    stopped = next((_clocked(act, start) for act in acts if act.act is Act.STOP and start), None)
    total = stopped.seconds + sum(each.seconds for each in penalties) if stopped else None
    return TeamTime(team, laps, stopped, penalties, total, None)


def _clocked(act: Pressed, start: Pressed) -> Clocked:
    by_server_s = max(0.0, (act.at - start.at).total_seconds())
    if act.page is None or act.page != start.page or act.page_ms is None or start.page_ms is None:
        return Clocked(act.key, by_server_s, by_server=True, differ_s=None)
    seconds = max(0.0, (act.page_ms - start.page_ms) / 1000)
    differ = by_server_s - seconds
    return Clocked(
        act.key, seconds, by_server=False, differ_s=differ if abs(differ) > CLOCKS_AGREE_S else None
    )
