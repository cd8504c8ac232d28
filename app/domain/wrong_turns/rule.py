"""One known wrong turn as a rule (what it threatens, gives and says), and slips common to many subjects."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from app.compute import angles


@dataclass(frozen=True)
class WrongTurn:
    """A slip by its name; `words` explain it. `always_differs`: false where it may hit the right value.

    scale: what the slip makes of a small difference: a unit mixed up scales the tolerance with the value.
    """

    id: str
    words: str
    always_differs: bool = True
    scale: float = 1.0


@dataclass(frozen=True)
class Rule:
    """`value(view, name)` is what the slip gives for the quantity of that name.

    An assembly's quantity is named without its `assembly[A].` and asked of that assembly's view; one of the
    car keeps its `car.` and is asked of the model.
    """

    turn: WrongTurn
    threatens: re.Pattern[str]
    value: Callable[[Any, str], Any]


def rule(
    turn_id: str,
    threatens: str,
    value: Callable[[Any, str], Any],
    words: str,
    *,
    differs: bool = True,
    scale: float = 1.0,
) -> Rule:
    """threatens: a pattern that fits the whole name of a quantity. differs: WrongTurn's always_differs."""
    return Rule(WrongTurn(turn_id, words, differs, scale), re.compile(threatens), value)


def opposite(view: Any, name: str) -> Any:
    return angles.opposite(view.value(name))


def half(view: Any, name: str) -> Any:
    return view.value(name) / 2
