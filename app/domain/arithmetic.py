"""A key as arithmetic over references: `assembly[A].left.inboard.mass_g + assembly[A].left.outboard.mass_g`.

    sum     = product { ("+" | "-") product }
    product = factor { ("*" | "/") factor }
    factor  = "-" factor | "(" sum ")" | function "(" sum { "," sum } ")" | reference | number [ unit ]

A closed grammar of bounded length and depth without powers, read by hand and never run as code. What a tree
is a measure of and what it comes to is for `app.domain.model.reckoning`.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

LONGEST = 240
DEEPEST = 12
FUNCTIONS = {"abs": (1, 1), "max": (2, 6), "min": (2, 6)}
"""How many operands each takes, at least and at most."""

ALLOWED = "assembly[A].force.first_n, or arithmetic over such: 0.5, 10 g, + - * / ( ), min, max, abs"

_TOKEN = re.compile(
    r" *(?:(?P<reference>(?:assembly\[(?:[A-Z][A-Z0-9]?|\*)\]|car)(?:\.[a-z_]+)+(?![\w.]))"
    r"|(?P<number>\d{1,9}(?:\.\d{1,9})?)(?![\d.])"
    r"|(?P<word>[A-Za-z]+)"
    r"|(?P<sign>[-+*/(),]))",
    re.ASCII,
)


class ArithmeticFault(ValueError):  # noqa: N818 -- says what is so
    """A text that is no key; the message says where and what is allowed."""


@dataclass(frozen=True)
class Number:
    """A number, plain or in a unit: `0.5`, `10 g`."""

    text: str
    unit: str = ""

    def __str__(self) -> str:
        return f"{self.text} {self.unit}".rstrip()


@dataclass(frozen=True)
class Named:
    """A quantity by its reference."""

    reference: str

    def __str__(self) -> str:
        return self.reference


@dataclass(frozen=True)
class Applied:
    """An operation on its operands. of: `+ - * /`, `negative`, or the name of a function."""

    of: str
    operands: tuple["Node", ...]

    def __str__(self) -> str:
        """The text in one spelling, whatever spaces and parentheses it was written with."""
        if self.of == "negative":
            return f"(-{self.operands[0]})"
        if self.of in FUNCTIONS:
            return f"{self.of}({', '.join(map(str, self.operands))})"
        return f"({self.operands[0]} {self.of} {self.operands[1]})"


Node = Number | Named | Applied


@lru_cache(maxsize=1024)
def parse(text: str) -> Node:
    """The tree of a key; a reference alone is the simplest one. Raises ArithmeticFault."""
    if len(text) > LONGEST:
        raise ArithmeticFault(f"is {len(text)} characters long; a key has at most {LONGEST}")
    return _Parser(text).whole()


def references_in(text: str) -> tuple[str, ...]:
    """Every reference of a key, each once, in the order in which they stand. Raises ArithmeticFault."""
    return tuple(dict.fromkeys(_references(parse(text))))


def _references(node: Node) -> list[str]:
    match node:
        case Named(reference=reference):
            return [reference]
        case Applied(operands=operands):
            return [reference for operand in operands for reference in _references(operand)]
        case _:
            return []


class _Parser:
    """Reads one text from left to right; `depth` counts what is still open."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.depth = 0

    def whole(self) -> Node:
        node = self.sum()
        if self.text[self.place :].strip(" "):
            raise self.fault()
        return node

    def sum(self) -> Node:
        self.depth += 1
        if self.depth > DEEPEST:
            raise ArithmeticFault(f"nests more than {DEEPEST} deep; write it in a simpler way")
        node = self.product()
        while sign := self.take("sign", "+-"):
            node = Applied(sign, (node, self.product()))
        self.depth -= 1
        return node

    def product(self) -> Node:
        node = self.factor()
        while sign := self.take("sign", "*/"):
            node = Applied(sign, (node, self.factor()))
        return node

    def factor(self) -> Node:
        if self.take("sign", "-"):
            self.depth += 1
            if self.depth > DEEPEST:
                raise ArithmeticFault(f"nests more than {DEEPEST} deep; write it in a simpler way")
            negative = Applied("negative", (self.factor(),))
            self.depth -= 1
            return negative
        if self.take("sign", "("):
            node = self.sum()
            self.close()
            return node
        if reference := self.take("reference"):
            return Named(reference)
        if number := self.take("number"):
            return Number(number, self.take("word"))
        return self.function()

    def function(self) -> Node:
        start, name = self.place, self.take("word")
        if name not in FUNCTIONS or not self.take("sign", "("):
            self.place = start
            raise self.fault()
        operands = [self.sum()]
        while self.take("sign", ","):
            operands.append(self.sum())
        self.close()
        least, most = FUNCTIONS[name]
        if not least <= len(operands) <= most:
            allowed = str(least) if least == most else f"{least} to {most}"
            raise ArithmeticFault(f"{name} takes {allowed} values, not {len(operands)}")
        return Applied(name, tuple(operands))

    def close(self) -> None:
        if not self.take("sign", ")"):
            raise self.fault("lacks a )")

    def take(self, kind: str, among: str = "") -> str:
        """The next token, if it is of this kind; else nothing, and it is still the next."""
        found = _TOKEN.match(self.text, self.place)
        token = found[kind] if found else None
        if found is None or token is None or (among and token not in among):
            return ""
        self.place = found.end()
        return token

    def fault(self, what: str = "") -> ArithmeticFault:
        rest = self.text[self.place :].strip()
        at = f"from “{rest[:20]}” on" if rest else "at its end"
        return ArithmeticFault(f"must have the form {ALLOWED}; {what or 'can’t be read'} {at}")
