"""Correction weights from a known unbalance, and what a balancing machine shows of it."""

from typing import Annotated

import numpy as np
from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import (
    Answer,
    Given,
    Name,
    NotNegative,
    Number,
    Positive,
    vector_answer,
)
from app.compute import phasors, unbalance
from app.compute.angles import FloatArray

PLANES_AT_ONE_PLACE = {"plane_z_mm": "planes[1].z_mm", "entered_z_mm": "entered_planes[1].z_mm"}


class UnbalanceMass(Given):
    """A mass somewhere on the wheel."""

    mass_g: NotNegative
    radius_mm: NotNegative
    angle_deg: Number
    z_mm: Number


class Plane(Given):
    """A correction plane."""

    z_mm: Number
    radius_mm: Positive
    name: Name | None = None


class NamedPlane(Plane):
    """A correction plane that the answer calls by its name."""

    name: Name


class FittedWeight(Given):
    """A weight on the wheel, in one of the true planes."""

    plane: Annotated[int, Field(ge=0, le=1)]
    mass_g: NotNegative
    angle_deg: Number


class Mounting(Given):
    """How far off its axis the machine holds the assembly."""

    mass_kg: NotNegative
    eccentricity_mm: NotNegative
    angle_deg: Number

    def phasor_gmm(self) -> complex:
        """The unbalance that the machine takes for the assembly's own."""
        return complex(phasors.phasor(self.mass_kg * 1000 * self.eccentricity_mm, self.angle_deg))


UnbalanceMasses = Annotated[list[UnbalanceMass], Field(max_length=200)]
TwoPlanes = Annotated[list[Plane], Field(min_length=2, max_length=2)]


class TwoPlaneGiven(Given):
    """Unbalances and the two planes that correct them."""

    unbalances: UnbalanceMasses
    planes: Annotated[list[NamedPlane], Field(min_length=2, max_length=2)]


class SinglePlaneGiven(Given):
    """Unbalances and the one plane that corrects them."""

    unbalances: UnbalanceMasses
    plane: Plane


class SpinGiven(Given):
    """The truth on the machine's shaft and what was typed into it."""

    unbalances: UnbalanceMasses
    fitted: Annotated[list[FittedWeight], Field(max_length=200)]
    planes: TwoPlanes
    entered_planes: TwoPlanes
    mounting: Mounting | None = None
    step_g: Positive
    dead_band_g: NotNegative


class _Sums:
    """The static and couple unbalance of a list of masses, and the size of what they add up."""

    def __init__(self, masses: list[UnbalanceMass]) -> None:
        mass_g = np.array([mass.mass_g for mass in masses], dtype=float)
        radius_mm = np.array([mass.radius_mm for mass in masses], dtype=float)
        angle_deg = np.array([mass.angle_deg for mass in masses], dtype=float)
        z_mm = np.array([mass.z_mm for mass in masses], dtype=float)
        self.static = complex(unbalance.static_unbalance(mass_g, radius_mm, angle_deg))
        self.couple = complex(unbalance.couple_unbalance(mass_g, radius_mm, angle_deg, z_mm))
        self.static_scale = float(np.sum(mass_g * radius_mm))
        self.couple_scale = float(np.sum(mass_g * radius_mm * np.abs(z_mm)))


def _z_mm(planes: list[Plane] | list[NamedPlane]) -> FloatArray:
    return np.array([plane.z_mm for plane in planes])


def _radius_mm(planes: list[Plane] | list[NamedPlane]) -> FloatArray:
    return np.array([plane.radius_mm for plane in planes])


@calculation(
    "two-plane-correction", "The two weights that cancel given unbalances", fields=PLANES_AT_ONE_PLACE
)
def two_plane_correction(given: TwoPlaneGiven) -> Answer:
    """The static and couple unbalance, and a weight in each plane."""
    sums = _Sums(given.unbalances)
    z_mm, radius_mm = _z_mm(given.planes), _radius_mm(given.planes)
    weights = unbalance.two_plane_correction(sums.static, sums.couple, z_mm) / radius_mm
    scales = unbalance.two_plane_scale(sums.static_scale, sums.couple_scale, z_mm) / radius_mm
    return {
        "static": vector_answer(sums.static, sums.static_scale),
        "couple": vector_answer(sums.couple, sums.couple_scale),
        "corrections": _weights(given.planes, weights, scales),
    }


@calculation("single-plane-correction", "The one weight that cancels the static unbalance")
def single_plane_correction(given: SinglePlaneGiven) -> Answer:
    """The weight, and the couple that it leaves."""
    sums = _Sums(given.unbalances)
    plane = given.plane
    weight = complex(unbalance.single_plane_correction(sums.static)) / plane.radius_mm
    left = complex(unbalance.couple_left(sums.static, sums.couple, plane.z_mm))
    left_scale = sums.couple_scale + abs(plane.z_mm) * sums.static_scale
    return vector_answer(weight, sums.static_scale / plane.radius_mm, "mass_g") | {
        "couple_left": vector_answer(left, left_scale)
    }


@calculation("spin", "What a balancing machine shows, and what is truly left", fields=PLANES_AT_ONE_PLACE)
def spin(given: SpinGiven) -> Answer:
    """The weights asked for, as they are and as they are shown, and the unbalance left in the true planes."""
    sums = _Sums(given.unbalances)
    true_z, true_radius = _z_mm(given.planes), _radius_mm(given.planes)
    entered_z, entered_radius = _z_mm(given.entered_planes), _radius_mm(given.entered_planes)
    mounting = given.mounting.phasor_gmm() if given.mounting else 0j
    fitted = np.zeros(2, dtype=complex)
    fitted_scale = np.zeros(2)
    for weight in given.fitted:
        moment_gmm = weight.mass_g * true_radius[weight.plane]
        fitted[weight.plane] += phasors.phasor(moment_gmm, weight.angle_deg)
        fitted_scale[weight.plane] += moment_gmm

    found = unbalance.spin(
        sums.static, sums.couple, true_z, true_radius, entered_z, entered_radius, fitted, mounting
    )
    static_scale = sums.static_scale + fitted_scale.sum()
    couple_scale = sums.couple_scale + float(fitted_scale @ np.abs(true_z))
    asked_scale = unbalance.two_plane_scale(static_scale + abs(mounting), couple_scale, entered_z)
    left_scale = unbalance.two_plane_scale(static_scale, couple_scale, true_z)
    corrections = _weights(given.planes, found.corrections_g, asked_scale / entered_radius)
    return {
        "corrections": corrections,
        "shown": [_shown(each, given.step_g, given.dead_band_g) for each in corrections],
        "left_in_planes": _weights(given.planes, found.left_g, left_scale / true_radius),
    }


def _weights(
    planes: list[Plane] | list[NamedPlane], weights_g: phasors.ComplexArray, scales_g: FloatArray
) -> list[Answer]:
    return [
        {"name": plane.name, **vector_answer(complex(weight), float(scale), "mass_g")}
        for plane, weight, scale in zip(planes, weights_g, scales_g, strict=True)
    ]


def _shown(correction: Answer, step_g: float, dead_band_g: float) -> Answer:
    mass_g = float(unbalance.round_to_step(correction["mass_g"], step_g, dead_band_g))
    # No weight has no direction.
    angle_deg = correction["angle_deg"] if mass_g > 0 else None
    return {"name": correction["name"], "mass_g": mass_g, "angle_deg": angle_deg}
