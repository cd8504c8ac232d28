"""Reading and changing a document: plain dicts and lists, reached by dotted paths as `parts.0.tasks.2.title`.

Nothing here changes the document that it is given; each change returns a new one.
"""

import copy
import re
from collections.abc import Mapping
from typing import Any

Document = dict[str, Any]
Step = str | int


class NoSuchEntry(LookupError):  # noqa: N818 -- says what is so
    """A path that leads nowhere in this document."""


def steps_of(path: str) -> tuple[Step, ...]:
    """The steps of a dotted path; of a place in a file's fault too: `parts[0].title` is `parts.0.title`."""
    spelled = re.sub(r"\[(\d+)\]", r".\1", path)
    return tuple(int(each) if each.isdecimal() else each for each in spelled.split(".") if each)


def path_of(*steps: Step) -> str:
    return ".".join(str(step) for step in steps)


def at(document: Any, path: str) -> Any:
    """What stands at a path, None where nothing does."""
    found = document
    for step in steps_of(path):
        try:
            found = found[step]
        except (KeyError, IndexError, TypeError):
            return None
    return found


def with_entry(document: Document, path: str, value: Any) -> Document:
    """With a value at a path; None takes it away. Tables on the way are made. Raises NoSuchEntry."""
    changed = copy.deepcopy(document)
    *way, last = steps_of(path)
    holder: Any = changed
    for step in way:
        if isinstance(holder, dict) and isinstance(step, str):
            holder = holder.setdefault(step, {})
        else:
            holder = _member(holder, step)
    if isinstance(holder, dict) and isinstance(last, str):
        if value is None:
            holder.pop(last, None)
        else:
            holder[last] = value
    else:
        _member(holder, last)
        if value is None:
            holder.pop(last)
        else:
            holder[last] = value
    return changed


def _member(holder: Any, step: Step) -> Any:
    if isinstance(holder, list) and isinstance(step, int) and step < len(holder):
        return holder[step]
    raise NoSuchEntry(step)


def list_at(document: Document, path: str) -> list[Any]:
    """The list at a path, empty where there is none yet."""
    found = at(document, path)
    return found if isinstance(found, list) else []


def added(document: Document, path: str, entry: Any) -> Document:
    """With an entry at the end of a list."""
    return with_entry(document, path, [*list_at(document, path), copy.deepcopy(entry)])


def removed(document: Document, path: str, index: int) -> Document:
    """Without one entry of a list. Raises NoSuchEntry."""
    entries = list_at(document, path)
    if not 0 <= index < len(entries):
        raise NoSuchEntry(path)
    return with_entry(document, path, [*entries[:index], *entries[index + 1 :]])


def moved(document: Document, path: str, index: int, by: int) -> Document:
    """With an entry of a list moved up (by -1) or down (by 1); at an end it stays. Raises NoSuchEntry."""
    entries = list(list_at(document, path))
    if not 0 <= index < len(entries):
        raise NoSuchEntry(path)
    to = min(max(index + by, 0), len(entries) - 1)
    entries.insert(to, entries.pop(index))
    return with_entry(document, path, entries)


def every_entry(value: Any, path: str = "") -> Mapping[str, Any]:
    """Every plain value of a document by its path."""
    if isinstance(value, dict):
        pairs = [(f"{path}.{name}" if path else str(name), each) for name, each in value.items()]
    elif isinstance(value, list):
        pairs = [(f"{path}.{place}", each) for place, each in enumerate(value)]
    else:
        return {path: value}
    return {name: each for at_path, below in pairs for name, each in every_entry(below, at_path).items()}
