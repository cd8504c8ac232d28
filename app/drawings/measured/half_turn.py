"""The half-turn test on the balancer: what it reports before and after half a turn on the shaft."""

import math
from collections.abc import Sequence

from app.compute import units
from app.domain.measures import Measure, UnitSystem
from app.domain.truth import PLANES
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.measured.balance import TAGS, by_plane, share_of_tire
from app.drawings.measured.parts import (
    Measured,
    Table,
    amount,
    measurement,
    numbers,
    of,
    of_these,
    place,
    words,
)
from app.drawings.spots import Spot
from app.drawings.wheel_face import wheel_face

SPINS = {"first": "as clamped first", "second": "after half a turn on the shaft"}


def half_turn(variant: Variant, letters: Sequence[str]) -> Measured:
    """The heavy spots of both spins in wheel angles, and what each assembly weighs."""
    drawings: list[Drawing] = [
        _face(variant, letter, spin, words_of) for letter in letters for spin, words_of in SPINS.items()
    ]
    weights = tuple(
        (f"Assembly {letter}", _on_the_scales(variant, variant.truth.assemblies[letter].bench.sheet.mass_kg))
        for letter in letters
    )
    tables = [
        by_plane(
            variant,
            letters,
            of_these(letters, variant, f"heavy spot in each plane, {words_of}"),
            f"half_turn.{spin}",
        )
        for spin, words_of in SPINS.items()
    ]
    return measurement(
        "The half-turn test",
        drawings,
        [
            *tables,
            Table(of_these(letters, variant, "on the scales"), (words("What"), numbers("Mass")), weights),
        ],
    )


def _on_the_scales(variant: Variant, mass_kg: float) -> str:
    if variant.units is UnitSystem.METRIC:
        return f"{mass_kg:.1f} kg"
    return f"{float(units.convert(mass_kg, 'kg', 'lb')):.1f} lb"


def _face(variant: Variant, letter: str, spin: str, words_of: str) -> Drawing:
    view, truth = variant.model.assembly(letter), variant.truth.assemblies[letter]
    spots = [
        Spot(
            "heavy-spot",
            float(at),
            f"{plane}, {amount(view.value(f'half_turn.{spin}.{plane}.mass_g'), Measure.MASS, variant)}",
            place(at, variant),
            radius=share_of_tire(truth, radius_mm),
            tag=TAGS[plane],
        )
        for plane, radius_mm in zip(PLANES, truth.wheel.plane_radius_mm, strict=True)
        if not math.isnan(at := float(view.value(f"half_turn.{spin}.{plane}.angle_deg")))
    ]
    return wheel_face(spots, title=of(letter, variant, words_of))
