"""Template filters: times in a class's zone, numbers, authors' texts."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from flask import Flask

from app.domain.local_clock import clock_words, time_words
from app.domain.measures import UnitSystem
from app.web import current
from app.web.author_text import markdown, markdown_line, markdown_plain


def local_time(moment: datetime | None, zone: str) -> str:
    """`Tue, Mar 4, 2:05 PM` in the zone; with the year when it is not this year; empty for None."""
    if moment is None:
        return ""
    return time_words(moment, zone, current.now())


def day_time(moment: datetime | None, zone: str) -> str:
    """`today, 2:05 PM`, `yesterday, ...`, `tomorrow, ...`, else as `local_time`."""
    if moment is None:
        return ""
    here, today = moment.astimezone(ZoneInfo(zone)), current.now().astimezone(ZoneInfo(zone))
    words = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    word = words.get((here.date() - today.date()) // timedelta(days=1))
    return f"{word}, {clock_words(here)}" if word else local_time(moment, zone)


def number(value: float | None, places: int = 2) -> str:
    """At most `places` decimals, no trailing zeros, a true minus sign: 12.50 is `12.5`; None is a dash."""
    if value is None:
        return "–"
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "0") else text.replace("-", "\N{MINUS SIGN}")


def percent(share: float | None, places: int = 0) -> str:
    """A share in percent, without the sign: 0.755 is `76`, with one place `75.5`; None is a dash."""
    return number(None if share is None else 100 * share, places)


def counted(count: int, one: str, many: str | None = None) -> str:
    """`1 student`, `3 students`."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def zone_name(zone: str) -> str:
    """`Chicago` for `America/Chicago`, `Indiana, Knox` for `America/Indiana/Knox`."""
    return (zone.partition("/")[2] or zone).replace("_", " ").replace("/", ", ")


UNIT_NAMES = {UnitSystem.US: "US customary", UnitSystem.METRIC: "metric"}


def units_name(units: UnitSystem) -> str:
    """`US customary`, `metric`."""
    return UNIT_NAMES[units]


FILTERS = (local_time, day_time, number, percent, counted, zone_name, units_name)


def install(app: Flask) -> None:
    """Make the filters known to the templates of `app`."""
    for function in (*FILTERS, markdown, markdown_line, markdown_plain):
        app.add_template_filter(function)
