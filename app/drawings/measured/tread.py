"""Radial runout at the tread: a dial's readings, or the first harmonics of two mountings on the hub."""

import math
from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.model.tread import AS_FOUND, TURNED, tread_readings_mm
from app.domain.variants import Variant
from app.drawings.dial_readings import Series, dial_readings
from app.drawings.measured.parts import (
    NONE,
    Measured,
    Table,
    amount,
    in_unit,
    measurement,
    number,
    numbers,
    of,
    of_these,
    place,
    unit_of,
    words,
)
from app.drawings.measured.traces import around_the_dial
from app.drawings.spots import Vector
from app.drawings.vector_plot import vector_plot

AVERAGE = "runout.average"
MEASURED_ON_THE_HUB = (
    (AS_FOUND, "1", "computed", "tread, as it stood on the hub"),
    (TURNED, "2", "other", "tread, after half a turn on the hub"),
    (AVERAGE, "W", "own", "bead seats, average of both"),
)
"""What is measured by its name in the model, with its tag and its arrow."""


def tread(variant: Variant, letters: Sequence[str]) -> Measured:
    """A dial indicator's readings on each tread, zero at the valve."""
    unit = unit_of(Measure.RUNOUT, variant)
    drawings, tables = [], []
    for letter in letters:
        readings = tread_readings_mm(variant.model.assembly(letter), AS_FOUND)
        drawings.append(
            dial_readings(
                [
                    Series(
                        "tread",
                        tuple(in_unit(value, Measure.RUNOUT, variant.units) for value in readings),
                        tuple(amount(value, Measure.RUNOUT, variant) for value in readings),
                        tag=letter,
                    )
                ],
                unit=unit,
                title=of(letter, variant, "radial runout of the tread"),
            )
        )
        tables.append(
            around_the_dial(
                variant,
                of(
                    letter,
                    variant,
                    "dial readings on the tread, zero at the valve, positive away from the axle",
                ),
                {"Reading": readings},
            )
        )
    return measurement("Treads under the dial indicator", drawings, tables)


def tread_on_the_hub(variant: Variant, letters: Sequence[str]) -> Measured:
    """The tread's runout in both mountings, and the wheel's own from its bead seats: first harmonics."""
    unit = unit_of(Measure.RUNOUT, variant)
    drawings, rows = [], []
    for letter in letters:
        view = variant.model.assembly(letter)
        vectors = []
        for name, tag, style, where in MEASURED_ON_THE_HUB:
            size_mm, at_deg = (float(view.value(f"{name}.{part}")) for part in ("first_mm", "high_deg"))
            size = amount(size_mm, Measure.RUNOUT, variant)
            vectors.append(
                Vector(
                    f"{where}, {size}",
                    in_unit(size_mm, Measure.RUNOUT, variant.units),
                    None if math.isnan(at_deg) else at_deg,
                    style,
                    place(at_deg, variant),
                    tag,
                )
            )
            rows.append(
                (
                    of(letter, variant, f"{tag} {where}"),
                    NONE
                    if name == AVERAGE
                    else number(view.value(f"{name}.total_mm"), Measure.RUNOUT, variant),
                    number(size_mm, Measure.RUNOUT, variant),
                    place(at_deg, variant),
                )
            )
        drawings.append(
            vector_plot(vectors, unit=unit, title=of(letter, variant, "first harmonics of runout"))
        )
    table = Table(
        of_these(letters, variant, "runout from peak to peak, high spots clockwise from the valve"),
        (words("Where"), numbers("Total", unit), numbers("First harmonic", unit), numbers("High spot")),
        tuple(rows),
    )
    return measurement("The tread on the hub, measured twice", drawings, [table])
