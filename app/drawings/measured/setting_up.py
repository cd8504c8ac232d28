"""Measurements of setting up on the balancer: cones and bore, rim width, a wrong diameter, the label."""

from collections.abc import Sequence

from app.compute.constants import INCH_MM
from app.domain.measures import Measure
from app.domain.model.dimensions import entered_radius_mm
from app.domain.truth import PLANES
from app.domain.variants import Variant
from app.drawings.cone_board import Cone, cone_board
from app.drawings.drawing import Drawing
from app.drawings.measured.balance import TAGS, by_plane, planes_of, share_of_tire
from app.drawings.measured.parts import (
    Measured,
    Table,
    amount,
    measurement,
    number,
    numbers,
    of,
    place,
    unit_of,
    words,
)
from app.drawings.rim_width import rim_width
from app.drawings.section_view import section_view
from app.drawings.spots import Spot
from app.drawings.wheel_face import wheel_face


def cones(variant: Variant, letters: Sequence[str]) -> Measured:
    """The bore of each wheel, and the cones on the board from their thin to their thick end."""
    board = variant.truth.machine.cones
    unit = unit_of(Measure.RUNOUT, variant)
    drawn = [
        Cone(
            cone.id,
            cone.min_mm,
            cone.max_mm,
            amount(cone.min_mm, Measure.RUNOUT, variant),
            amount(cone.max_mm, Measure.RUNOUT, variant),
        )
        for cone in board
    ]
    bores_mm = {letter: float(variant.truth.assemblies[letter].bench.bore_mm) for letter in letters}
    return measurement(
        "Cones and bore",
        [
            cone_board(
                drawn,
                bore_mm,
                amount(bore_mm, Measure.RUNOUT, variant),
                title=of(letter, variant, "bore of the wheel, and the cones on the board"),
            )
            for letter, bore_mm in bores_mm.items()
        ],
        [
            Table(
                "Bore, measured with a caliper",
                (words("Wheel"), numbers("Bore", unit)),
                tuple(
                    (f"Assembly {letter}", number(bore_mm, Measure.RUNOUT, variant))
                    for letter, bore_mm in bores_mm.items()
                ),
            ),
            Table(
                "Cones on the board",
                (words("Cone"), numbers("Thin end", unit), numbers("Thick end", unit)),
                tuple(
                    (
                        cone.id,
                        number(cone.min_mm, Measure.RUNOUT, variant),
                        number(cone.max_mm, Measure.RUNOUT, variant),
                    )
                    for cone in board
                ),
            ),
        ],
    )


def rim(variant: Variant, letters: Sequence[str]) -> Measured:
    """The width across the outside of both flanges, and how thick a lip is."""
    unit = unit_of(Measure.RUNOUT, variant)
    sizes_mm = {
        letter: (
            float(variant.model.assembly(letter).value("outside_width.mm")),
            float(variant.truth.assemblies[letter].bench.flange_mm),
        )
        for letter in letters
    }
    return measurement(
        "The rim under the caliper",
        [
            rim_width(
                *(amount(size, Measure.RUNOUT, variant) for size in sizes),
                title=of(letter, variant, "the rim, measured across the outside"),
            )
            for letter, sizes in sizes_mm.items()
        ],
        [
            Table(
                "Measured with a caliper",
                (words("Rim"), numbers("Across the outside", unit), numbers("Thickness of a lip", unit)),
                tuple(
                    (f"Assembly {letter}", *(number(size, Measure.RUNOUT, variant) for size in sizes))
                    for letter, sizes in sizes_mm.items()
                ),
            )
        ],
    )


def entered_diameter(variant: Variant, letters: Sequence[str]) -> Measured:
    """The true radius of the planes beside the one that was typed in, and the weights asked for then."""
    drawings: list[Drawing] = []
    diameters = []
    for letter in letters:
        truth = variant.truth.assemblies[letter]
        typed_mm = entered_radius_mm(variant.model.assembly(letter))
        drawings.append(
            section_view(
                planes_of(variant, truth.wheel.plane_z_mm, truth.wheel.plane_radius_mm),
                entered=planes_of(variant, truth.wheel.plane_z_mm, typed_mm, typed=True),
                rim_width_mm=truth.wheel.width_in * INCH_MM,
                title=of(letter, variant, "true planes, and planes as typed in (dashed)"),
            )
        )
        diameters += [
            (
                of(letter, variant, f"{TAGS[plane]} {plane}"),
                number(true, Measure.LENGTH, variant),
                number(typed, Measure.LENGTH, variant),
            )
            for plane, true, typed in zip(PLANES, truth.wheel.plane_radius_mm, typed_mm, strict=True)
        ]
    length = unit_of(Measure.LENGTH, variant)
    return measurement(
        "A wrong rim diameter",
        drawings,
        [
            Table(
                "Where the weights sit, and where the balancer thinks they sit: from the axle",
                (words("Plane"), numbers("True", length), numbers("As typed", length)),
                tuple(diameters),
            ),
            by_plane(variant, letters, "Weights that the balancer asks for now", "wrong_diameter"),
        ],
    )


def shelf_label(variant: Variant, letters: Sequence[str]) -> Measured:
    """The label on the tread, with its mass and place, and where the rim's weights sit."""
    drawings, rows = [], []
    for letter in letters:
        truth = variant.truth.assemblies[letter]
        label = truth.bench.label
        if label is None:
            raise LookupError(f"assembly {letter} has no bench.label")
        mass_g, radius_mm, at_deg = (float(each) for each in (label.mass_g, label.radius_mm, label.angle_deg))
        spot = Spot(
            "shelf-label",
            at_deg,
            f"shelf label, {amount(mass_g, Measure.MASS, variant)}",
            place(at_deg, variant),
            radius=share_of_tire(truth, radius_mm),
        )
        drawings.append(wheel_face([spot], title=of(letter, variant, "the shelf label on the tread")))
        rows.append(
            (
                of(letter, variant, "shelf label"),
                number(mass_g, Measure.MASS, variant),
                number(radius_mm, Measure.LENGTH, variant),
                number(truth.wheel.plane_radius_mm[0], Measure.LENGTH, variant),
            )
        )
    length = unit_of(Measure.LENGTH, variant)
    heads = (
        words("On the tread"),
        numbers("Mass", unit_of(Measure.MASS, variant)),
        numbers("From the axle", length),
        numbers("Clip weights from the axle", length),
    )
    return measurement(
        "The shelf label", drawings, [Table("The label, peeled off and weighed", heads, tuple(rows))]
    )
