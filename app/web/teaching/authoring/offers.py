"""What may be chosen in a draft that depends on the rest of it: letters, earlier tasks, options."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from app.domain.authored.entries import Document, at, list_at, path_of, steps_of
from app.domain.measures import Measure
from app.domain.model import quantities, quantity_of
from app.domain.references import EVERY, split_reference

Options = tuple[tuple[str, str], ...]

_GROUPS = {
    Measure.MASS: "Masses",
    Measure.UNBALANCE: "Unbalance",
    Measure.ANGLE: "Angles",
    Measure.TURN: "Turns",
    Measure.RUNOUT: "Runout",
    Measure.LENGTH: "Lengths",
    Measure.FORCE: "Forces",
    Measure.CHOICE: "For a task with options",
    Measure.SEVERAL: "For a task about which assemblies",
    Measure.PLACEMENT: "For a task of placement",
}
"""Headings of the list of quantities; any other measure is its own heading."""

_ONLY = {
    "choice": {Measure.CHOICE},
    "several": {Measure.SEVERAL},
    "placement": {Measure.PLACEMENT},
}
_NEVER_A_NUMBER = {Measure.CHOICE, Measure.SEVERAL, Measure.PLACEMENT}


def quantity_groups(task_kind: Any) -> Mapping[str, Options]:
    """Every quantity that a kind of task can ask for, in words, by heading.

    Values: the name behind the letter, or the whole reference of the car's.
    """
    allowed = _ONLY.get(task_kind, set(Measure) - _NEVER_A_NUMBER)
    groups: dict[str, list[tuple[str, str]]] = {}
    for reference in quantities():
        quantity = quantity_of(reference)
        if quantity.measure not in allowed:
            continue
        letter, name = split_reference(reference)
        heading = _GROUPS.get(quantity.measure) or quantity.measure.value.capitalize()
        value = name if letter is not None else reference
        words = quantity.words[:1].upper() + quantity.words[1:]
        groups.setdefault(heading, []).append((value, words))
    return {heading: tuple(options) for heading, options in groups.items()}


def whose(document: Document) -> Options:
    """Of which assembly a quantity is asked."""
    letters = [(letter, f"assembly {letter}") for letter in _letters(document)]
    return ((EVERY, "every assembly"), *letters)


def _letters(document: Document) -> list[str]:
    entries = list_at(document, "assemblies")
    return [str(each["id"]) for each in entries if isinstance(each, dict) and each.get("id")]


def _assemblies(document: Document, _: str) -> Options:
    return tuple((letter, f"Assembly {letter}") for letter in _letters(document))


def _earlier_tasks(document: Document, path: str) -> Options:
    """The tasks with a key before the one whose field stands at the path."""
    here = steps_of(path)[:4]
    return tuple(
        (str(task["id"]), f"{place[1] + 1}.{place[3] + 1} {task.get('title') or task['id']}")
        for place, task in _tasks(document)
        if place < here and (task.get("key") or task.get("keys")) and task.get("id")
    )


def _tasks(document: Document) -> Iterator[tuple[tuple[Any, ...], Document]]:
    for part in range(len(list_at(document, "parts"))):
        below = path_of("parts", part, "tasks")
        for place, task in enumerate(list_at(document, below)):
            if isinstance(task, dict):
                yield ("parts", part, "tasks", place), task


def _own_options(document: Document, path: str) -> Options:
    entries = list_at(document, path_of(*steps_of(path)[:-1], "options"))
    named = [each for each in entries if isinstance(each, dict) and each.get("id")]
    return tuple((str(each["id"]), str(each.get("text") or each["id"])) for each in named)


def _one_option(document: Document, path: str) -> Options:
    return (("", "computed"), *_own_options(document, path))


def _other_steps(document: Document, path: str) -> Options:
    *way, own, _ = steps_of(path)
    return tuple(
        (str(each["id"]), str(each.get("text") or each["id"]))
        for place, each in enumerate(at(document, path_of(*way)) or [])
        if place != own and isinstance(each, dict) and each.get("id")
    )


DYNAMIC: Mapping[str, Callable[[Document, str], Options]] = {
    "Measurement.assemblies": _assemblies,
    "FollowingTask.follows": _earlier_tasks,
    "ChoiceTask.right": _one_option,
    "SeveralTask.right": _own_options,
    "Step.after": _other_steps,
}
"""Fields whose choices are in the draft itself; (document, path of the field) gives value and label."""
