"""The uniformity report of the assemblies, side by side."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from app.domain.measures import Measure
from app.domain.references import of_assembly
from app.domain.tasks import keys_of
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, amount, measurement, numbers, place, unit_of, words


@dataclass(frozen=True)
class _Row:
    """What is shown of each assembly: a quantity of the model by name, or something of its truth."""

    label: str
    measure: Measure
    name: str = ""
    of_truth: Callable[[Any], Any] | None = None


_MEASURED = (
    _Row("Assembly, first harmonic", Measure.FORCE, "force.first_n"),
    _Row("Assembly, high point", Measure.ANGLE, "force.high_deg"),
    _Row("Wheel, average runout", Measure.RUNOUT, "runout.average.first_mm"),
    _Row("Wheel, high spot", Measure.ANGLE, "runout.average.high_deg"),
    _Row("Wheel’s share of the force", Measure.FORCE, "wheel_force.first_n"),
    _Row("Tire’s share of the force", Measure.FORCE, "tire_force.first_n"),
    _Row("Tire, high point", Measure.ANGLE, "tire_force.high_deg"),
    _Row("Conicity", Measure.FORCE, of_truth=lambda truth: truth.tire.conicity_n),
)
_WITH_A_NEW_TIRE = (
    _Row("With a new tire: first harmonic", Measure.FORCE, of_truth=lambda truth: truth.replacement_first_n),
    _Row("With a new tire: conicity", Measure.FORCE, of_truth=lambda truth: truth.replacement_conicity_n),
)


def uniformity(variant: Variant, letters: Sequence[str]) -> Measured:
    """Force, runout and conicity of each assembly, and what a new tire would give where there is a limit.

    A quantity that this lab asks for is left out, so that a report never gives an answer away.
    """
    asked = {key for task in variant.scenario.tasks for key in keys_of(task)}
    limit_n = variant.truth.vehicle.first_harmonic_limit_n
    rows = [
        row
        for row in (*_MEASURED, *(() if limit_n is None else _WITH_A_NEW_TIRE))
        if not any(of_assembly(letter, row.name) in asked for letter in letters)
    ]
    caption = "Peak to peak; angles clockwise from the valve; conicity positive toward the own outboard side."
    if limit_n is not None:
        caption += f" Limit on the first harmonic: {amount(limit_n, Measure.FORCE, variant)}."
    table = Table(
        caption,
        (words("Measured"), *(numbers(letter) for letter in letters)),
        tuple(_cells(row, variant, letters) for row in rows),
    )
    return measurement("Uniformity report", (), [table])


def _cells(row: _Row, variant: Variant, letters: Sequence[str]) -> tuple[str, ...]:
    values = [_value(row, variant, letter) for letter in letters]
    if row.measure is Measure.ANGLE:
        return row.label, *(place(value, variant) for value in values)
    unit = unit_of(row.measure, variant)
    return f"{row.label}, {unit}", *(
        amount(value, row.measure, variant).removesuffix(unit).rstrip() for value in values
    )


def _value(row: _Row, variant: Variant, letter: str) -> float:
    if row.of_truth is not None:
        return float(row.of_truth(variant.truth.assemblies[letter]))
    return float(variant.model.assembly(letter).value(row.name))
