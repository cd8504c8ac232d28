"""Names as typed, as sorted, and as signed in with."""

import re
from dataclasses import dataclass

from app.domain.texts import normalised

LONGEST_NAME = 80
LONGEST_SIGN_IN_NAME = 40
SHORTEST_SIGN_IN_NAME = 2
LETTERS_OF_FAMILY_NAME = 1

# Letters that Unicode doesn't split into a plain letter and a mark.
PLAIN_LETTERS = str.maketrans(
    {"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ħ": "h", "ı": "i"}
)


@dataclass(frozen=True)
class TypedName:
    """A person's name from one line of a class list."""

    display_name: str
    sort_name: str
    sign_in_stem: str


def read_name(line: str) -> TypedName | None:
    """`Given Family` or `Family, Given` on one line; None when there is no letter in it."""
    family, comma, given = (" ".join(part.split()) for part in line.partition(","))
    if not comma or not given:
        given, _, family = family.rpartition(" ")
        given, family = (given, family) if given else (family, "")
    return typed_name(given, family)


def typed_name(given: str, family: str) -> TypedName | None:
    """A name from its two parts, either of which may be empty; None when there is no letter in them."""
    given, family = (" ".join(part.split()) for part in (given, family))
    if not any(sign.isalpha() for sign in given + family):
        return None
    return TypedName(
        display_name=f"{given} {family}".strip(),
        sort_name=f"{family}, {given}" if family and given else given or family,
        sign_in_stem=_stem(given, family),
    )


def same_name(name: str) -> str:
    """A name as it is compared: capitals and ways of writing a letter make no other person."""
    return normalised(name, "NFKC").casefold()


def as_sign_in_name(typed: str) -> str:
    """A sign-in name as it is kept and compared: `Ana.Núñez ` is `ana.nunez`."""
    letters = normalised(typed.casefold().translate(PLAIN_LETTERS), "NFKD")
    return re.sub(r"[^a-z0-9._-]", "", letters)


def free_sign_in_name(stem: str, taken: set[str]) -> str:
    """The stem itself, or with the first number from 2 on that makes it free."""
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem}{number}", number + 1
    return name


def _stem(given: str, family: str) -> str:
    """First given name and the first letter of the family name; `student` where neither has a Latin
    letter."""
    first = re.sub(r"[^a-z]", "", as_sign_in_name(given.split(" ")[0]))
    last = re.sub(r"[^a-z]", "", as_sign_in_name(family))[:LETTERS_OF_FAMILY_NAME]
    return (first + last)[:20] or "student"
