"""Radial runout at the tread: a dial's readings, or the first harmonics of two mountings on the hub."""

from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.model.tread import AS_FOUND, TURNED, tread_readings_mm
from app.domain.variants import Variant
from app.drawings.dial_readings import Series, dial_readings
from app.drawings.measured.parts import (
    Measured,
    Table,
    amount,
    in_unit,
    measurement,
    number,
    numbers,
    of,
    place,
    unit_of,
    words,
)
from app.drawings.measured.traces import around_the_dial

HOW_MOUNTED = {AS_FOUND: "as it stood on the hub", TURNED: "after half a turn on the hub"}


def tread(variant: Variant, letters: Sequence[str]) -> Measured:
    """A dial indicator's readings on each tread, zero at the valve."""
    unit = unit_of(Measure.RUNOUT, variant)
    drawings, tables = [], []
    for letter in letters:
        readings = tread_readings_mm(variant.model.assembly(letter), AS_FOUND)
        drawings.append(
            dial_readings(
                [_series(variant, "tread", readings)],
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


def _series(variant: Variant, name: str, readings: Sequence[float]) -> Series:
    return Series(
        name,
        tuple(in_unit(value, Measure.RUNOUT, variant.units) for value in readings),
        tuple(amount(value, Measure.RUNOUT, variant) for value in readings),
    )


def tread_on_the_hub(variant: Variant, letters: Sequence[str]) -> Measured:
    """The tread's runout in both mountings, and the wheel's own from its bead seats: first harmonics."""
    unit = unit_of(Measure.RUNOUT, variant)
    drawings, rows = [], []
    for letter in letters:
        view = variant.model.assembly(letter)
        drawings.append(
            dial_readings(
                [
                    _series(variant, words_of, tread_readings_mm(view, how))
                    for how, words_of in HOW_MOUNTED.items()
                ],
                unit=unit,
                title=of(letter, variant, "radial runout of the tread, twice"),
            )
        )
        rows += [
            (
                of(letter, variant, f"tread, {words_of}"),
                number(view.value(f"{how}.total_mm"), Measure.RUNOUT, variant),
                number(view.value(f"{how}.first_mm"), Measure.RUNOUT, variant),
                place(view.value(f"{how}.high_deg"), variant),
            )
            for how, words_of in HOW_MOUNTED.items()
        ]
        rows.append(
            (
                of(letter, variant, "bead seats, average of both"),
                "–",
                number(view.value("runout.average.first_mm"), Measure.RUNOUT, variant),
                place(view.value("runout.average.high_deg"), variant),
            )
        )
    table = Table(
        "Runout: sizes from peak to peak, high spots clockwise from the valve",
        (words("Where"), numbers("Total", unit), numbers("First harmonic", unit), numbers("High spot")),
        tuple(rows),
    )
    return measurement("The tread on the hub, measured twice", drawings, [table])
