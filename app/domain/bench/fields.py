"""Reading the fields of an action from its wire form, strictly; a reader that refuses names its field."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

from app.compute.weight_clips import CLIPS
from app.domain.texts import as_shown

CLIP_NAMES = tuple(clip.name for clip in CLIPS)
MOST_LUGS = 10


class BadAction(ValueError):  # noqa: N818 -- says what is so
    """An action that can't be read. `field` names what is wrong, `message` says what is allowed."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


Reader = Callable[[str, Any], Any]
"""Of a field's name and its value on the wire makes what the action holds. Raises BadAction."""


def one_of(*allowed: str) -> Reader:
    def read(field: str, value: Any) -> str:
        if not isinstance(value, str) or value not in allowed:
            raise BadAction(field, f"must be one of {', '.join(allowed)}.")
        return value

    return read


def number_from(low: float, high: float, *, whole: bool = False) -> Reader:
    kind = "a whole number" if whole else "a number"

    def read(field: str, value: Any) -> float | int:
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        # Compared before it becomes a float: a long whole number has no float.
        good = is_number and low <= value <= high and math.isfinite(value)
        if not good or (whole and value != int(value)):
            raise BadAction(field, f"must be {kind} from {low:g} to {high:g}.")
        return int(value) if whole else float(value)

    return read


def short_text(field: str, value: Any) -> str:
    if not isinstance(value, str) or not 0 < len(value) <= 40 or value != as_shown(value):
        raise BadAction(field, "must be a short text.")
    return value


def true_or_false(field: str, value: Any) -> bool:
    if not isinstance(value, bool):
        raise BadAction(field, "must be true or false.")
    return value


def lug_order(field: str, value: Any) -> tuple[int, ...]:
    """Every lug once, numbered clockwise from 1, in the order in which they are tightened."""
    is_list = isinstance(value, list | tuple) and 3 <= len(value) <= MOST_LUGS
    if not is_list or not all(isinstance(lug, int) and not isinstance(lug, bool) for lug in value):
        raise BadAction(field, "must be the list of lugs in the order in which they are tightened.")
    if sorted(value) != list(range(1, len(value) + 1)):
        raise BadAction(field, f"must hold each lug from 1 to {len(value)} once.")
    return tuple(value)


def clip_name(field: str, value: Any) -> str | None:
    return None if value is None else str(one_of(*CLIP_NAMES)(field, value))


def read_by(reader: Reader, *, default: Any = dataclasses.MISSING) -> Any:
    """A field of an action; one with a default may be missing on the wire, and is left out there."""
    return dataclasses.field(default=default, metadata={"reader": reader})
