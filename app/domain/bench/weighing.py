"""What a state of the bench does to unbalance: of parts and assembly, on the balancer, and what is left.

Everything is computed by `app.compute` from the truth of the variant and from how tire, weights and machine
stand. A tire turned by t takes its marks from a to a + t; turned over, they stand at -a and inboard and
outboard change places.
"""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.compute import phasors, unbalance
from app.domain.bench.shop import Shop, number
from app.domain.bench.state import AssemblyState, BalancerState, Beads, Dimensions, Weight
from app.domain.bench_sheets import ConeSheet
from app.domain.bench_truth import LumpTruth
from app.domain.truth import PLANES, AssemblyTruth

ADHESIVE_INSET_MM = 20.0
ADHESIVE_LOWER_MM = 12.0
"""An adhesive weight sits this much inside the flange and nearer to the axle. Teaching model."""
LEAST_CONE_ERROR_MM = 0.2
MOST_CONE_ERROR_MM = 2.0
"""What a cone that doesn't fit leaves the wheel off centre. Teaching model."""
MOST_NOISE = 2.5
"""Standard deviations: a spin is never farther off than this."""


@dataclass(frozen=True, slots=True)
class Unbalance:
    """static [g.mm] and couple [g.mm^2], phasors of one part in its own angles."""

    static: complex = 0j
    couple: complex = 0j

    def plus(self, other: "Unbalance") -> "Unbalance":
        return Unbalance(self.static + other.static, self.couple + other.couple)

    def as_mounted(self, assembly: AssemblyState) -> "Unbalance":
        """Of a tire, in the wheel's angles."""
        turn = complex(phasors.phasor(1.0, assembly.turn_deg))
        if assembly.turned_over:
            return Unbalance(self.static.conjugate() * turn, -self.couple.conjugate() * turn)
        return Unbalance(self.static * turn, self.couple * turn)


@dataclass(frozen=True, slots=True)
class Parts:
    """The unbalance of one assembly's parts, each in its own angles."""

    wheel: Unbalance
    own_tire: Unbalance
    new_tire: Unbalance
    label: Unbalance


def parts_of(shop: Shop, letter: str) -> Parts:
    """Computed once for each variant."""
    parts: Parts = shop.variant.model.part(("bench.parts", letter), lambda: _parts(shop, letter))
    return parts


def _parts(shop: Shop, letter: str) -> Parts:
    truth = shop.truth(letter)
    spots = truth.heavy_spots
    on_tire = np.array([on == "tire" for on in spots.on], dtype=bool)

    def of(chosen: Any) -> Unbalance:
        return _unbalance(
            spots.mass_g[chosen], spots.radius_mm[chosen], spots.angle_deg[chosen], spots.z_mm[chosen]
        )

    new_tire = truth.bench.new_tire
    return Parts(
        wheel=of(~on_tire),
        own_tire=of(on_tire),
        new_tire=_lump(new_tire.heavy_spot) if new_tire else Unbalance(),
        label=_lump(truth.bench.label) if truth.bench.label else Unbalance(),
    )


def _lump(lump: LumpTruth) -> Unbalance:
    return _unbalance([lump.mass_g], [lump.radius_mm], [lump.angle_deg], [lump.z_mm])


def _unbalance(mass_g: Any, radius_mm: Any, angle_deg: Any, z_mm: Any) -> Unbalance:
    return Unbalance(
        complex(unbalance.static_unbalance(mass_g, radius_mm, angle_deg)),
        complex(unbalance.couple_unbalance(mass_g, radius_mm, angle_deg, z_mm)),
    )


def unbalance_of(shop: Shop, assembly: AssemblyState) -> Unbalance:
    """The assembly as it stands, its weights and label with it."""
    parts = parts_of(shop, assembly.id)
    total = parts.wheel
    if assembly.beads is not Beads.OFF:
        total = total.plus(_tire(parts, assembly).as_mounted(assembly))
    if assembly.weights:
        total = total.plus(_of_weights(shop.truth(assembly.id), assembly.weights))
    return total


def _tire(parts: Parts, assembly: AssemblyState) -> Unbalance:
    if assembly.tire == "new":
        return parts.new_tire
    return parts.own_tire.plus(parts.label) if assembly.label_on else parts.own_tire


def _of_weights(truth: AssemblyTruth, weights: tuple[Weight, ...]) -> Unbalance:
    places = [plane_of(truth, weight.plane, weight.kind) for weight in weights]
    return _unbalance(
        [weight.mass_g for weight in weights],
        [radius for _, radius in places],
        [weight.angle_deg for weight in weights],
        [z for z, _ in places],
    )


def plane_of(truth: AssemblyTruth, plane: str, kind: str) -> tuple[float, float]:
    """z and radius [mm] of a kind of weight in a plane."""
    at = PLANES.index(plane)
    z_mm, radius_mm = float(truth.wheel.plane_z_mm[at]), float(truth.wheel.plane_radius_mm[at])
    if kind == "clip":
        return z_mm, radius_mm
    return z_mm + (
        ADHESIVE_INSET_MM if plane == "inboard" else -ADHESIVE_INSET_MM
    ), radius_mm - ADHESIVE_LOWER_MM


def true_dimensions(shop: Shop, letter: str) -> Dimensions:
    truth = shop.truth(letter)
    return Dimensions(number(truth.bench.distance_mm), truth.wheel.width_in, truth.wheel.diameter_in)


