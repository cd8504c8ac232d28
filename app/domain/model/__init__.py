"""Every quantity of a variant, by reference: `assembly[A].correction.inboard.mass_g`, `car.comfort`.

The answer key, the marks, what a wrong turn would have given and the drawings of a lab all ask this one
model.
"""

from collections.abc import Callable, Hashable, Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from app.compute import phasors
from app.domain.arithmetic import Named, Node, parse
from app.domain.draws import Numbers
from app.domain.measures import Measure
from app.domain.model import (  # noqa: F401 -- importing registers their quantities
    balance,
    car,
    dimensions,
    half_turn,
    lateral,
    limits,
    marks,
    one_plane,
    placing,
    pressure,
    runout,
    shelf,
    sidewall,
    tire,
    tread,
    trial,
    two_measurements,
    vibration,
)
from app.domain.model.reckoning import measure_of, value_of
from app.domain.model.registry import OF_ASSEMBLY, OF_CAR, Quantity
from app.domain.references import (
    EVERY,
    MOST_KEPT,
    UnknownReference,
    is_reference,
    of_assembly,
    split_reference,
)
from app.domain.truth import AssemblyTruth, Truth


@lru_cache(maxsize=MOST_KEPT)
def quantity_of(key: str) -> Quantity:
    """The quantity that a key asks for: one that it names, whichever assembly's, or what arithmetic gives.

    Raises UnknownReference, ArithmeticFault and UnlikeMeasures.
    """
    if not is_reference(key):
        tree = parse(key)
        return Quantity(key, _measure_of(tree), key, lambda model: model.reckoned(tree))
    letter, name = split_reference(key)
    quantity = (OF_CAR if letter is None else OF_ASSEMBLY).get(name)
    if quantity is None:
        raise UnknownReference(key)
    return quantity


def _measure_of(tree: Node) -> Measure:
    return measure_of(tree, lambda reference: quantity_of(reference).measure)


def quantities() -> tuple[str, ...]:
    """Every name that a reference may end in, for the author's list and for suggestions."""
    return (*(of_assembly(EVERY, name) for name in OF_ASSEMBLY), *(f"car.{name}" for name in OF_CAR))


class Model:
    """The quantities of one truth, each computed once when first asked.

    given: values put in the place of computed ones, such as a student's own earlier answers; whatever depends
    on them follows. Values keep the truth's batch shape `(...)`; "no direction" is nan.
    """

    def __init__(self, truth: Truth, given: Mapping[str, Any] | None = None) -> None:
        self.truth = truth
        self._given = {str(parse(key)): value for key, value in (given or {}).items()}
        self._values: dict[str, Any] = dict(self._given)
        self._parts: dict[Hashable, Any] = {}
        self._read: dict[Hashable, list[str]] = {}
        self._reading: list[list[str]] = []

    def value(self, key: str) -> Any:
        """What a key asks for. Raises UnknownReference for a name or an assembly that isn't there."""
        if not is_reference(key):
            return self.reckoned(parse(key))
        self._note([key])
        if key not in self._values:
            self._values[key] = self._noting(key, lambda: self._computed(key))
        return self._values[key]

    def inputs(self, reference: str) -> tuple[str, ...]:
        """The quantities that a quantity was reckoned from, each once, in the order in which they were read.

        None where it comes from the truth alone, or its value was given.
        """
        self.value(reference)
        return tuple(dict.fromkeys(self._read.get(reference, ())))

    def _noting(self, name: Hashable, compute: Callable[[], Any]) -> Any:
        """What `compute` gives; which quantities it reads is noted under the name."""
        self._reading.append(self._read.setdefault(name, []))
        try:
            return compute()
        finally:
            self._reading.pop()

    def _note(self, read: Sequence[str]) -> None:
        if self._reading:
            self._reading[-1].extend(read)

    def reckoned(self, node: Node) -> Any:
        """What arithmetic comes to; a part of it may be given too, such as a student's own sum."""
        if isinstance(node, Named):
            return self.value(node.reference)
        text = str(node)
        if text not in self._values:
            self._values[text] = value_of(node, _measure_of(node), self.reckoned)
        return self._values[text]

    def part(self, name: Hashable, compute: Callable[[], Any]) -> Any:
        """A step between the truth and several quantities, such as a trace of readings: computed once."""
        if name not in self._parts:
            self._parts[name] = self._noting(name, compute)
        self._note(self._read[name])
        return self._parts[name]

    def _computed(self, reference: str) -> Any:
        quantity = quantity_of(reference)
        letter, _ = split_reference(reference)
        if letter is None:
            return quantity.compute(self)
        if letter not in self.truth.assemblies:
            raise UnknownReference(reference)
        return quantity.compute(self.assembly(letter))

    def assembly(self, letter: str) -> "AssemblyView":
        return AssemblyView(self, self.truth.assemblies[letter])

    def each(self, name: str) -> Numbers:
        """One quantity of every assembly: shape (..., n) in the order of their letters."""
        return np.stack(
            [np.asarray(self.assembly(letter).value(name)) for letter in self.truth.assemblies], axis=-1
        )

    def with_given(self, given: Mapping[str, Any]) -> "Model":
        """The same truth with these values too in the place of computed ones."""
        return Model(self.truth, {**self._given, **given})


class AssemblyView:
    """One assembly of a model: its truth, and its quantities by their short names."""

    def __init__(self, model: Model, truth: AssemblyTruth) -> None:
        self.model = model
        self.truth = truth

    def value(self, name: str) -> Any:
        return self.model.value(of_assembly(self.truth.id, name))

    def phasor(self, size_name: str, angle_name: str) -> Any:
        """The vector of two quantities; a size of zero has no direction and is the zero vector."""
        size, angle = np.asarray(self.value(size_name)), np.asarray(self.value(angle_name))
        return phasors.phasor(size, np.where(np.isnan(angle), 0.0, angle))
