"""Quantities of the half-turn test: what belongs to the assembly and what to how it stands on the shaft.

The assembly here still carries its shelf label, and its mounting face is as it came in: dirt holds it off
centre, in a direction that stays with the shaft.
"""

from typing import Any

import numpy as np

from app.compute import phasors, trial_runs, unbalance
from app.domain.measures import Measure
from app.domain.model.balance import static_and_couple
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import PLANES

GRAMS_PER_KILOGRAM = 1000.0
SPINS = ("first", "second")
"""As it is clamped first, and after half a turn on the shaft."""
ASSEMBLY, MOUNTING = "assembly", "mounting"


@computed_once
def _with_label(assembly: Any) -> tuple[Any, Any]:
    """Static and couple unbalance with the label on."""
    static, couple = static_and_couple(assembly)
    label = assembly.truth.bench.label
    if label is None:
        return static, couple
    mass, radius, angle, z = (
        np.asarray(each)[..., np.newaxis]
        for each in (label.mass_g, label.radius_mm, label.angle_deg, label.z_mm)
    )
    return (
        static + unbalance.static_unbalance(mass, radius, angle),
        couple + unbalance.couple_unbalance(mass, radius, angle, z),
    )


@computed_once
def _reported_g(assembly: Any, spin: str) -> Any:
    """The heavy spots that a spin reports: (..., 2)."""
    static, couple = _with_label(assembly)
    wheel, bench = assembly.truth.wheel, assembly.truth.bench
    mounting_gmm = bench.sheet.mass_kg * GRAMS_PER_KILOGRAM * phasors.phasor(bench.dirt_mm, bench.dirt_deg)
    found = unbalance.spin(
        static,
        couple,
        wheel.plane_z_mm,
        wheel.plane_radius_mm,
        wheel.plane_z_mm,
        wheel.plane_radius_mm,
        mounting_gmm=mounting_gmm if spin == "first" else -mounting_gmm,
    )
    return -found.corrections_g


@computed_once
def _told_apart_g(assembly: Any) -> tuple[Any, Any]:
    """The assembly's own heavy spots and those of its mounting, from both spins: (..., 2) each."""
    first, second = (
        np.stack([_vector(assembly, f"half_turn.{spin}.{plane}") for plane in PLANES], axis=-1)
        for spin in SPINS
    )
    return trial_runs.reindex(first, second)


def _vector(assembly: Any, name: str) -> Any:
    return assembly.phasor(f"{name}.mass_g", f"{name}.angle_deg")


def _spot_g(assembly: Any, part: str, plane: str) -> Any:
    if part in SPINS:
        both = _reported_g(assembly, part)
    else:
        both = _told_apart_g(assembly)[(ASSEMBLY, MOUNTING).index(part)]
    return both[..., PLANES.index(plane)]


_PARTS = {
    "first": "in the first spin",
    "second": "in the spin after half a turn",
    ASSEMBLY: "of the assembly itself",
    MOUNTING: "that only the mounting makes",
}


@of_assembly(
    "half_turn.{part}.{plane}.mass_g",
    Measure.MASS,
    "half-turn test: {plane} heavy spot {part}",
    parts=_PARTS,
)
def spot_mass(assembly: Any, part: str, plane: str) -> Any:
    return phasors.size(_spot_g(assembly, part, plane))


@of_assembly(
    "half_turn.{part}.{plane}.angle_deg",
    Measure.ANGLE,
    "half-turn test: direction of the {plane} heavy spot {part}",
    parts=_PARTS,
)
def spot_angle(assembly: Any, part: str, plane: str) -> Any:
    return phasors.angle_deg(_spot_g(assembly, part, plane), scale=1.0)


@of_assembly("half_turn.off_centre_mm", Measure.RUNOUT, "how far off center the assembly stands on the shaft")
def off_centre(assembly: Any) -> Any:
    """From the mounting's heavy spots: their unbalance together over the mass of the assembly."""
    spots_g = np.stack([_vector(assembly, f"half_turn.{MOUNTING}.{plane}") for plane in PLANES], axis=-1)
    static_gmm = np.sum(spots_g * assembly.truth.wheel.plane_radius_mm, axis=-1)
    return phasors.size(static_gmm) / (assembly.truth.bench.sheet.mass_kg * GRAMS_PER_KILOGRAM)


@of_assembly(
    "half_turn.cause", Measure.CHOICE, "where the unbalance comes from that was asked for: assembly, mounting"
)
def cause(assembly: Any) -> Any:
    """`mounting` where its share alone would make the balancer ask for a weight."""
    spots_g = (np.asarray(assembly.value(f"half_turn.{MOUNTING}.{plane}.mass_g")) for plane in PLANES)
    return np.where(np.maximum(*spots_g) < assembly.model.truth.machine.dead_band_g, ASSEMBLY, MOUNTING)


@of_assembly(
    "label_at_rim.mass_g", Measure.MASS, "what the shelf label weighs, calculated at the inboard radius"
)
def label_at_rim(assembly: Any) -> Any:
    label = assembly.truth.bench.label
    if label is None:
        raise LookupError(f"assembly {assembly.truth.id} has no bench.label")
    return label.mass_g * label.radius_mm / assembly.truth.wheel.plane_radius_mm[..., 0]
