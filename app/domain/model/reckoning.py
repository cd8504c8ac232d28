"""What a key's arithmetic is a measure of, and what it comes to.

Only like may be added, and a product or quotient must be a quantity known here: a mass times a distance is an
unbalance. Angles go around the circle, and two of them differ by a turn.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from app.compute import angles
from app.domain.arithmetic import Applied, Named, Node, Number
from app.domain.measures import Measure, measure_of_unit

NOT_NUMBERS = {Measure.CHOICE, Measure.SEVERAL, Measure.PLACEMENT}
_PLAIN = {Measure.NUMBER, Measure.COUNT}
_LENGTHS = {Measure.LENGTH, Measure.RUNOUT}
_NAMES = {"+": "added to", "-": "taken from", "*": "multiplied by", "/": "divided by"}


class UnlikeMeasures(ValueError):  # noqa: N818 -- says what is so
    """Arithmetic over measures that don't go together; the message names both."""


def measure_of(node: Node, of_reference: Callable[[str], Measure]) -> Measure:
    """What a key is a measure of. Raises UnlikeMeasures, and what `of_reference` raises."""
    match node:
        case Named(reference=reference):
            return of_reference(reference)
        case Number(unit=""):
            return Measure.NUMBER
        case Number(unit=unit):
            known = measure_of_unit(unit)
            if known is None:
                raise UnlikeMeasures(f"“{unit}” is no unit known here; use g, mm, N, kPa, deg or years")
            return known[0]
        case Applied(of=of, operands=operands):
            return _measure_of_applied(of, operands, [measure_of(each, of_reference) for each in operands])


def _measure_of_applied(of: str, operands: tuple[Node, ...], measures: list[Measure]) -> Measure:
    for operand, measure in zip(operands, measures, strict=True):
        if measure in NOT_NUMBERS:
            raise UnlikeMeasures(f"{operand} is {measure.named}, with which nothing can be reckoned")
    together = _product if of in "*/" else _sum if of in "+-" else _alike
    found = together(of, measures)
    if found is None:
        described = [
            f"{operand} ({measure.named})" for operand, measure in zip(operands, measures, strict=True)
        ]
        if of in _NAMES:
            # What is taken away is named first: “b can't be taken from a”.
            first, second = reversed(described) if of in "+-" else described
            raise UnlikeMeasures(f"{first} can't be {_NAMES[of]} {second}")
        raise UnlikeMeasures(f"{of} can't take {' and '.join(described)}")
    return found


def _sum(of: str, measures: list[Measure]) -> Measure | None:
    first, second = measures
    if first is Measure.ANGLE and second is Measure.ANGLE:
        return Measure.TURN if of == "-" else None
    if first is Measure.ANGLE and second is Measure.TURN:
        return Measure.ANGLE
    if (first, second, of) == (Measure.TURN, Measure.ANGLE, "+"):
        return Measure.ANGLE
    return _alike(of, measures)


def _alike(of: str, measures: list[Measure]) -> Measure | None:
    """Of like measures, that one; an angle has no sign, no double and no greater one."""
    kinds = set(measures)
    if Measure.ANGLE in kinds or (of in ("min", "max") and Measure.TURN in kinds):
        return None
    if len(kinds) == 1:
        return measures[0]
    if kinds == _PLAIN:
        return Measure.NUMBER
    return Measure.RUNOUT if kinds == _LENGTHS else None


def _product(of: str, measures: list[Measure]) -> Measure | None:
    first, second = measures
    if Measure.ANGLE in measures:
        return None
    if second in _PLAIN:
        return first if first not in _PLAIN or (of == "*" and first is second) else Measure.NUMBER
    if of == "*":
        if first in _PLAIN:
            return second
        heavy = Measure.MASS in measures and bool(_LENGTHS & set(measures))
        return Measure.UNBALANCE if heavy else None
    if first is second or {first, second} == _LENGTHS:
        return Measure.NUMBER
    if first is Measure.UNBALANCE:
        return Measure.LENGTH if second is Measure.MASS else Measure.MASS if second in _LENGTHS else None
    return None


def value_of(node: Number | Applied, measure: Measure, value: Callable[[Node], Any]) -> Any:
    """What a key comes to, in its measure's inside unit: shape (...). Where it divides by zero, nan.

    value: of an operand, so that whoever asks may put another value in its place.
    """
    match node:
        case Number(text=text, unit=unit):
            known = measure_of_unit(unit) if unit else None
            return np.asarray(float(text) * (known[1] if known else 1.0))
        case Applied(of=of, operands=operands):
            numbers = [np.asarray(value(operand), dtype=float) for operand in operands]
            return _on_circle(_OPERATIONS[of](numbers), measure)


def _quotient(numbers: list[Any]) -> Any:
    above, below = numbers
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(below == 0, np.nan, above / np.where(below == 0, 1.0, below))


_OPERATIONS: dict[str, Callable[[list[Any]], Any]] = {
    "+": lambda numbers: numbers[0] + numbers[1],
    "-": lambda numbers: numbers[0] - numbers[1],
    "*": lambda numbers: numbers[0] * numbers[1],
    "/": _quotient,
    "negative": lambda numbers: -numbers[0],
    "abs": lambda numbers: np.abs(numbers[0]),
    "max": lambda numbers: np.max(np.stack(np.broadcast_arrays(*numbers)), axis=0),
    "min": lambda numbers: np.min(np.stack(np.broadcast_arrays(*numbers)), axis=0),
}


def _on_circle(number: Any, measure: Measure) -> Any:
    if measure is Measure.ANGLE:
        return angles.wrap(number)
    return angles.wrap_turn(number) if measure is Measure.TURN else number
