"""What the templates of timed heats receive as `page`."""

from dataclasses import dataclass
from datetime import datetime

from app.domain.heats import Clocked, TeamTime
from app.services.hands_on import Grid
from app.services.heats import ContestRow, ContestView, HeatView, Ranked, Team
from app.web.forms import SendForm
from app.web.machine_words import time_words
from app.web.teaching.hands_on.forms import fresh_key
from app.web.teaching.heats.forms import ContestForm


def clock_words(clocked: Clocked) -> str:
    """What has to be said of how a time was taken; empty for the usual way."""
    if clocked.by_server:
        return "by the server’s clock"
    if clocked.differ_s is None:
        return ""
    more = "more" if clocked.differ_s > 0 else "less"
    return f"the server saw {abs(clocked.differ_s):.1f} s {more}"


@dataclass(frozen=True)
class ContestsPage:
    grid: Grid
    contests: tuple[ContestRow, ...]


@dataclass(frozen=True)
class NewContestPage:
    """teams: by student id, the number of their team; names: of the teams, in order."""

    grid: Grid
    form: ContestForm
    names: list[str]
    teams: dict[str, str]


@dataclass(frozen=True)
class TeamLine:
    """One team in one heat, in words."""

    team: Team
    time: TeamTime

    @property
    def total(self) -> str:
        return time_words(self.time.total_s)

    @property
    def clock(self) -> str:
        return clock_words(self.time.stopped) if self.time.stopped else ""

    @property
    def marks(self) -> list[tuple[str, str, str]]:
        """What was pressed for the team: words, more words, and the key to undo it by."""
        laps = [
            (f"Lap {number}: {time_words(lap.seconds)}", clock_words(lap), lap.key)
            for number, lap in enumerate(self.time.laps, start=1)
        ]
        stop = self.time.stopped
        stops = [(f"Stop: {time_words(stop.seconds)}", clock_words(stop), stop.key)] if stop else []
        penalties = [(f"Penalty: {each.seconds:g} s", each.reason, each.key) for each in self.time.penalties]
        return laps + stops + penalties

    @property
    def penalty_s(self) -> float:
        return sum(each.seconds for each in self.time.penalties)


def lines_of(contest: ContestView, heat: HeatView) -> list[TeamLine]:
    """The teams of a heat in their own order: a button must not move under the finger."""
    return [TeamLine(team, time) for team, time in zip(contest.teams, heat.times, strict=True)]


def is_running(heat: HeatView) -> bool:
    return heat.started_at is not None and any(time.stopped is None for time in heat.times)


def is_over(heat: HeatView) -> bool:
    """Every team is stopped."""
    return heat.started_at is not None and not is_running(heat)


def ranked_lines(contest: ContestView, heat: HeatView) -> list[TeamLine]:
    """By place, then those without a time."""
    return sorted(lines_of(contest, heat), key=lambda line: line.time.place or len(contest.teams) + 1)


@dataclass(frozen=True)
class ContestPage:
    contest: ContestView
    form: SendForm

    @property
    def newest_is_over(self) -> bool:
        return is_over(self.contest.heats[-1])

    def ranked(self, heat: HeatView) -> list[TeamLine]:
        return ranked_lines(self.contest, heat)

    def best(self, ranked: Ranked) -> str:
        return time_words(ranked.best_s)


@dataclass(frozen=True)
class _HeatPage:
    contest: ContestView
    heat: HeatView

    @property
    def running(self) -> bool:
        return is_running(self.heat)

    @property
    def elapsed_ms(self) -> int:
        return round((self.heat.elapsed_s or 0.0) * 1000)


@dataclass(frozen=True)
class TimingPage(_HeatPage):
    """outbox: under which name this browser keeps presses that wait."""

    form: SendForm
    outbox: str

    def key(self) -> str:
        """A fresh one for each form, so that sending it twice changes nothing."""
        return fresh_key()

    @property
    def lines(self) -> list[TeamLine]:
        return lines_of(self.contest, self.heat)


@dataclass(frozen=True)
class BoardPage(_HeatPage):
    """For the projector: the heat that was started last, else the first, and the ranking."""

    now: datetime

    @property
    def lines(self) -> list[TeamLine]:
        return ranked_lines(self.contest, self.heat)

    @property
    def elapsed(self) -> str:
        return time_words(self.heat.elapsed_s) if self.heat.started_at else "–"

    def best(self, ranked: Ranked) -> str:
        return time_words(ranked.best_s)
