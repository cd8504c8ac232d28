"""Worked solutions with a student's own numbers: what the answer is reckoned from, step by step.

Each step says the formula in words, puts the numbers in, and gives the result in the class's units. Formulas
stand in `formulas`; where there is none, the step names what the model read for the quantity.
"""

import re
from collections.abc import Iterator

import numpy as np

from app.domain.arithmetic import references_in
from app.domain.marking.words import option_text
from app.domain.measures import Measure
from app.domain.model import quantity_of
from app.domain.model.reckoning import NOT_NUMBERS
from app.domain.references import UnknownReference, is_reference, of_assembly, split_reference
from app.domain.solutions.formulas import DIRECTION_OF, SHOWN_BY, formula_of
from app.domain.solutions.given import Given, in_parentheses, put_in, written
from app.domain.solutions.givens import given
from app.domain.solutions.placing import placement_step
from app.domain.solutions.step import SolutionStep
from app.domain.tasks import AnyTask, ChoiceTask, PlacementTask, keys_of
from app.domain.variants import Variant

MOST_STEPS = 14
"""A longer way is cut at its beginning: what is nearest to the answer explains most."""

_NAME = re.compile(r"\{(@?)([^}]+)\}")
_SIZES = ("mass_g", "first_n", "first_mm", "size_gmm", "reading")
_ANGLES = ("angle_deg", "high_deg")


def worked_solution(variant: Variant, task: AnyTask) -> tuple[SolutionStep, ...]:
    """The steps to a task's right answer; none where it doesn't come from the student's numbers."""
    solver = _Solver(variant, _asked_before(variant, task))
    for key in keys_of(task):
        solver.solve(key)
    if isinstance(task, PlacementTask):
        solver.steps.append(placement_step(variant, task))
    return tuple(solver.steps[-MOST_STEPS:])


def _asked_before(variant: Variant, task: AnyTask) -> set[str]:
    """What earlier tasks ask for: it was worked out there."""
    tasks = variant.scenario.tasks
    return {key for each in tasks[: tasks.index(task)] for key in keys_of(each)}


