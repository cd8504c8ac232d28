"""On which line of a TOML text a place such as `parts[1].tasks[0].key` stands, without parsing it whole.

Tables and their plain keys are known by line. What stands within an inline table or a list is found at the
line of the entry that holds it.
"""

import re
from functools import lru_cache

_HEADER = re.compile(r"\s*(?P<open>\[\[?)\s*(?P<name>[\w-]+(?:\s*\.\s*[\w-]+)*)\s*\]\]?\s*(#.*)?")
_KEY = re.compile(r"\s*(?P<name>[\w-]+(?:\s*\.\s*[\w-]+)*)\s*=")
_QUOTES = ('"""', "'''")


def line_of(content: str, place: str) -> int | None:
    """The line, from 1, of a place or of what holds it; None where nothing of it stands in the text."""
    lines = _lines(content)
    while place and place not in lines:
        place = place[: max(place.rfind("."), place.rfind("["), 0)]
    return lines.get(place)


@lru_cache(maxsize=1)
def _lines(content: str) -> dict[str, int]:
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table, within = "", ""
    for number, line in enumerate(content.split("\n"), start=1):
        if within:
            within = "" if line.count(within) % 2 else within
            continue
        if header := _HEADER.fullmatch(line):
            table = _table(header["name"], header["open"] == "[[", counts)
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            name = _spelled(key["name"])
            lines.setdefault(f"{table}.{name}" if table else name, number)
        within = next((quotes for quotes in _QUOTES if line.count(quotes) % 2), "")
    return lines


def _spelled(name: str) -> str:
    return ".".join(part.strip() for part in name.split("."))


def _table(name: str, is_entry: bool, counts: dict[str, int]) -> str:
    """The place of a header's table: `parts.tasks` under the second part is `parts[1].tasks`."""
    *before, last = _spelled(name).split(".")
    place = ""
    for step in before:
        place = f"{place}.{step}" if place else step
        if place in counts:
            place = f"{place}[{counts[place]}]"
    place = f"{place}.{last}" if place else last
    if is_entry:
        counts[place] = counts.get(place, -1) + 1
        place = f"{place}[{counts[place]}]"
    return place
