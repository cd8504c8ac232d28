"""Students by number: for exports that are passed on without names.

A number belongs to a student in a class: it is the same in every export and tells nothing, since it comes
from the random ids of both, which no export shows.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from app.domain.draws import seed_of

NAME_TAKEN_OUT = "[name]"
_SHORTEST_PART = 3


class Named(Protocol):
    @property
    def display_name(self) -> str: ...
    @property
    def sign_in_name(self) -> str: ...


def pseudonym(class_id: str, student_id: str) -> str:
    """`Student 4817-2093`."""
    digits = f"{seed_of('pseudonym', class_id, student_id) % 10**8:08}"
    return f"Student {digits[:4]}-{digits[4:]}"


@dataclass(frozen=True)
class Names:
    """What an export calls its students. hidden: by number, with names taken out of texts."""

    class_id: str
    hidden: bool
    everyone: tuple[tuple[str, str], ...] = ()
    """Display name and sign-in name of all who are or were in the class."""

    def of(self, student_id: str, name: str) -> str:
        return pseudonym(self.class_id, student_id) if self.hidden else name

    def in_text(self, text: str, writer: str) -> str:
        """The text; hidden, without anybody's full name and sign-in name, and without any part of the
        writer's own name. Names are looked for as whole words; the full ones in any case of letters."""
        if not self.hidden:
            return text
        for pattern in (self._full_names(), _parts_of(writer)):
            text = re.sub(pattern, NAME_TAKEN_OUT, text) if pattern else text
        return text

    def _full_names(self) -> str:
        names = {name for pair in self.everyone for name in pair if name.strip()}
        return f"(?i:{_any_of(names)})" if names else ""


def names_of(class_id: str, people: Iterable[Named], *, hidden: bool) -> Names:
    return Names(class_id, hidden, tuple((each.display_name, each.sign_in_name) for each in people))


def _parts_of(name: str) -> str:
    parts = [part for part in re.split(r"[\s\-]+", name) if len(part) >= _SHORTEST_PART]
    return _any_of(parts) if parts else ""


def _any_of(names: Iterable[str]) -> str:
    """Longest first, so that a name which holds another goes as a whole; with any white space inside."""
    ordered = sorted(names, key=lambda name: (-len(name), name))
    escaped = (r"\s+".join(map(re.escape, name.split())) for name in ordered)
    return rf"(?<!\w)(?:{'|'.join(escaped)})(?!\w)"
