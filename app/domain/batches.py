"""Many attempts marked together: their variants drawn and their answer keys computed as arrays.

A quantity is computed once for all variants of a scenario and read from the array for each; only what depends
on a student's own values is computed for that student alone. The marks are those of `mark_all`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from itertools import repeat
from typing import Any

import numpy as np

from app.domain.answers import Raw
from app.domain.bench import BenchState
from app.domain.draws import DRAWING_VERSION
from app.domain.marking import Mark, mark_all
from app.domain.marking.numbers import right_numbers
from app.domain.measures import UnitSystem
from app.domain.model import Model
from app.domain.scenario import Scenario
from app.domain.truth import Truth
from app.domain.variants import UnknownDrawing, Variant, draw_many


@dataclass(frozen=True)
class Work:
    """What one attempt left. bench: what its actions did, where the lab has one. hints: shown, by task."""

    seed: int
    answers: Mapping[str, Raw]
    bench: BenchState | None = None
    hints: Mapping[str, int] = field(default_factory=dict)


class RowModel(Model):
    """The model of one variant of a batch; row: which. Quantities are read from the batch."""

    def __init__(self, batch: Model, row: int, truth: Truth) -> None:
        super().__init__(truth)
        self._batch, self._row = batch, row

    def _computed(self, reference: str) -> Any:
        return _at(self._batch.value(reference), self._row)


def draw_each(
    scenario: Scenario, seeds: Sequence[int], units: UnitSystem, *, version: int = DRAWING_VERSION
) -> list[Variant]:
    """The variants of these seeds, each as `draw` gives it, with their quantities computed together.

    Raises NotWellPosed, UnknownDrawing.
    """
    return list(_variants(scenario, seeds, units, _drawn(scenario, seeds, units, version))) if seeds else []


def mark_many(
    scenario: Scenario, units: UnitSystem, works: Sequence[Work], *, version: int = DRAWING_VERSION
) -> list[tuple[Mark, ...]]:
    """The marks of many attempts at one scenario, as `mark_all` gives them for each.

    Raises NotWellPosed, UnknownDrawing.
    """
    return list(mark_in_turn(scenario, units, works, version=version))


def mark_in_turn(
    scenario: Scenario, units: UnitSystem, works: Sequence[Work], *, version: int = DRAWING_VERSION
) -> Iterator[tuple[Mark, ...]]:
    """The same one by one, for who looks at them once: no variant, and no mark, waits for the others."""
    if not works:
        return
    seeds = [work.seed for work in works]
    batch = _drawn(scenario, seeds, units, version)
    variants = _variants(scenario, seeds, units, batch)
    numbers = right_numbers(scenario.tasks, batch, units, len(works))
    for variant, work, right in zip(variants, works, numbers, strict=True):
        yield mark_all(variant, work.answers, work.bench, work.hints, right)


def _drawn(scenario: Scenario, seeds: Sequence[int], units: UnitSystem, version: int) -> Model:
    if version != DRAWING_VERSION:
        raise UnknownDrawing(f"drawing version {version}; this release draws version {DRAWING_VERSION}")
    return draw_many(scenario, np.array(seeds, dtype=np.uint64), units)


def _variants(scenario: Scenario, seeds: Sequence[int], units: UnitSystem, batch: Model) -> Iterator[Variant]:
    truths = rows_of(batch.truth, len(seeds))
    for row, (seed, truth) in enumerate(zip(seeds, truths, strict=True)):
        yield Variant(scenario, seed, units, truth, RowModel(batch, row, truth))


def rows_of(batch: Any, count: int) -> Iterator[Any]:
    """Each variant's truth, or a part of it, from that of a batch: every array without its first axis."""
    if isinstance(batch, np.ndarray):
        return iter(batch) if batch.ndim else repeat(batch, count)
    if is_dataclass(batch) and not isinstance(batch, type):
        return map(type(batch), *(rows_of(getattr(batch, name), count) for name in _names_of(type(batch))))
    if isinstance(batch, Mapping) and batch:
        parts = (rows_of(part, count) for part in batch.values())
        return (dict(zip(batch, row, strict=True)) for row in zip(*parts, strict=True))
    if isinstance(batch, tuple) and batch:
        return zip(*(rows_of(part, count) for part in batch), strict=True)
    return repeat(batch, count)


@cache
def _names_of(kind: type) -> tuple[str, ...]:
    return tuple(each.name for each in fields(kind))


def _at(values: Any, row: int) -> Any:
    """A number that no draw changes has no batch axis."""
    return values[row] if np.ndim(values) else values


def same_numbers(before: Scenario, after: Scenario, seeds: Sequence[int], units: UnitSystem) -> np.ndarray:
    """Whether each seed draws the same numbers from both scenarios: shape (n,).

    Where it does, work done at the one can be marked by the other. Raises NotWellPosed.
    """
    if _but_for_words(before) == _but_for_words(after):
        return np.ones(len(seeds), dtype=bool)
    drawn = np.array(seeds, dtype=np.uint64)
    first, second = (_leaves(draw_many(each, drawn, units).truth) for each in (before, after))
    if first.keys() != second.keys():
        return np.zeros(len(drawn), dtype=bool)
    same = np.ones(len(drawn), dtype=bool)
    for place, left in first.items():
        same &= _equal_rows(left, second[place], len(drawn))
    return same


_WORDS_OF_A_TASK = {"title", "prompt", "points", "explain", "hints"}
_WORDS: Any = {
    **dict.fromkeys(("title", "summary", "level", "course_place", "minutes", "reflection", "teacher"), True),
    "parts": {"__all__": {"title": True, "text": True, "tasks": {"__all__": _WORDS_OF_A_TASK}}},
}
"""What is only said, or counted when it is marked: no number is drawn from it, and none refused for it."""


def _but_for_words(scenario: Scenario) -> dict[str, Any]:
    return scenario.model_dump(exclude=_WORDS)


def _leaves(part: Any, place: str = "") -> dict[str, Any]:
    """Every number and word of a truth by its place."""
    if is_dataclass(part) and not isinstance(part, type):
        parts = {name: getattr(part, name) for name in _names_of(type(part))}
    elif isinstance(part, Mapping):
        parts = dict(part)
    elif isinstance(part, tuple):
        parts = {str(number): each for number, each in enumerate(part)}
    else:
        return {place: part}
    return {
        where: leaf for key, each in parts.items() for where, leaf in _leaves(each, f"{place}.{key}").items()
    }


def _equal_rows(left: Any, right: Any, rows: int) -> np.ndarray:
    if not (isinstance(left, np.ndarray) and isinstance(right, np.ndarray)):
        return np.full(rows, bool(left == right))
    if left.shape != right.shape:
        return np.zeros(rows, dtype=bool)
    equal = (left == right) | ((left != left) & (right != right))  # nan: no direction
    return equal.reshape(rows, -1).all(axis=1) if equal.ndim else np.full(rows, bool(equal))
