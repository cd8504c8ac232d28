"""Measurements of balance: what is heavy, a balancer's report, and one made with a wrong rim width."""

import math
from collections.abc import Sequence

from app.compute import tires
from app.compute.constants import INCH_MM
from app.domain.draws import Numbers
from app.domain.measures import Measure
from app.domain.model.balance import entered_z_mm
from app.domain.truth import PLANES, AssemblyTruth
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
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
from app.drawings.section_view import Lump, Plane, section_view
from app.drawings.spots import Spot
from app.drawings.wheel_face import wheel_face

TAGS = {"inboard": "IN", "outboard": "OUT"}


def heavy_spots(variant: Variant, letters: Sequence[str]) -> Measured:
    """Each lump of unbalance on the wheel's face and in section, and the planes where weights can go."""
    drawings: list[Drawing] = []
    tables: list[Table] = []
    for letter in letters:
        truth = variant.truth.assemblies[letter]
        drawings += [_face(variant, truth), _section(variant, truth)]
        tables += [_spots_table(variant, truth), _planes_table(variant, truth)]
    return measurement("What is heavy", drawings, tables)


def share_of_tire(truth: AssemblyTruth, radius_mm: float) -> float:
    """How far out on the wheel's face a radius lies: 1 is the tread."""
    outer_mm = tires.parse_designation(truth.tire.designation).overall_diameter_mm / 2
    return min(1.0, float(radius_mm) / outer_mm)


def _face(variant: Variant, truth: AssemblyTruth) -> Drawing:
    heavy = truth.heavy_spots
    spots = [
        Spot(
            "heavy-spot",
            float(heavy.angle_deg[i]),
            f"{name}, {amount(heavy.mass_g[i], Measure.MASS, variant)}",
            place(heavy.angle_deg[i], variant),
            radius=share_of_tire(truth, heavy.radius_mm[i]),
            tag=str(i + 1),
        )
        for i, name in enumerate(heavy.names)
    ]
    return wheel_face(spots, title=of(truth.id, variant, "wheel seen from outboard"))


def _section(variant: Variant, truth: AssemblyTruth) -> Drawing:
    spots = truth.heavy_spots
    lumps = [
        Lump(
            "heavy-spot",
            float(spots.z_mm[i]),
            float(spots.radius_mm[i]),
            name,
            f"{amount(spots.radius_mm[i], Measure.LENGTH, variant)} from the axle",
            tag=str(i + 1),
        )
        for i, name in enumerate(spots.names)
    ]
    return section_view(
        planes_of(variant, truth.wheel.plane_z_mm, truth.wheel.plane_radius_mm),
        lumps,
        rim_width_mm=truth.wheel.width_in * INCH_MM,
        title=of(truth.id, variant, "half section, each heavy spot turned into it"),
    )


def planes_of(variant: Variant, z_mm: Numbers, radius_mm: Numbers, *, typed: bool = False) -> list[Plane]:
    """Both planes of a section: true ones, or as they were typed in."""
    return [
        Plane(
            f"{name} plane{' as typed in' if typed else ''}",
            float(z),
            float(radius),
            amount(z, Measure.LENGTH, variant),
            amount(radius, Measure.LENGTH, variant),
            tag=TAGS[name] + ("*" if typed else ""),
        )
        for name, z, radius in zip(PLANES, z_mm, radius_mm, strict=True)
    ]


def _spots_table(variant: Variant, truth: AssemblyTruth) -> Table:
    spots, length = truth.heavy_spots, unit_of(Measure.LENGTH, variant)
    return Table(
        of(
            truth.id, variant, "heavy spots. Along the axle: from the center plane, positive toward outboard."
        ),
        (
            words("Heavy spot"),
            numbers("Mass", unit_of(Measure.MASS, variant)),
            numbers("From the axle", length),
            numbers("Angle"),
            numbers("Clock"),
            numbers("Along the axle", length),
        ),
        tuple(
            (
                f"{i + 1} {name}",
                number(spots.mass_g[i], Measure.MASS, variant),
                number(spots.radius_mm[i], Measure.LENGTH, variant),
                angle(spots.angle_deg[i], variant),
                clock(spots.angle_deg[i]),
                number(spots.z_mm[i], Measure.LENGTH, variant),
            )
            for i, name in enumerate(spots.names)
        ),
    )


