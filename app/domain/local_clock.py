"""Moments in words, as the clocks of a class's zone show them."""

from datetime import datetime
from zoneinfo import ZoneInfo


def time_words(moment: datetime, zone: str, now: datetime) -> str:
    """`Tue, Mar 4, 2:05 PM` in the zone, with the year when it is not this one. moment, now: aware."""
    here, today = moment.astimezone(ZoneInfo(zone)), now.astimezone(ZoneInfo(zone))
    year = "" if here.year == today.year else f" {here.year}"
    return f"{here:%a}, {here:%b} {here.day}{year}, {clock_words(here)}"


def clock_words(local: datetime) -> str:
    """`2:05 PM`."""
    return f"{local.hour % 12 or 12}:{local:%M} {'AM' if local.hour < 12 else 'PM'}"
