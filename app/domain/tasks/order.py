"""The order of steps, a partial order: whatever keeps each required pair of steps is right."""

from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import Annotated, Literal, Self

import numpy as np
from pydantic import Field, model_validator

from app.domain.draws import Draw
from app.domain.sheets import AuthoredTable, Line, Slug, repeated
from app.domain.tasks.sheets import TaskSheet

Pair = tuple[str, str]
"""The ids of two steps: the first is done before the second."""


class Step(AuthoredTable):
    """One thing to do. after: the ids of steps that come before it; because: why, for the mark's reason."""

    id: Slug
    text: Line
    after: tuple[Slug, ...] = ()
    because: Line | None = None


class OrderTask(TaskSheet):
    """Put steps in order; part points by the share of the required pairs that are kept."""

    kind: Literal["order"]
    steps: Annotated[tuple[Step, ...], Field(min_length=2, max_length=16)]

    @model_validator(mode="after")
    def _a_partial_order(self) -> Self:
        names = [step.id for step in self.steps]
        if twice := repeated(names):
            raise ValueError(f"two steps have the id {twice}; give each its own")
        for step in self.steps:
            for name in step.after:
                if name not in names:
                    raise ValueError(f"step {step.id} comes after “{name}”, which is no step here")
        if not any(step.after for step in self.steps):
            raise ValueError("no step has to come after another; say so with after = [...] on a step")
        try:
            TopologicalSorter({step.id: step.after for step in self.steps}).prepare()
        except CycleError as error:
            circle = " before ".join(error.args[1])
            raise ValueError(f"the steps go in a circle: {circle}; take one after = [...] away") from error
        return self

    @property
    def step_ids(self) -> tuple[str, ...]:
        return tuple(step.id for step in self.steps)

    def step(self, step_id: str) -> Step:
        return next(step for step in self.steps if step.id == step_id)

    @property
    def written_pairs(self) -> tuple[Pair, ...]:
        """The pairs as the author wrote them."""
        return tuple((name, step.id) for step in self.steps for name in step.after)

    @property
    def required_pairs(self) -> frozenset[Pair]:
        """Every pair that follows from the written ones too: marks don't depend on how few were written."""
        before: dict[str, set[str]] = {}
        for name in TopologicalSorter({step.id: step.after for step in self.steps}).static_order():
            after = self.step(name).after
            before[name] = set(after).union(*(before[each] for each in after))
        return frozenset((first, name) for name, earlier in before.items() for first in earlier)

    @property
    def right_order(self) -> tuple[str, ...]:
        """One right order of the ids: the author's own, with what is written too early moved back."""
        done: list[str] = []
        while len(done) < len(self.steps):
            done.append(next(s.id for s in self.steps if s.id not in done and set(s.after) <= set(done)))
        return tuple(done)

    @property
    def has_one_order(self) -> bool:
        """Whether no other order is right: each step must come before the next."""
        return self.required_pairs.issuperset(pairwise(self.right_order))

    def shown_order(self, seed: int) -> tuple[str, ...]:
        """The ids as a student sees them at first, shuffled by the variant's seed and never right.

        A shuffle that happens to be right is turned round, which breaks every pair.
        """
        draw = Draw(np.asarray(seed, dtype=np.uint64), np.asarray(0, dtype=np.uint64))
        shuffled = sorted(self.step_ids, key=lambda name: float(draw.uniform(f"tasks.{self.id}.{name}")))
        return tuple(reversed(shuffled) if not broken(self.required_pairs, shuffled) else shuffled)


def broken(pairs: frozenset[Pair] | tuple[Pair, ...], order: tuple[str, ...] | list[str]) -> list[Pair]:
    """The pairs whose second step stands before the first, in the order of their steps."""
    place = {name: number for number, name in enumerate(order)}
    wrong = [(first, second) for first, second in pairs if place[first] > place[second]]
    return sorted(wrong, key=lambda pair: (place[pair[1]], place[pair[0]]))
