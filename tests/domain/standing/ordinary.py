"""A week in a Chicago class, for the tests of the rules. Hand calculations stand beside each check."""

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from app.domain.standing import Rules, Try

CHICAGO = ZoneInfo("America/Chicago")
OPENS = datetime(2030, 3, 4, 9, 0, tzinfo=CHICAGO).astimezone(UTC)
DUE = datetime(2030, 3, 6, 9, 0, tzinfo=CHICAGO).astimezone(UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def rules(**changed: Any) -> Rules:
    """Two attempts, late work always taken."""
    return Rules(
        **{
            "time_zone": "America/Chicago",
            "opens_at": OPENS,
            "due_at": DUE,
            "attempts_allowed": 2,
            **changed,
        }
    )


def done(
    number: int, points: float, *, at: datetime = DUE - HOUR, out_of: float = 10, started: datetime = OPENS
) -> Try:
    """An attempt that was handed in."""
    return Try(number, started, at, points, out_of)


def begun(number: int = 1, *, at: datetime = OPENS) -> Try:
    """An attempt that is open."""
    return Try(number, at)
