"""What an assignment allows, and what it allows one student."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

GRACE = timedelta(seconds=10)
"""How long after its end an attempt still takes what was sent: a save that was typed in time and met a slow
network is not lost."""


class Counts(StrEnum):
    """Which of several attempts counts."""

    BEST = "best"
    LAST = "last"
    AVERAGE = "average"


class Solutions(StrEnum):
    """When the worked solutions are shown."""

    AFTER_ATTEMPT = "after the attempt"
    AFTER_CLOSING = "after closing"


@dataclass(frozen=True)
class Unlock:
    """Another assignment that comes first: handed in, or with at least `percent` of its points.

    reached: whether this student has done so; None where no student is meant.
    """

    title: str
    percent: float | None
    reached: bool | None = None


@dataclass(frozen=True)
class Exceptional:
    """What is otherwise for one student; None where nothing is. excused: by the reason given."""

    opens_at: datetime | None = None
    due_at: datetime | None = None
    closes_at: datetime | None = None
    attempts_allowed: int | None = None
    time_factor: float | None = None
    excused: bool = False
    reason: str = ""


@dataclass(frozen=True)
class Rules:
    """The rules of an assignment: for a class, or `for_student`.

    Moments are aware; `time_zone` is the one in which they are told. closes_at None: late work is always
    taken. attempts_allowed None: as many as the student likes. Late work keeps `100 - days x
    late_percent_per_day` percent of its points, but at least `late_floor_percent`. minutes: the time limit of
    an attempt before `time_factor`, None for none. excused: why this student need not do it.
    reason: why something else is otherwise for this student, in the instructor's words.
    """

    time_zone: str
    opens_at: datetime
    due_at: datetime
    closes_at: datetime | None = None
    attempts_allowed: int | None = None
    counts: Counts = Counts.BEST
    late_percent_per_day: float = 0.0
    late_floor_percent: float = 0.0
    minutes: int | None = None
    time_factor: float = 1.0
    practice: bool = False
    solutions: Solutions = Solutions.AFTER_ATTEMPT
    unlock: Unlock | None = None
    excused: str | None = None
    reason: str = ""

    @property
    def time_allowed(self) -> timedelta | None:
        """How long one attempt may take."""
        return None if self.minutes is None else timedelta(minutes=self.minutes) * self.time_factor

    def ends_at(self, started_at: datetime) -> datetime | None:
        """When an attempt begun then is over: its time is up or the assignment closes. None: never."""
        limit = self.time_allowed
        ends = [] if limit is None else [started_at + limit]
        if self.closes_at is not None:
            ends.append(self.closes_at)
        return min(ends, default=None)

    def is_over(self, started_at: datetime, now: datetime) -> bool:
        """Whether an attempt begun then takes nothing more, its grace included."""
        ends = self.ends_at(started_at)
        return ends is not None and now > ends + GRACE

    def shows_solutions(self, now: datetime) -> bool:
        """Whether the worked solutions of an attempt that is handed in are shown now."""
        if self.solutions is Solutions.AFTER_ATTEMPT:
            return True
        return self.closes_at is not None and now >= self.closes_at

    def for_student(self, exception: Exceptional | None, *, extra_time_factor: float = 1.0) -> "Rules":
        """These rules with one student's exception and extra time.

        An own due time after the closing moves the closing along: nobody is let in to a closed door.
        """
        if exception is None:
            return replace(self, time_factor=extra_time_factor)
        due_at = exception.due_at or self.due_at
        closes_at = exception.closes_at or self.closes_at
        if exception.closes_at is None and closes_at is not None:
            closes_at = max(closes_at, due_at)
        return replace(
            self,
            opens_at=exception.opens_at or self.opens_at,
            due_at=due_at,
            closes_at=closes_at,
            attempts_allowed=_more(self.attempts_allowed, exception.attempts_allowed),
            time_factor=exception.time_factor or extra_time_factor,
            excused=(exception.reason or "excused") if exception.excused else None,
            reason="" if exception.excused else exception.reason,
        )


def _more(usual: int | None, own: int | None) -> int | None:
    return usual if own is None else own
