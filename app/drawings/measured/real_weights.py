"""Measurements for real weights: the lip and its clips, and a weight that has to hide behind spokes."""

from collections.abc import Sequence

from app.compute import weight_clips
from app.domain.measures import Measure
from app.domain.model.shelf import spokes_of
from app.domain.variants import Variant
from app.drawings.measured.balance import shelf
from app.drawings.measured.parts import (
    Measured,
    Table,
    amount,
    angle,
    clock,
    measurement,
    number,
    numbers,
    of,
    place,
    unit_of,
    words,
)
from app.drawings.spots import Spot
from app.drawings.wheel_face import wheel_face

INSIDE_THE_RIM = 0.52
"""Where an adhesive weight is drawn on the wheel's face, as a share of the tread's radius."""


def flange(variant: Variant, letters: Sequence[str]) -> Measured:
    """How thick each rim's lip is, and which lips each clip fits (SAE J1986)."""
    unit = unit_of(Measure.RUNOUT, variant)
    lips_mm = {letter: float(variant.truth.assemblies[letter].bench.flange_mm) for letter in letters}
    lips = tuple(
        (f"Assembly {letter}", number(lip_mm, Measure.RUNOUT, variant)) for letter, lip_mm in lips_mm.items()
    )
    clips = tuple(
        (
            clip.name,
            number(clip.thinnest_mm, Measure.RUNOUT, variant),
            number(clip.thickest_mm, Measure.RUNOUT, variant),
        )
        for clip in weight_clips.CLIPS
    )
    return measurement(
        "The lip of the rim",
        (),
        [
            Table("Measured with a caliper", (words("Rim"), numbers("Lip", unit)), lips),
            Table(
                "Lips that each clip fits", (words("Clip"), numbers("From", unit), numbers("To", unit)), clips
            ),
        ],
    )


def spokes(variant: Variant, letters: Sequence[str]) -> Measured:
    """The wheel's spokes, and where between them the outboard adhesive weight is asked for."""
    drawings, rows = [], []
    for letter in letters:
        view = variant.model.assembly(letter)
        count = spokes_of(view)
        mass_g, at_deg = (view.value(f"correction.outboard.{name}") for name in ("mass_g", "angle_deg"))
        spot = Spot(
            "weight",
            float(at_deg),
            f"outboard weight asked for, {amount(mass_g, Measure.MASS, variant)}",
            place(at_deg, variant),
            radius=INSIDE_THE_RIM,
            tag="OUT",
        )
        drawings.append(
            wheel_face(
                [spot],
                spokes=count,
                title=of(letter, variant, "the spokes, and where the weight is asked for"),
            )
        )
        rows.append(
            (
                of(letter, variant, "OUT outboard"),
                number(mass_g, Measure.MASS, variant),
                angle(at_deg, variant),
                clock(at_deg),
                str(count),
            )
        )
    heads = (
        words("Weight"),
        numbers("Mass", unit_of(Measure.MASS, variant)),
        numbers("Angle"),
        numbers("Clock"),
        numbers("Spokes"),
    )
    caption = "The weight asked for. The spokes stand evenly; the valve is half-way between two of them."
    return measurement(
        "Behind the spokes",
        drawings,
        [Table(caption, heads, tuple(rows)), shelf(variant, "Adhesive weights")],
    )