def _planes_table(variant: Variant, truth: AssemblyTruth) -> Table:
    length = unit_of(Measure.LENGTH, variant)
    return Table(
        of(truth.id, variant, "planes where weights go"),
        (words("Plane"), numbers("From the axle", length), numbers("Along the axle", length)),
        tuple(
            (
                f"{TAGS[name]} {name}",
                number(radius, Measure.LENGTH, variant),
                number(z, Measure.LENGTH, variant),
            )
            for name, z, radius in zip(
                PLANES, truth.wheel.plane_z_mm, truth.wheel.plane_radius_mm, strict=True
            )
        ),
    )


def balancer(variant: Variant, letters: Sequence[str]) -> Measured:
    """The heavy spot in each plane, reckoned as a mass at the rim, and the weights on the shelf."""
    return measurement(
        "The balancer’s report",
        [_report_face(variant, letter) for letter in letters],
        [
            by_plane(variant, letters, "Heavy spot in each plane, calculated at the rim", "unbalance"),
            shelf(variant),
        ],
    )


def _report_face(variant: Variant, letter: str) -> Drawing:
    view, truth = variant.model.assembly(letter), variant.truth.assemblies[letter]
    spots = [
        Spot(
            "heavy-spot",
            float(at),
            f"{plane}, {amount(view.value(f'unbalance.{plane}.mass_g'), Measure.MASS, variant)}",
            place(at, variant),
            radius=share_of_tire(truth, radius_mm),
            tag=TAGS[plane],
        )
        for plane, radius_mm in zip(PLANES, truth.wheel.plane_radius_mm, strict=True)
        if not math.isnan(at := float(view.value(f"unbalance.{plane}.angle_deg")))
    ]
    return wheel_face(spots, title=of(letter, variant, "heavy spots that the balancer reports"))


def by_plane(variant: Variant, letters: Sequence[str], caption: str, name: str) -> Table:
    """Mass, angle and clock position of a quantity in both planes of each assembly."""
    rows = []
    for letter in letters:
        view = variant.model.assembly(letter)
        for plane in PLANES:
            at = float(view.value(f"{name}.{plane}.angle_deg"))
            mass = number(view.value(f"{name}.{plane}.mass_g"), Measure.MASS, variant)
            label = of(letter, variant, f"{TAGS[plane]} {plane}")
            rows.append((label, mass, angle(at, variant), clock(at)))
    heads = (
        words("Plane"),
        numbers("Mass", unit_of(Measure.MASS, variant)),
        numbers("Angle"),
        numbers("Clock"),
    )
    return Table(caption, heads, tuple(rows))


def shelf(variant: Variant, sort: str = "Clip weights") -> Table:
    """The weights in stock, and how many go side by side."""
    machine = variant.truth.machine
    pieces = ", ".join(_plain(number(piece, Measure.MASS, variant)) for piece in machine.stock_g)
    return Table(
        "Weights on the shelf",
        (words(sort), words("In stock")),
        (
            (f"Single weights, {unit_of(Measure.MASS, variant)}", pieces),
            ("Side by side in one plane", f"{machine.max_pieces} at most"),
        ),
    )


def _plain(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def entered_width(variant: Variant, letters: Sequence[str]) -> Measured:
    """The true planes beside those that were typed in, and the weights that the balancer then asks for."""
    drawings = []
    widths = []
    for letter in letters:
        truth = variant.truth.assemblies[letter]
        entered_mm = entered_z_mm(variant.model.assembly(letter))
        true_mm = truth.wheel.width_in * INCH_MM
        typed_mm = true_mm + float(variant.truth.machine.width_error_mm)
        drawings.append(
            section_view(
                planes_of(variant, truth.wheel.plane_z_mm, truth.wheel.plane_radius_mm),
                entered=planes_of(variant, entered_mm, truth.wheel.plane_radius_mm, typed=True),
                rim_width_mm=true_mm,
                title=of(letter, variant, "true planes, and planes as typed in (dashed)"),
            )
        )
        widths.append(
            (
                of(letter, variant, "rim width"),
                number(true_mm, Measure.LENGTH, variant),
                number(typed_mm, Measure.LENGTH, variant),
            )
        )
    length = unit_of(Measure.LENGTH, variant)
    return measurement(
        "A wrong rim width",
        drawings,
        [
            Table(
                "The width, measured and as typed in",
                (words("Dimension"), numbers("True", length), numbers("As typed", length)),
                tuple(widths),
            ),
            by_plane(variant, letters, "Weights that the balancer asks for now", "wrong_width"),
        ],
    )
