"""The car as it came in: where its assemblies stood, with what was measured on each."""

from collections.abc import Callable, Mapping, Sequence

from app.compute import units
from app.compute.placement import POSITIONS
from app.domain.measures import Measure, UnitSystem
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.measured.parts import (
    MINUS,
    Measured,
    Table,
    amount,
    measurement,
    number,
    numbers,
    unit_of,
    words,
)
from app.drawings.vehicle_plan import POSITIONS as POSITION_WORDS
from app.drawings.vehicle_plan import Corner, vehicle_plan

NO_BREAK = "\N{NO-BREAK SPACE}"


def as_it_came(variant: Variant, letters: Sequence[str]) -> Measured:
    """First harmonic and conicity of the assembly at each corner, in the order of their letters."""

    def values(letter: str) -> tuple[str, ...]:
        first_n, conicity_n = _forces_n(variant, letter)
        return (
            amount(first_n, Measure.FORCE, variant),
            f"conicity {amount(conicity_n, Measure.FORCE, variant).replace(' ', NO_BREAK)}",
        )

    table = _forces_table(variant, dict(zip(letters, POSITIONS, strict=False)))
    return measurement(
        "As it came in", [_plan(variant, letters, values, "The vehicle as it came in")], [table]
    )


def force_and_conicity(variant: Variant, letters: Sequence[str]) -> Measured:
    """First harmonic and conicity of each assembly, wherever it stood."""
    return measurement("Force variation and conicity", (), [_forces_table(variant, dict.fromkeys(letters))])


def _forces_table(variant: Variant, stood: Mapping[str, str | None]) -> Table:
    """stood: the position at which each assembly came in; None where that isn't told."""
    unit = unit_of(Measure.FORCE, variant)
    is_told = any(stood.values())
    rows = [
        (
            letter,
            *((POSITION_WORDS[position],) if position else ()),
            *(number(force_n, Measure.FORCE, variant) for force_n in _forces_n(variant, letter)),
        )
        for letter, position in stood.items()
    ]
    heads = [words("Assembly"), numbers("First harmonic", unit), numbers("Conicity", unit)]
    if is_told:
        heads.insert(1, words("Stood"))
    return Table(
        "First harmonic of radial force, peak to peak; conicity, positive toward the own outboard side",
        tuple(heads),
        tuple(rows),
    )


def _forces_n(variant: Variant, letter: str) -> tuple[float, float]:
    view = variant.model.assembly(letter)
    return float(view.value("placed.first_n")), float(view.value("placed.conicity_n"))


def pressures(variant: Variant, letters: Sequence[str]) -> Measured:
    """What the gauge shows on each assembly, and the two temperatures."""
    air = variant.truth.vehicle.temperature
    found = {letter: float(variant.model.assembly(letter).value("pressure.found_kpa")) for letter in letters}
    unit = unit_of(Measure.PRESSURE, variant)
    tables = [
        Table(
            "Gauge pressure",
            (words("Assembly"), words("Stands"), numbers("Gauge", unit)),
            tuple(
                (letter, POSITION_WORDS[position], number(found[letter], Measure.PRESSURE, variant))
                for position, letter in zip(POSITIONS, letters, strict=False)
            ),
        )
    ]
    if air is not None:
        tables.append(
            Table(
                "Temperature of the air in the tires, and pressure of the air outside",
                (words("When"), words("Is")),
                (
                    ("In the shop, as measured", temperature(float(air.set_c), variant)),
                    ("Tomorrow morning, outside", temperature(float(air.at_c), variant)),
                    ("Air outside, absolute", amount(air.ambient_kpa, Measure.PRESSURE, variant)),
                ),
            )
        )

    def values(letter: str) -> tuple[str, ...]:
        return (amount(found[letter], Measure.PRESSURE, variant),)

    # One assembly alone needs no plan of where it stands.
    plans = [_plan(variant, letters, values, "Gauge pressure at each corner")] if len(letters) > 1 else []
    return measurement("Pressures", plans, tables)


def temperature(celsius: float, variant: Variant) -> str:
    """A temperature in the class's unit with a true minus sign, and as an absolute one."""
    unit, absolute = ("C", "K") if variant.units is UnitSystem.METRIC else ("F", "R")
    shown = float(units.convert(celsius, "C", unit))
    kelvin = float(units.convert(celsius, "C", "K"))
    degrees = f"{shown:.0f}".replace("-", MINUS)
    if absolute == "K":
        return f"{degrees} °C ({kelvin:.0f} K absolute)"
    return f"{degrees} °F ({shown + RANKINE_AT_0_F:.0f} °R absolute)"


RANKINE_AT_0_F = float(units.convert(0.0, "F", "K")) * 9 / 5
"""Degrees Fahrenheit above absolute zero at 0 °F."""


def _plan(
    variant: Variant, letters: Sequence[str], values: Callable[[str], tuple[str, ...]], title: str
) -> Drawing:
    return vehicle_plan(
        [
            Corner(position, letter, values(letter))
            for position, letter in zip(POSITIONS, letters, strict=False)
        ],
        driver_side=variant.truth.vehicle.drive_side,
        title=title,
    )
