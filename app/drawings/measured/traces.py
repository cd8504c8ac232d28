"""Measurements around one turn: dial readings on the bead seats, and the force on a load roller."""

from collections.abc import Mapping, Sequence

import numpy as np

from app.compute.runout import reading_angles
from app.domain.measures import Measure, UnitSystem
from app.domain.model.runout import dial_readings_mm, force_readings_n
from app.domain.truth import PLANES
from app.domain.variants import Variant
from app.drawings.dial_readings import Series, dial_readings
from app.drawings.drawing import Drawing
from app.drawings.force_trace import force_trace
from app.drawings.measured.parts import (
    MINUS,
    Measured,
    Table,
    amount,
    angle,
    clock,
    in_unit,
    measurement,
    number,
    numbers,
    of,
    unit_of,
)

FORCE_DECIMALS = {UnitSystem.METRIC: 0, UnitSystem.US: 1}
"""The roller's readings are whole newtons, or fifths of a pound-force: nothing finer is shown."""


def bead_seats(variant: Variant, letters: Sequence[str]) -> Measured:
    """A dial indicator's readings on both bead seats, zero at the valve, with cosines and sines."""
    unit = unit_of(Measure.RUNOUT, variant)
    drawings: list[Drawing] = []
    tables: list[Table] = []
    for letter in letters:
        view = variant.model.assembly(letter)
        readings = [dial_readings_mm(view, plane) for plane in PLANES]
        series = [
            Series(
                f"{plane} bead seat",
                tuple(in_unit(value, Measure.RUNOUT, variant.units) for value in values),
                tuple(amount(value, Measure.RUNOUT, variant) for value in values),
            )
            for plane, values in zip(PLANES, readings, strict=True)
        ]
        drawings.append(
            dial_readings(series, unit=unit, title=of(letter, variant, "radial runout of the bead seats"))
        )
        tables.append(
            around_the_dial(
                variant,
                of(letter, variant, "dial readings, zero at the valve, positive away from the axle"),
                {"Inboard": readings[0], "Outboard": readings[1]},
            )
        )
    return measurement("Bead seats under the dial indicator", drawings, tables)


def around_the_dial(variant: Variant, caption: str, readings: Mapping[str, Sequence[float]]) -> Table:
    """Columns of dial readings by their head, each row with the cosine and sine of its angle."""
    unit = unit_of(Measure.RUNOUT, variant)
    columns = [[number(value, Measure.RUNOUT, variant) for value in values] for values in readings.values()]
    return Table(
        caption,
        (
            numbers("Angle"),
            numbers("Clock"),
            *(numbers(head, unit) for head in readings),
            numbers("Cosine"),
            numbers("Sine"),
        ),
        tuple(
            (angle(at, variant), clock(at), *values, _share(np.cos(t)), _share(np.sin(t)))
            for at, t, *values in zip(*_angles(len(columns[0])), *columns, strict=True)
        ),
    )


def force_trace_of(variant: Variant, letters: Sequence[str]) -> Measured:
    """The radial force over one turn. Its total and its harmonics are for the student to work out."""
    unit, decimals = unit_of(Measure.FORCE, variant), FORCE_DECIMALS[variant.units]
    drawings: list[Drawing] = []
    tables: list[Table] = []
    for letter in letters:
        readings = force_readings_n(variant.model.assembly(letter))
        degrees, turned = _angles(len(readings))
        drawings.append(
            force_trace(
                tuple(float(at) for at in degrees),
                tuple(in_unit(value, Measure.FORCE, variant.units) for value in readings),
                unit=unit,
                total_text="greatest less least",
                title=of(letter, variant, "radial force over one turn"),
            )
        )
        tables.append(
            Table(
                of(letter, variant, "radial force on the load roller"),
                (
                    numbers("Angle"),
                    numbers("Clock"),
                    numbers("Force", unit),
                    numbers("Cosine"),
                    numbers("Sine"),
                ),
                tuple(
                    (
                        angle(at, variant),
                        clock(at),
                        number(value, Measure.FORCE, variant, decimals=decimals),
                        _share(np.cos(t)),
                        _share(np.sin(t)),
                    )
                    for at, t, value in zip(degrees, turned, readings, strict=True)
                ),
            )
        )
    return measurement("Radial force over one turn", drawings, tables)


def _angles(count: int) -> tuple[np.ndarray, np.ndarray]:
    """The angles of equally spaced readings in degrees and in radians."""
    degrees = reading_angles(count)
    return degrees, np.deg2rad(degrees)


def _share(value: float) -> str:
    return f"{round(value, 3) + 0.0:.3f}".replace("-", MINUS)
