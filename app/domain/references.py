"""References: how an author names a quantity, `assembly[A].correction.inboard.mass_g` or `car.comfort`."""

import re
from functools import lru_cache

FORM = r"^(assembly\[([A-Z][A-Z0-9]?|\*)\]|car)(\.[a-z_]+)+$"
EVERY = "*"
"""In the place of a letter: the quantity of every assembly."""

MOST_KEPT = 4096
"""A mark asks for the same few keys over and over: their reading is kept."""

_PARTS = re.compile(r"(?:assembly\[(?P<letter>[^\]]+)\]|car)\.(?P<name>.+)")


class UnknownReference(KeyError):  # noqa: N818 -- says what is so
    """A reference that names nothing in the model."""


@lru_cache(maxsize=MOST_KEPT)
def is_reference(text: str) -> bool:
    """Whether it is spelled as a reference, whatever it names."""
    return re.fullmatch(FORM, text) is not None


@lru_cache(maxsize=MOST_KEPT)
def split_reference(reference: str) -> tuple[str | None, str]:
    """The letter of the assembly, EVERY or None for the car, and the quantity's short name.

    Raises UnknownReference for a text of another form.
    """
    found = _PARTS.fullmatch(reference) if is_reference(reference) else None
    if found is None:
        raise UnknownReference(reference)
    return found["letter"], found["name"]


def of_assembly(letter: str, name: str) -> str:
    """The reference to a quantity of one assembly by its short name."""
    return f"assembly[{letter}].{name}"


def for_assembly(key: str, letter: str) -> str:
    """What a key that asks every assembly says for one; any other key as it is."""
    return key.replace(f"[{EVERY}]", f"[{letter}]")


def asks_every(key: str) -> bool:
    """Whether a key, a reference or arithmetic over some, asks every assembly."""
    return f"[{EVERY}]" in key
