"""What handed-in attempts are worth: late deduction, and which of them counts.

A gradebook makes these for each of its cells, so they are named tuples: they can't be changed either, and are
made four times as fast as frozen dataclasses.
"""

import math
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from app.domain.standing.rules import Counts, Rules

DAY, NONE = timedelta(hours=24), timedelta()


class Try(NamedTuple):
    """One attempt of a student. points, out_of: its marks' sums, None while it is open. attempt_id, waiting
    (answers that the instructor has yet to mark): of a gradebook's alone."""

    number: int
    started_at: datetime
    handed_in_at: datetime | None = None
    points: float | None = None
    out_of: float | None = None
    attempt_id: str = ""
    waiting: int = 0


class Scored(NamedTuple):
    """A handed-in attempt: `earned` by its marks, `points` of them left after the late deduction."""

    number: int
    earned: float
    points: float
    out_of: float
    days_late: int
    kept_percent: float

    @property
    def late(self) -> bool:
        return self.days_late > 0

    @property
    def share(self) -> float:
        return self.points / self.out_of if self.out_of else 0.0


class Counted(NamedTuple):
    """What counts of several attempts; `numbers` of those that do. share: 0 to 1."""

    points: float
    out_of: float
    numbers: tuple[int, ...]
    late: bool

    @property
    def share(self) -> float:
        return self.points / self.out_of if self.out_of else 0.0


def days_late(handed_in_at: datetime, due_at: datetime) -> int:
    """Days begun since the due time, 24 hours each whatever the clocks do; 0 up to the very due time.

    In UTC, because two moments of one zone are subtracted by what its clocks show.
    """
    over = handed_in_at.astimezone(UTC) - due_at.astimezone(UTC)
    return -(-over // DAY) if over > NONE else 0


def scored(rules: Rules, one: Try) -> Scored | None:
    """A try that is handed in with its late deduction; None while it is open. Practice costs nothing."""
    if one.handed_in_at is None:
        return None
    days = days_late(one.handed_in_at, rules.due_at)
    kept = 100.0 if rules.practice else kept_percent(rules, days)
    earned = one.points or 0.0
    return Scored(one.number, earned, earned * kept / 100, one.out_of or 0.0, days, kept)


def kept_percent(rules: Rules, days: int) -> float:
    """Percent of its points that work keeps which is so many days late."""
    if days == 0:
        return 100.0
    return max(rules.late_floor_percent, 100.0 - days * rules.late_percent_per_day)


def counted(rules: Rules, attempts: Sequence[Scored]) -> Counted | None:
    """What counts of the attempts handed in: the best (the earlier of equals), the last, or the average.

    Attempts may be out of different points when the assignment moved to another version between them: the
    best is the greatest share.
    """
    if not attempts:
        return None
    if len(attempts) == 1:
        (only,) = attempts
        return Counted(only.points, only.out_of, (only.number,), only.late)
    match rules.counts:
        case Counts.BEST:
            chosen = [max(attempts, key=lambda each: (each.share, -each.number))]
        case Counts.LAST:
            chosen = [max(attempts, key=lambda each: each.number)]
        case Counts.AVERAGE:
            chosen = list(attempts)
    return Counted(
        points=math.fsum(each.points for each in chosen) / len(chosen),
        out_of=math.fsum(each.out_of for each in chosen) / len(chosen),
        numbers=tuple(each.number for each in chosen),
        late=any(each.late for each in chosen),
    )
