"""Quantities of balancing: heavy spots by plane, corrections, stock weights, and what a wrong width does."""

from typing import Any

import numpy as np

from app.compute import angles, phasors, stock, unbalance
from app.domain.measures import Measure
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import PLANES


@computed_once
def static_and_couple(assembly: Any) -> tuple[Any, Any]:
    """Static and couple unbalance of the heavy spots: phasors (...) [g·mm], [g·mm²]."""
    spots = assembly.truth.heavy_spots
    return (
        unbalance.static_unbalance(spots.mass_g, spots.radius_mm, spots.angle_deg),
        unbalance.couple_unbalance(spots.mass_g, spots.radius_mm, spots.angle_deg, spots.z_mm),
    )


def sum_of_sizes_gmm(assembly: Any) -> Any:
    """The sum of mass times radius of the heavy spots: how large the static unbalance could be."""
    spots = assembly.truth.heavy_spots
    return np.sum(spots.mass_g * spots.radius_mm, axis=-1)


def _radius_mm(assembly: Any, plane: str) -> Any:
    return assembly.truth.wheel.plane_radius_mm[..., PLANES.index(plane)]


def entered_z_mm(assembly: Any) -> Any:
    """The plane positions as typed in, (..., 2): too wide by the machine's width error, half on each side."""
    error = np.asarray(assembly.model.truth.machine.width_error_mm)[..., None] / 2
    return assembly.truth.wheel.plane_z_mm + error * np.array([-1.0, 1.0])


def spin_with(assembly: Any, fitted_gmm: Any = (0.0, 0.0)) -> unbalance.Spin:
    """The assembly on the balancer, its width as typed in; fitted: weights in the true planes, (..., 2)."""
    static, couple = static_and_couple(assembly)
    wheel = assembly.truth.wheel
    return unbalance.spin(
        static,
        couple,
        wheel.plane_z_mm,
        wheel.plane_radius_mm,
        entered_z_mm(assembly),
        wheel.plane_radius_mm,
        fitted_gmm,
    )


@computed_once
def _first_spin(assembly: Any) -> unbalance.Spin:
    return spin_with(assembly)


@computed_once
def _second_spin(assembly: Any) -> unbalance.Spin:
    """With the weights on that the first spin asked for."""
    asked_g = [
        assembly.phasor(f"wrong_width.{plane}.mass_g", f"wrong_width.{plane}.angle_deg") for plane in PLANES
    ]
    return spin_with(assembly, np.stack(asked_g, axis=-1) * assembly.truth.wheel.plane_radius_mm)


def _in_plane(weights_g: Any, plane: str) -> Any:
    return weights_g[..., PLANES.index(plane)]


def _direction_deg(assembly: Any, weights_g: Any, plane: str) -> Any:
    scale_g = sum_of_sizes_gmm(assembly) / _radius_mm(assembly, plane)
    return phasors.angle_deg(_in_plane(weights_g, plane), scale_g)


@of_assembly("static.size_gmm", Measure.UNBALANCE, "static unbalance")
def static_size(assembly: Any) -> Any:
    return phasors.size(static_and_couple(assembly)[0])


@of_assembly("static.angle_deg", Measure.ANGLE, "direction of the static unbalance")
def static_angle(assembly: Any) -> Any:
    return phasors.angle_deg(static_and_couple(assembly)[0], sum_of_sizes_gmm(assembly))


@of_assembly(
    "single.mass_g", Measure.MASS, "one weight at the inboard radius that takes away the static unbalance"
)
def single_mass(assembly: Any) -> Any:
    return assembly.value("static.size_gmm") / _radius_mm(assembly, "inboard")


@of_assembly("single.angle_deg", Measure.ANGLE, "where that one weight goes")
def single_angle(assembly: Any) -> Any:
    return angles.opposite(assembly.value("static.angle_deg"))


@of_assembly("unbalance.{plane}.mass_g", Measure.MASS, "heavy spot in the {plane} plane")
def unbalance_mass(assembly: Any, plane: str) -> Any:
    return phasors.size(_in_plane(_first_spin(assembly).left_g, plane))


@of_assembly("unbalance.{plane}.angle_deg", Measure.ANGLE, "direction of the heavy spot in the {plane} plane")
def unbalance_angle(assembly: Any, plane: str) -> Any:
    return _direction_deg(assembly, _first_spin(assembly).left_g, plane)


@of_assembly("correction.{plane}.mass_g", Measure.MASS, "weight that the {plane} plane needs")
def correction_mass(assembly: Any, plane: str) -> Any:
    return assembly.value(f"unbalance.{plane}.mass_g")


@of_assembly("correction.{plane}.angle_deg", Measure.ANGLE, "where the {plane} weight goes")
def correction_angle(assembly: Any, plane: str) -> Any:
    return angles.opposite(assembly.value(f"unbalance.{plane}.angle_deg"))


@of_assembly("stock.{plane}.mass_g", Measure.MASS, "nearest total from stock for the {plane} plane")
def stock_mass(assembly: Any, plane: str) -> Any:
    machine = assembly.model.truth.machine
    return stock.nearest_stock_sum(
        assembly.value(f"correction.{plane}.mass_g"), machine.stock_g, machine.max_pieces
    )


@of_assembly(
    "wrong_width.{plane}.mass_g",
    Measure.MASS,
    "weight that the balancer asks for {plane} with the wrong width",
)
def wrong_width_mass(assembly: Any, plane: str) -> Any:
    return phasors.size(_in_plane(_first_spin(assembly).corrections_g, plane))


@of_assembly(
    "wrong_width.{plane}.angle_deg",
    Measure.ANGLE,
    "where the balancer asks for it {plane} with the wrong width",
)
def wrong_width_angle(assembly: Any, plane: str) -> Any:
    return _direction_deg(assembly, _first_spin(assembly).corrections_g, plane)


@of_assembly("left.{plane}.mass_g", Measure.MASS, "unbalance left {plane} once the weights asked for are on")
def left_mass(assembly: Any, plane: str) -> Any:
    return phasors.size(_in_plane(_second_spin(assembly).left_g, plane))


@of_assembly("left.{plane}.angle_deg", Measure.ANGLE, "direction of the unbalance left {plane}")
def left_angle(assembly: Any, plane: str) -> Any:
    return _direction_deg(assembly, _second_spin(assembly).left_g, plane)