class _Solver:
    """Collects steps, inputs before what follows from them, each quantity once."""

    def __init__(self, variant: Variant, known: set[str]) -> None:
        self.variant = variant
        self.known = known
        self.steps: list[SolutionStep] = []
        self._solved: set[str] = set()
        self._shown = [
            (shown.assemblies or variant.scenario.assembly_ids, SHOWN_BY[shown.kind])
            for part in variant.scenario.lab_parts
            for shown in part.shows
            if shown.kind in SHOWN_BY
        ]

    def solve(self, key: str) -> None:
        if key in self._solved:
            return
        self._solved.add(key)
        for reference in self._inputs(key):
            if reference not in self.known and not self._is_shown(reference):
                self.solve(reference)
        if quantity_of(key).measure is Measure.PLACEMENT:
            return  # a step of its own names the best arrangement
        formula = self._formula(key)
        if formula and not self._is_taken_over(key):
            letter = split_reference(key)[0] if is_reference(key) else None
            self.steps.append(
                SolutionStep(
                    what=self._words(key),
                    in_words=_NAME.sub(lambda name: self._in_words(name, letter), formula),
                    put_in=_NAME.sub(lambda name: self._in_numbers(name, letter), formula),
                    result=self._value(key),
                )
            )

    def _inputs(self, key: str) -> Iterator[str]:
        """What has to be known first: what the formula names, else what the model read."""
        if not is_reference(key):
            yield from references_in(key)
            return
        letter, _ = split_reference(key)
        formula = self._formula_of(key)
        if formula is None:
            yield from self.variant.model.inputs(key)
            return
        for arrow, stem in _NAME.findall(formula):
            for each in _of_arrow(stem) if arrow else (stem,):
                if is_reference(each):
                    yield each
                elif letter and _is_quantity(letter, each):
                    yield of_assembly(letter, each)

    def _formula(self, key: str) -> str:
        """The formula with full references in its braces; empty where nothing is reckoned."""
        if not is_reference(key):
            text = key
            for reference in sorted(references_in(key), key=len, reverse=True):
                text = re.sub(rf"(?<![\w{{.\]]){re.escape(reference)}(?![\w.])", f"{{{reference}}}", text)
            return text.replace("*", "×").replace("/", "÷").replace(" - ", " − ")
        if (formula := self._formula_of(key)) is not None:
            return formula
        inputs = self.variant.model.inputs(key)
        return "follows from " + ", ".join(f"{{{each}}}" for each in inputs) if inputs else ""

    def _formula_of(self, key: str) -> str | None:
        """The formula of a reference with the letters of this scenario; None where there is none."""
        letter, name = split_reference(key)
        formula = formula_of(name if letter else key)
        for place, each in enumerate(self.variant.scenario.assembly_ids, 1):
            formula = formula and formula.replace(f"assembly[{place}]", f"assembly[{each}]")
        return formula

    def _is_taken_over(self, key: str) -> bool:
        """Whether it is only another quantity under another name: nothing was reckoned."""
        if not is_reference(key) or self._formula_of(key) is not None:
            return False
        inputs = self.variant.model.inputs(key)
        return len(inputs) == 1 and self._value(inputs[0]) == self._value(key)

    def _is_shown(self, reference: str) -> bool:
        letter, name = split_reference(reference)
        return any(letter in letters and re.fullmatch(names, name) for letters, names in self._shown)

    def _reference(self, name: str, letter: str | None) -> str:
        return name if is_reference(name) else of_assembly(str(letter), name)

    def _given(self, name: str, letter: str | None) -> Given | None:
        """What the job gives; of the car's, the first assembly stands for all."""
        return given(self.variant.model.assembly(letter or self.variant.scenario.assembly_ids[0]), name)

    def _in_words(self, found: re.Match[str], letter: str | None) -> str:
        arrow, name = found.groups()
        if arrow:
            size, _ = _of_arrow(name)
            return f"({self._words(self._reference(size, letter))}, with its direction)"
        if (known := self._given(name, letter)) is not None:
            return known.words
        return self._words(self._reference(name, letter))

    def _in_numbers(self, found: re.Match[str], letter: str | None) -> str:
        arrow, name = found.groups()
        if arrow:
            size, angle = (self._put_in(self._reference(each, letter)) for each in _of_arrow(name))
            return f"({size} at {angle})"
        if (known := self._given(name, letter)) is not None:
            return in_parentheses(known.shown)
        return in_parentheses(self._put_in(self._reference(name, letter)))

    def _words(self, key: str) -> str:
        if not is_reference(key):
            return "what is asked for"
        letter, _ = split_reference(key)
        whose = f" ({letter})" if letter and len(self.variant.scenario.assemblies) > 1 else ""
        return f"{quantity_of(key).words}{whose}"

    def _value(self, key: str) -> str:
        measure, value = quantity_of(key).measure, self.variant.model.value(key)
        if measure is Measure.SEVERAL:
            letters = zip(self.variant.scenario.assembly_ids, np.asarray(value), strict=True)
            return ", ".join(letter for letter, holds in letters if holds) or "none of them"
        if measure in NOT_NUMBERS:
            return self._option(key, str(value))
        return written(value, measure, self.variant.units)

    def _put_in(self, key: str) -> str:
        """As it stands in a formula: what a measurement shows as it is shown there."""
        measure = quantity_of(key).measure
        if measure in NOT_NUMBERS or self._is_shown(key):
            return self._value(key)
        return put_in(self.variant.model.value(key), measure, self.variant.units)

    def _option(self, key: str, value: str) -> str:
        """A choice in the words of the task that asks for it."""
        for task in self.variant.scenario.tasks:
            if isinstance(task, ChoiceTask) and task.key == key:
                return f"“{option_text(task, value)}”"
        return value


def _of_arrow(stem: str) -> tuple[str, str]:
    """The names of an arrow's size and of its direction."""
    size = next(f"{stem}.{name}" for name in _SIZES if _is_quantity("A", f"{stem}.{name}"))
    if stem in DIRECTION_OF:
        return size, DIRECTION_OF[stem]
    return size, next(f"{stem}.{name}" for name in _ANGLES if _is_quantity("A", f"{stem}.{name}"))


def _is_quantity(letter: str, name: str) -> bool:
    try:
        quantity_of(of_assembly(letter, name))
    except UnknownReference:
        return False
    return True


__all__ = ["SolutionStep", "worked_solution"]
