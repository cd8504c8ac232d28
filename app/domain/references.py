"""References: how an author names a quantity, `assembly[A].correction.inboard.mass_g` or `car.comfort`."""

import re

FORM = r"^(assembly\[([A-Z][A-Z0-9]?|\*)\]|car)(\.[a-z_]+)+$"
EVERY = "*"
"""In the place of a letter: the quantity of every assembly."""

_PARTS = re.compile(r"(?:assembly\[(?P<letter>[^\]]+)\]|car)\.(?P<name>.+)")


class UnknownReference(KeyError):  # noqa: N818 -- says what is so
    """A reference that names nothing in the model."""


def split_reference(reference: str) -> tuple[str | None, str]:
    """The letter of the assembly, EVERY or None for the car, and the quantity's short name.

    Raises UnknownReference for a text of another form.
    """
    found = _PARTS.fullmatch(reference) if re.fullmatch(FORM, reference) else None
    if found is None:
        raise UnknownReference(reference)
    return found["letter"], found["name"]


def of_assembly(letter: str, name: str) -> str:
    """The reference to a quantity of one assembly by its short name."""
    return f"assembly[{letter}].{name}"


def for_assembly(reference: str, letter: str) -> str:
    """What a reference to every assembly's quantity says for one; any other reference as it is."""
    asked, name = split_reference(reference)
    return of_assembly(letter, name) if asked == EVERY else reference
