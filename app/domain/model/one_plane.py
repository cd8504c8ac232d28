"""Quantities of a balance in one plane: what a two-plane check spin finds once the one weight is on."""

from typing import Any

import numpy as np

from app.compute import phasors
from app.domain.measures import Measure
from app.domain.model.balance import spin_with, sum_of_sizes_gmm
from app.domain.model.car import NO, YES
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import PLANES


@computed_once
def _left_g(assembly: Any) -> Any:
    """shape (..., 2): the unbalance left in each plane with the one weight in the inboard plane."""
    weight_g = assembly.phasor("single.mass_g", "single.angle_deg")
    radius_mm = assembly.truth.wheel.plane_radius_mm
    fitted_gmm = np.stack([weight_g, np.zeros_like(weight_g)], axis=-1) * radius_mm
    return spin_with(assembly, fitted_gmm).left_g


@of_assembly(
    "after_single.{plane}.mass_g", Measure.MASS, "unbalance left {plane} once the one weight is on inboard"
)
def left_mass(assembly: Any, plane: str) -> Any:
    return phasors.size(_left_g(assembly)[..., PLANES.index(plane)])


@of_assembly("after_single.{plane}.angle_deg", Measure.ANGLE, "direction of what that weight leaves {plane}")
def left_angle(assembly: Any, plane: str) -> Any:
    scale_g = sum_of_sizes_gmm(assembly) / assembly.truth.wheel.plane_radius_mm[..., PLANES.index(plane)]
    return phasors.angle_deg(_left_g(assembly)[..., PLANES.index(plane)], scale_g)


@of_assembly(
    "single_enough", Measure.CHOICE, "whether a check spin shows nothing in both planes after the one weight"
)
def single_enough(assembly: Any) -> Any:
    most_g = np.maximum(*(np.asarray(assembly.value(f"after_single.{plane}.mass_g")) for plane in PLANES))
    return np.where(most_g < assembly.model.truth.machine.dead_band_g, YES, NO)
