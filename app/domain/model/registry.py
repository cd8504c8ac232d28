"""Every quantity that a task may ask for, by the name that authors write.

A quantity is registered beside its formula. The formula reads other quantities through the model, never the
truth twice, so that a student's own earlier value put in the place of the right one carries through to what
follows.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import wraps
from itertools import product
from typing import Any

from app.domain.measures import Measure
from app.domain.truth import PLANES


@dataclass(frozen=True)
class Quantity:
    """name without its `assembly[A].`; `words` says what it is, for the author's list and for reasons."""

    name: str
    measure: Measure
    words: str
    compute: Callable[[Any], Any]


OF_ASSEMBLY: dict[str, Quantity] = {}
OF_CAR: dict[str, Quantity] = {}


def of_assembly(
    name: str, measure: Measure, words: str, *, parts: Mapping[str, str] | None = None
) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Registers `compute(assembly_view)`.

    With `{plane}` in the name, `compute(assembly_view, plane)` for each plane; with `{part}`,
    `compute(assembly_view, part)` for each of `parts`, which gives each its words; with both,
    `compute(assembly_view, part, plane)`.
    """
    of_each = {"part": parts or {}, "plane": {plane: plane for plane in PLANES}}
    of_each = {field: each for field, each in of_each.items() if f"{{{field}}}" in name}

    def register(compute: Callable[..., Any]) -> Callable[..., Any]:
        for among in product(*of_each.values()):
            spelled = dict(zip(of_each, among, strict=True))
            full = name.format(**spelled)
            said = words.format(**{field: of_each[field][each] for field, each in spelled.items()})
            OF_ASSEMBLY[full] = Quantity(full, measure, said, _at(compute, among))
        return compute

    return register


def _at(compute: Callable[..., Any], among: tuple[str, ...]) -> Callable[[Any], Any]:
    return lambda assembly: compute(assembly, *among)


def computed_once(compute: Callable[..., Any]) -> Callable[..., Any]:
    """Keeps what `compute(assembly_view, ...)` gave while its model lives; several quantities read it."""

    @wraps(compute)
    def kept(assembly: Any, *among: str) -> Any:
        name = (compute.__qualname__, assembly.truth.id, *among)
        return assembly.model.part(name, lambda: compute(assembly, *among))

    return kept


def of_car(name: str, measure: Measure, words: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Registers `compute(model)` for the whole car."""

    def register(compute: Callable[..., Any]) -> Callable[..., Any]:
        OF_CAR[name] = Quantity(name, measure, words, compute)
        return compute

    return register
