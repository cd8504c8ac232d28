"""Quantities of setting up on the balancer: the cone, the rim's width, a diameter that was typed in wrong."""

from typing import Any

import numpy as np

from app.compute import phasors, unbalance
from app.compute.constants import INCH_MM
from app.domain.measures import Measure
from app.domain.model.balance import static_and_couple
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import PLANES

NO_CONE = "none"
TOO_LITTLE, TOO_MUCH = "too-little", "too-much"


@of_assembly("cone", Measure.CHOICE, "the cone that fits the bore without passing through it, or none")
def cone(assembly: Any) -> Any:
    bore_mm, cones = assembly.truth.bench.bore_mm, assembly.model.truth.machine.cones
    fits = [(each.min_mm <= bore_mm) & (bore_mm <= each.max_mm) for each in cones]
    return np.select(fits, [each.id for each in cones], NO_CONE)


def entered_radius_mm(assembly: Any) -> Any:
    """The planes' radii as typed in, (..., 2): too large by half the machine's diameter error."""
    error_mm = np.asarray(assembly.model.truth.machine.diameter_error_mm)[..., np.newaxis]
    return assembly.truth.wheel.plane_radius_mm + error_mm / 2


def _spin(assembly: Any, fitted_gmm: Any) -> unbalance.Spin:
    wheel = assembly.truth.wheel
    static, couple = static_and_couple(assembly)
    return unbalance.spin(
        static,
        couple,
        wheel.plane_z_mm,
        wheel.plane_radius_mm,
        wheel.plane_z_mm,
        entered_radius_mm(assembly),
        fitted_gmm,
    )


@computed_once
def _asked_g(assembly: Any) -> Any:
    return _spin(assembly, (0.0, 0.0)).corrections_g


@computed_once
def _left_g(assembly: Any) -> Any:
    """With the weights on that were asked for."""
    asked_g = np.stack(
        [
            assembly.phasor(f"wrong_diameter.{plane}.mass_g", f"wrong_diameter.{plane}.angle_deg")
            for plane in PLANES
        ],
        axis=-1,
    )
    return _spin(assembly, asked_g * assembly.truth.wheel.plane_radius_mm).left_g


@of_assembly(
    "wrong_diameter.{plane}.mass_g", Measure.MASS, "weight asked for {plane} with the wrong diameter"
)
def wrong_diameter_mass(assembly: Any, plane: str) -> Any:
    return phasors.size(_asked_g(assembly)[..., PLANES.index(plane)])


@of_assembly(
    "wrong_diameter.{plane}.angle_deg", Measure.ANGLE, "where it is asked for {plane} with the wrong diameter"
)
def wrong_diameter_angle(assembly: Any, plane: str) -> Any:
    return phasors.angle_deg(_asked_g(assembly)[..., PLANES.index(plane)], scale=1.0)


@of_assembly(
    "wrong_diameter_left.{plane}.mass_g",
    Measure.MASS,
    "unbalance left {plane} once the weights asked for with the wrong diameter are on",
)
def wrong_diameter_left(assembly: Any, plane: str) -> Any:
    return phasors.size(_left_g(assembly)[..., PLANES.index(plane)])


@of_assembly(
    "wrong_diameter.effect", Measure.CHOICE, "whether the wrong diameter asks for too much or too little"
)
def wrong_diameter_effect(assembly: Any) -> Any:
    return np.where(np.asarray(assembly.model.truth.machine.diameter_error_mm) > 0, TOO_LITTLE, TOO_MUCH)


@of_assembly("outside_width.mm", Measure.RUNOUT, "rim width across the outside of both flanges")
def outside_width(assembly: Any) -> Any:
    return assembly.truth.wheel.width_in * INCH_MM + 2 * assembly.truth.bench.flange_mm


@of_assembly("outside_width.over_mm", Measure.RUNOUT, "how much that is wider than between the flanges")
def outside_width_over(assembly: Any) -> Any:
    return assembly.value("outside_width.mm") - assembly.truth.wheel.width_in * INCH_MM
