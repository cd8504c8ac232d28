"""The steady lateral force of each tire, rolled in both directions on the machine."""

from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.model.lateral import clockwise_n, counterclockwise_n
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.lateral_arrows import Push, lateral_arrows
from app.drawings.measured.parts import (
    Measured,
    Table,
    amount,
    in_unit,
    measurement,
    number,
    numbers,
    of,
    unit_of,
    words,
)


def lateral_forces(variant: Variant, letters: Sequence[str]) -> Measured:
    """Mean lateral force clockwise and counterclockwise, positive toward the tire's own outboard sidewall."""
    unit = unit_of(Measure.FORCE, variant)
    rows = []
    drawings = []
    for letter in letters:
        view = variant.model.assembly(letter)
        forces_n = (float(clockwise_n(view)), float(counterclockwise_n(view)))
        rows.append((letter, *(number(force_n, Measure.FORCE, variant) for force_n in forces_n)))
        drawings.append(_arrows(variant, letter, forces_n))
    table = Table(
        "Mean lateral force, positive toward the tire’s own outboard sidewall. Rotation seen from outboard.",
        (words("Assembly"), numbers("Clockwise", unit), numbers("Counterclockwise", unit)),
        tuple(rows),
    )
    return measurement("Lateral force on the machine", drawings, [table])


def _arrows(variant: Variant, letter: str, forces_n: tuple[float, float]) -> Drawing:
    return lateral_arrows(
        [
            Push(way, in_unit(force_n, Measure.FORCE, variant.units), amount(force_n, Measure.FORCE, variant))
            for way, force_n in zip(("clockwise", "counterclockwise"), forces_n, strict=True)
        ],
        title=of(letter, variant, "lateral force in both directions"),
    )