def dimensions_used(shop: Shop, letter: str, entered: Dimensions | None) -> Dimensions:
    """As the machine reckons: typed in where it asks for it, measured by itself where it doesn't."""
    true, asks = true_dimensions(shop, letter), shop.sheet.asks
    if entered is None:
        return true
    return Dimensions(
        entered.distance_mm if "distance" in asks else true.distance_mm,
        entered.width_in if "width" in asks else true.width_in,
        entered.diameter_in if "diameter" in asks else true.diameter_in,
    )


def entered_planes(shop: Shop, letter: str, balancer: BalancerState) -> tuple[list[float], list[float]]:
    """z and radius [mm] of both planes as the machine takes them: true for true dimensions, else shifted.

    A width that is too great puts each plane half the difference too far out, a distance that is too great
    puts both too far outboard.
    """
    truth, true = shop.truth(letter), true_dimensions(shop, letter)
    used = dimensions_used(shop, letter, balancer.entered)
    wider, shifted = (used.width_in - true.width_in) * 25.4 / 2, used.distance_mm - true.distance_mm
    larger = (used.diameter_in - true.diameter_in) * 25.4 / 2
    kinds = (balancer.inboard, balancer.outboard)
    places = [plane_of(truth, plane, kind) for plane, kind in zip(PLANES, kinds, strict=True)]
    z_mm = [places[0][0] - wider + shifted, places[1][0] + wider + shifted]
    # A diameter much too small would put a weight on the axle; the machine reckons with a radius above 0.
    return z_mm, [max(radius + larger, 1.0) for _, radius in places]


def eccentricity(shop: Shop, assembly: AssemblyState, balancer: BalancerState) -> complex:
    """How far off centre the wheel stands on the shaft, in wheel angles: a phasor [mm].

    Dirt and a cone that doesn't fit are fixed to the shaft: half a turn of the wheel on it turns them round.
    """
    bench = shop.bench(assembly.id)
    off = 0j
    if not assembly.face_clean:
        off += complex(phasors.phasor(number(bench.dirt_mm), number(bench.dirt_deg)))
    cone = shop.cone(balancer.cone) if balancer.cone else None
    if cone is not None:
        place = 360.0 * shop.chance(0, "cone", assembly.id, cone.id)
        off += complex(phasors.phasor(cone_error_mm(cone, number(bench.bore_mm)), place))
    return -off if balancer.half_turned else off


def cone_error_mm(cone: ConeSheet, bore_mm: float) -> float:
    """0 for a cone that fits the bore without passing through."""
    missing = max(bore_mm - cone.max_mm, cone.min_mm - bore_mm)
    if missing <= 0:
        return 0.0
    return min(max(missing / 2, LEAST_CONE_ERROR_MM), MOST_CONE_ERROR_MM)


def spin(shop: Shop, assembly: AssemblyState, balancer: BalancerState, at: int) -> unbalance.Spin:
    """What the balancer senses in the spin that is action number `at`: weights asked for, before rounding."""
    truth, bench = shop.truth(assembly.id), shop.bench(assembly.id)
    total = unbalance_of(shop, assembly)
    mounting = bench.sheet.mass_kg * 1000.0 * eccentricity(shop, assembly, balancer)
    z_mm, radius_mm = entered_planes(shop, assembly.id, balancer)
    if z_mm[1] - z_mm[0] < 1.0:
        # Dimensions so wrong that both planes meet: the machine keeps them apart, and shows nonsense.
        z_mm[1] = z_mm[0] + 1.0
    found = unbalance.spin(
        total.static,
        total.couple,
        truth.wheel.plane_z_mm,
        truth.wheel.plane_radius_mm,
        z_mm,
        radius_mm,
        mounting_gmm=mounting,
    )
    noise = [_noise_g(shop, at, plane) for plane in PLANES]
    return unbalance.Spin(found.corrections_g + np.array(noise), found.left_g)


def static_asked_g(shop: Shop, assembly: AssemblyState, balancer: BalancerState, at: int) -> complex:
    """What the balancer asks for in one-plane mode: one weight at the inboard radius as typed in."""
    total = unbalance_of(shop, assembly)
    mass_kg = shop.bench(assembly.id).sheet.mass_kg
    sensed = total.static + mass_kg * 1000.0 * eccentricity(shop, assembly, balancer)
    _, radius_mm = entered_planes(shop, assembly.id, balancer)
    asked = complex(unbalance.single_plane_correction(sensed)) / radius_mm[0]
    return asked + _noise_g(shop, at, PLANES[0])


def _noise_g(shop: Shop, at: int, plane: str) -> complex:
    """The balancer's own scatter in one plane (Box and Muller), cut off where no machine would pass."""
    deviation = shop.sheet.repeatability_g
    if deviation == 0:
        return 0j
    u = shop.chance(at, "repeatability", plane, "size")
    size = min(math.sqrt(-2.0 * math.log1p(-u)), MOST_NOISE)
    return complex(phasors.phasor(deviation * size, 360.0 * shop.chance(at, "repeatability", plane, "angle")))


def left_g(shop: Shop, assembly: AssemblyState) -> tuple[float, float]:
    """The unbalance really left, as a mass at the rim's inboard and outboard edge."""
    truth, total = shop.truth(assembly.id), unbalance_of(shop, assembly)
    planes = truth.wheel
    found = unbalance.spin(
        total.static,
        total.couple,
        planes.plane_z_mm,
        planes.plane_radius_mm,
        planes.plane_z_mm,
        planes.plane_radius_mm,
    )
    inboard, outboard = phasors.size(found.left_g).tolist()
    return inboard, outboard
