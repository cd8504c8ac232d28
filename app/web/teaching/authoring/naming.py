"""Places of a document in words: “Task 1.2 · Tolerance · Plus or minus”."""

import re
from collections.abc import Iterator

from app.domain.authored.entries import Document, NoSuchEntry, at, list_at, path_of, steps_of
from app.domain.authored.places import field_at
from app.domain.authored.shape import Kind
from app.web.teaching.authoring.sections import OWN_SHEETS, name_of
from app.web.teaching.authoring.words import words_of

PART_OF_A_NUMBER = {"low": "from", "high": "to", "step": "step", "one_of": "values"}


def place_in_words(document: Document, place: str) -> str:
    """Every step of a path in the words that its sheet has for it, the own sheet's entry first."""
    words: list[str] = []
    steps = steps_of(place)
    for number, step in enumerate(steps, start=1):
        path = path_of(*steps[:number])
        word = _entry(document, path, step, words) if isinstance(step, int) else _field(document, path, step)
        if word:
            words.append(word)
    return " · ".join(words) or "The scenario"


def message_in_words(document: Document, message: str) -> str:
    """What is at fault, with the titles of tasks in the place of their ids."""
    titles = {
        str(task["id"]): f"{name_of(document, path)} {task.get('title') or ''}".strip()
        for path, task in _tasks(document)
        if task.get("id")
    }
    if not titles:
        return message
    ids = "|".join(re.escape(each) for each in sorted(titles, key=len, reverse=True))
    return re.sub(
        rf"(?<![\w-])({ids})(?:-[a-z][a-z0-9]?)?(?![\w-])", lambda found: f"“{titles[found[1]]}”", message
    )


def _tasks(document: Document) -> Iterator[tuple[str, Document]]:
    for part in range(len(list_at(document, "parts"))):
        below = path_of("parts", part, "tasks")
        for place, task in enumerate(list_at(document, below)):
            if isinstance(task, dict):
                yield path_of(below, place), task


def _field(document: Document, path: str, step: str) -> str:
    try:
        field = field_at(document, path)
    except NoSuchEntry:
        return PART_OF_A_NUMBER.get(step, step)
    return "" if f"{field.owner}.{field.name}" in OWN_SHEETS else words_of(field).label


def _entry(document: Document, path: str, step: int, words: list[str]) -> str:
    try:
        field = field_at(document, path)
    except NoSuchEntry:
        return ""
    if f"{field.owner}.{field.name}" in OWN_SHEETS:
        words.clear()
        return name_of(document, path)
    if field.kind not in (Kind.TABLES, Kind.WORDS_OR_TABLES):
        return ""
    entry = at(document, path)
    name = entry.get("name") if isinstance(entry, dict) else None
    return f"{words_of(field).entry} {f'“{name}”' if name else step + 1}"
