"""Words and signs of what is seen and timed at the machine, the same on every page."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from app.domain.hands_on import Level
from app.services.at_the_machine import CheckLine, HeatLine
from app.services.hands_on import Standing

SIGNS = {Level.SEEN: "○", Level.WITH_HELP: "◐", Level.ALONE: "●", Level.UNDONE: "↶"}


def day_words(day: date, today: date) -> str:
    """`today`, `Mar 4` or, of another year, `Mar 4, 2029`."""
    if day == today:
        return "today"
    return f"{day:%b} {day.day}" + ("" if day.year == today.year else f", {day.year}")


def standing_words(standing: Standing, today: date) -> str:
    """`alone, today`, `not checked`."""
    if standing.level is None or standing.done_on is None:
        return "not checked"
    return f"{standing.level}, {day_words(standing.done_on, today)}"


def time_words(seconds: float | None) -> str:
    """`1:05.3`, `42.0`, `1:00:00.0`; a dash for None. To a tenth of a second, as a finger can press."""
    if seconds is None:
        return "–"
    tenths = round(seconds * 10)
    minutes, tenths = divmod(tenths, 600)
    hours, minutes = divmod(minutes, 60)
    rest = f"{tenths // 10:02d}.{tenths % 10}"
    if hours:
        return f"{hours}:{minutes:02d}:{rest}"
    return f"{minutes}:{rest}" if minutes else f"{tenths // 10}.{tenths % 10}"


@dataclass(frozen=True)
class MachinePage:
    """One student's checks and heats, for the table macros of `components/machine.html`."""

    checks: tuple[CheckLine, ...]
    heats: tuple[HeatLine, ...]
    now: datetime
    time_zone: str

    @property
    def check_rows(self) -> list[tuple[str, str, str, str, str]]:
        """Skill with its code, class, sign, level and day."""
        today = self.now.astimezone(ZoneInfo(self.time_zone)).date()
        return [
            (
                f"{line.code} {line.skill}" if line.code else line.skill,
                line.class_name,
                SIGNS[line.standing.level],
                line.standing.level.value,
                day_words(line.standing.done_on, today),
            )
            for line in self.checks
            if line.standing.level is not None and line.standing.done_on is not None
        ]

    @property
    def heat_rows(self) -> list[tuple[HeatLine, str]]:
        """Each heat with its total in words."""
        return [(line, time_words(line.total_s)) for line in self.heats]
