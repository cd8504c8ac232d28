"""Faults of an authored text: the place, and in plain words what is allowed there."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError

from app.domain.meant import field_meant, nearest

MOST_NAMED = 200


@dataclass(frozen=True)
class Fault:
    place: str
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


_KINDS_OF_A_DRAWN_NUMBER = {"number", "range", "list"}
_KINDS_OF_RUBRIC = {"words", "criteria"}
_WORDS = {
    "missing": "is missing; add it",
    "extra_forbidden": "is not a field known here; remove it or mend its spelling",
    "finite_number": "must be an ordinary number, not nan or infinity",
    "string_type": "must be text in quotes",
    "float_type": "must be a number without quotes",
    "int_type": "must be a whole number without quotes",
    "int_from_float": "must be a whole number",
    "bool_type": "must be true or false",
    "tuple_type": "must be a list in square brackets",
    "list_type": "must be a list in square brackets",
    "model_type": "must be a table",
    "dict_type": "must be a table",
    "date_type": "must be a date such as 2026-09-01",
    "date_from_datetime_parsing": "must be a date such as 2026-09-01",
    "date_parsing": "must be a date such as 2026-09-01",
}
_LIMITS = {
    "greater_than": "must be above {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than": "must be below {lt:g}",
    "less_than_equal": "must be at most {le:g}",
    "string_too_short": "must not be empty",
    "string_too_long": "must have at most {max_length} characters",
    "too_short": "needs at least {min_length} entries",
    "too_long": "may have at most {max_length} entries",
    "string_pattern_mismatch": "must have the form {pattern}",
}


def faults_from(error: ValidationError, table: type[BaseModel] | None = None) -> list[Fault]:
    """Every fault of one validation, each with its place as written: `parts[1].tasks[0].key`.

    table: what was to be read; with it a misspelt field or word gets a suggestion.
    """
    found = error.errors(include_url=False)
    named = [item for item in found[:MOST_NAMED] if not _counts_faulty_entries(item, found)]
    faults = [Fault(_place(item["loc"]), _message(item) + _suggestion(item, table)) for item in named]
    if len(found) > MOST_NAMED:
        faults.append(Fault("file", f"has {len(found) - MOST_NAMED} faults more; mend these first"))
    return faults


def _counts_faulty_entries(item: Any, found: Sequence[Any]) -> bool:
    """Whether a list is called too short only because its faulty entries were not counted."""
    location = item["loc"]
    return item["type"] == "too_short" and any(
        len(other["loc"]) > len(location) and other["loc"][: len(location)] == location for other in found
    )


def _place(location: tuple[int | str, ...]) -> str:
    """The path as written: without the kind that pydantic puts behind a task's number or a drawn number."""
    place = ""
    for before, step in zip((None, *location), location, strict=False):
        if isinstance(step, int):
            place += f"[{step}]"
        elif (
            step in _KINDS_OF_A_DRAWN_NUMBER
            or (before == "rubric" and step in _KINDS_OF_RUBRIC)
            or (isinstance(before, int) and place.endswith(f".tasks[{before}]"))
        ):
            continue
        else:
            place += f".{step}" if place else step
    return place or "scenario"


def _suggestion(item: Any, table: type[BaseModel] | None) -> str:
    """What the author may have meant, to go behind a message; empty where nothing is near."""
    if table is None:
        return ""
    meant, context = None, item.get("ctx", {})
    if item["type"] == "extra_forbidden":
        meant = field_meant(table, item["loc"])
    elif item["type"] in ("literal_error", "enum") and isinstance(item["input"], str):
        meant = nearest(item["input"], re.findall(r"'([^']*)'", context["expected"]))
    elif item["type"] == "union_tag_invalid":
        meant = nearest(str(context["tag"]), re.findall(r"'([^']*)'", context["expected_tags"]))
    return f"; did you mean {meant}?" if meant else ""


def _message(item: Any) -> str:
    kind, context = item["type"], item.get("ctx", {})
    if kind in _WORDS:
        return _WORDS[kind]
    if kind == "value_error":
        return str(context["error"])
    if kind in ("literal_error", "enum"):
        return f"must be one of {context['expected']}"
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        return f"has no known kind; allowed: {context.get('expected_tags', 'see the schema')}"
    if kind in _LIMITS:
        return _LIMITS[kind].format(**context)
    return str(item["msg"])
