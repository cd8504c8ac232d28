"""What the history of a scenario's versions shows: who, when, and in words what differs."""

from dataclasses import dataclass
from typing import Any

from app.domain.authored.differences import Difference, How, differences
from app.domain.authored.entries import Document
from app.services.authoring_publishing import History, VersionRow
from app.web.teaching.authoring.controls import digits
from app.web.teaching.authoring.naming import place_in_words

NOTHING = "nothing"


@dataclass(frozen=True)
class Change:
    """One difference in words. before, after: empty where the sentence says all."""

    place: str
    what: str
    before: str = ""
    after: str = ""

    @property
    def is_long(self) -> bool:
        return len(self.before) + len(self.after) > 90


@dataclass(frozen=True)
class VersionInWords:
    """changes: from the version before; None for the first."""

    row: VersionRow
    changes: tuple[Change, ...] | None


@dataclass(frozen=True)
class HistoryPage:
    history: History
    versions: tuple[VersionInWords, ...]
    time_zone: str

    @property
    def title(self) -> str:
        return self.history.versions[0].title


def history_page(history: History, time_zone: str) -> HistoryPage:
    rows = history.versions
    earlier = (*rows[1:], None)
    versions = tuple(
        VersionInWords(row, None if before is None else changes(before.document, row.document))
        for row, before in zip(rows, earlier, strict=True)
    )
    return HistoryPage(history, versions, time_zone)


def changes(before: Document, after: Document) -> tuple[Change, ...]:
    """Every difference in words, in the order of the sheets."""
    return tuple(_change(each, before, after) for each in differences(before, after))


def _change(found: Difference, before: Document, after: Document) -> Change:
    place = place_in_words(before if found.how is How.REMOVED else after, found.path)
    is_table = any(
        isinstance(each, dict) and "one_of" not in each and "low" not in each
        for each in (found.before, found.after)
    )
    if found.how is How.MOVED:
        return Change(place, f"moved from place {found.before} to {found.after}")
    if found.how is not How.CHANGED and is_table:
        return Change(place, found.how.value)
    if is_table:
        return Change(place, "changed")
    return Change(place, "", in_words(found.before), in_words(found.after))


def in_words(value: Any) -> str:
    """A plain value as an author would say it: `15 to 35, step 1`, `5 or 10`, `yes`."""
    match value:
        case None | "" | []:
            return NOTHING
        case bool():
            return "yes" if value else "no"
        case {"low": low, "high": high, **more}:
            step = f", step {digits(more['step'])}" if "step" in more else ""
            return f"{digits(low)} to {digits(high)}{step}"
        case {"one_of": list(values)}:
            return " or ".join(digits(each) for each in values)
        case dict():
            return ", ".join(f"{name} {in_words(each)}" for name, each in value.items())
        case list():
            return ", ".join(in_words(each) for each in value)
    return digits(value)
