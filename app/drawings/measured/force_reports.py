"""Reports of the load roller: harmonics and their limits, and a tire measured in two places on its wheel."""

from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.variants import Variant
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
from app.drawings.spots import Vector
from app.drawings.vector_plot import vector_plot

HARMONICS = {
    "force.total_n": "Total",
    "force.first_n": "First harmonic",
    "force.second_n": "Second harmonic",
}


def force_report(variant: Variant, letters: Sequence[str]) -> Measured:
    """Total, first and second harmonic of each assembly's force, and the limits of the job card."""
    vehicle = variant.truth.vehicle
    limits = [
        f"{name} {amount(limit, Measure.FORCE, variant)}"
        for name, limit in (
            ("total", vehicle.total_force_limit_n),
            ("first harmonic", vehicle.first_harmonic_limit_n),
        )
        if limit is not None
    ]
    caption = "Radial force variation, sizes from peak to peak."
    if limits:
        caption += f" Limits: {', '.join(limits)}."
    unit = unit_of(Measure.FORCE, variant)
    rows = tuple(
        (
            f"Assembly {letter}",
            *(
                number(variant.model.assembly(letter).value(name), Measure.FORCE, variant)
                for name in HARMONICS
            ),
        )
        for letter in letters
    )
    heads = (words("What"), *(numbers(label, unit) for label in HARMONICS.values()))
    return measurement("The load roller’s report", (), [Table(caption, heads, rows)])


def two_measurements(variant: Variant, letters: Sequence[str]) -> Measured:
    """The first harmonic of force before and after the tire was turned on its wheel."""
    drawings, rows = [], []
    unit = unit_of(Measure.FORCE, variant)
    for letter in letters:
        turned = f"{float(variant.truth.assemblies[letter].tire.turned_deg):g}°"
        view = variant.model.assembly(letter)
        measured = {
            "first": ("force", "as it came in"),
            "second": ("turned", f"tire turned {turned} clockwise"),
        }
        vectors = []
        for tag, (name, how) in measured.items():
            size, at = (view.value(f"{name}.{part}") for part in ("first_n", "high_deg"))
            style = "computed" if name == "force" else "other"
            label = f"{tag} measurement, {amount(size, Measure.FORCE, variant)}"
            vectors.append(
                Vector(
                    label,
                    in_unit(size, Measure.FORCE, variant.units),
                    float(at),
                    style,
                    place(at, variant),
                    tag[0].upper(),
                )
            )
            rows.append(
                (
                    of(letter, variant, f"{tag} measurement"),
                    how,
                    number(size, Measure.FORCE, variant),
                    place(at, variant),
                )
            )
        drawings.append(
            vector_plot(vectors, unit=unit, title=of(letter, variant, "first harmonic of force, twice"))
        )
    table = Table(
        "First harmonic of radial force, from peak to peak; angles on the wheel, clockwise from the valve",
        (words("Measurement"), words("How"), numbers("First harmonic", unit), numbers("High point")),
        tuple(rows),
    )
    return measurement("Force measured twice", drawings, [table])
