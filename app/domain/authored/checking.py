"""What is still at fault in a document, by the path of the field, in words for somebody who sees a form."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from pydantic import ValidationError

from app.domain.authored.entries import Document, at, path_of, steps_of, with_entry
from app.domain.authored.markup import markup_faults
from app.domain.check import faults_of
from app.domain.faults import Fault, faults_from
from app.domain.scenario import Scenario

FILL_IN = "Fill this in."

_IN_A_FORM = {
    "is missing; add it": FILL_IN,
    "must not be empty": FILL_IN,
    "must be a number without quotes": "Enter a number, like 12.5.",
    "must be a whole number without quotes": "Enter a whole number, like 3.",
    "must be a whole number": "Enter a whole number, like 3.",
    "must be a date such as 2026-09-01": "Enter a day.",
    "must have the form ^[a-z0-9]+(-[a-z0-9]+)*$": "Use small letters, digits and hyphens, like left-front.",
}


@dataclass(frozen=True)
class Checked:
    """scenario: None while the document's shape is at fault. faults: by the path of their field, in order."""

    scenario: Scenario | None
    faults: tuple[Fault, ...]


def parsed(document: Document) -> Checked:
    """The scenario that a document describes, with every fault of its shape; quick."""
    try:
        return Checked(Scenario.model_validate_json(json.dumps(document)), ())
    except ValidationError as error:
        return Checked(None, tuple(_in_a_form(fault) for fault in faults_from(error)))


def checked(document: Document) -> Checked:
    """As `parsed`, and once the shape is good everything else that `app.domain.check` finds.

    The pages of a draft ask the same again and again between two changes: the newest answers are kept.
    """
    return _checked(json.dumps(document, sort_keys=True))


@lru_cache(maxsize=64)
def _checked(content: str) -> Checked:
    document: Document = json.loads(content)
    found = parsed(document)
    if found.scenario is None:
        return found
    faults = tuple(_in_a_form(fault) for fault in faults_of(found.scenario))
    return Checked(found.scenario, (*markup_faults(document), *faults))


def _in_a_form(fault: Fault) -> Fault:
    path = path_of(*steps_of("" if fault.place == "scenario" else fault.place))
    message = _IN_A_FORM.get(fault.message) or fault.message
    if path.endswith(".key") and message.startswith("must have the form"):
        message = "Choose what the task asks for."
    return Fault(path, message[:1].upper() + message[1:])


def without_faults(document: Document, blank: Document) -> Scenario | None:
    """A scenario of what can be used: tasks and measurements at fault are left out, other faulty tables are
    the blank draft's. For the drawing beside a form; None where even that gives no scenario."""
    for _ in range(_MOST_ROUNDS):
        found = parsed(document)
        if found.scenario is not None:
            return found.scenario
        document = _mended(document, blank, found.faults)
    return None


_MOST_ROUNDS = 4


def _mended(document: Document, blank: Document, faults: tuple[Fault, ...]) -> Document:
    entries: set[tuple[Any, ...]] = set()
    tops: set[str] = set()
    for fault in faults:
        steps = steps_of(fault.place)
        match steps:
            case ("parts", int(), "tasks" | "shows", int(), *_):
                entries.add(steps[:4])
            case ("parts", int(), ("title" | "text") as name, *_):
                document = with_entry(document, path_of(*steps[:2], name), "…")
            case (str(top), *_):
                tops.add(top)
            case _:
                return blank
    for steps in sorted(entries, key=lambda each: (each[1], each[2], -each[3])):
        document = with_entry(document, path_of(*steps), None)
    for top in tops:
        usual = "…" if top in ("title", "summary") else at(blank, top)
        document = with_entry(document, top, usual)
    return document
