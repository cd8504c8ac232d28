"""Static and couple unbalance, the weights that correct it, and what a balancing machine makes of it.

Unbalance is a phasor in g.mm; couple unbalance is a phasor in g.mm^2 about the wheel's centre plane, z = 0.
Planes stand in the order inboard, outboard, on the last axis.
Source of the two-plane solution: statics of a rigid rotor, in any textbook of dynamics.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import RADIANS_PER_TURN, SECONDS_PER_MINUTE
from app.compute.errors import (
    OutOfRangeError,
    UnsolvableError,
    require_finite,
    require_not_negative,
    require_positive,
)
from app.compute.phasors import ComplexArray, phasor

SMALLEST_PLANE_DISTANCE_MM = 1e-6

# ISO 21940-11, allocation of the permissible residual unbalance to two tolerance planes.
SMALLEST_PLANE_SHARE = 0.3
LARGEST_PLANE_SHARE = 0.7


def static_unbalance(
    mass_g: npt.ArrayLike, radius_mm: npt.ArrayLike, angle_deg: npt.ArrayLike
) -> ComplexArray:
    """The static unbalance of n masses, U = sum(m r exp(i a)).

    mass_g, radius_mm, angle_deg: shapes broadcast to (..., n). Returns shape (...) [g.mm].
    Raises OutOfRangeError for a negative mass or radius, NotFiniteError.
    """
    static: ComplexArray = _moments(mass_g, radius_mm, angle_deg).sum(axis=-1)
    return static


def couple_unbalance(
    mass_g: npt.ArrayLike, radius_mm: npt.ArrayLike, angle_deg: npt.ArrayLike, z_mm: npt.ArrayLike
) -> ComplexArray:
    """The couple unbalance of n masses about the centre plane, M = sum(m r exp(i a) z).

    mass_g, radius_mm, angle_deg, z_mm: shapes broadcast to (..., n). Returns shape (...) [g.mm^2].
    Raises OutOfRangeError for a negative mass or radius, NotFiniteError.
    """
    require_finite(z_mm=z_mm)
    couple: ComplexArray = np.multiply(_moments(mass_g, radius_mm, angle_deg), z_mm).sum(axis=-1)
    return couple


def _moments(mass_g: npt.ArrayLike, radius_mm: npt.ArrayLike, angle_deg: npt.ArrayLike) -> ComplexArray:
    require_not_negative(mass_g=mass_g, radius_mm=radius_mm)
    require_finite(angle_deg=angle_deg)
    return phasor(np.multiply(mass_g, radius_mm), angle_deg)


def two_plane_correction(
    static_gmm: npt.ArrayLike, couple_gmm2: npt.ArrayLike, plane_z_mm: npt.ArrayLike
) -> ComplexArray:
    """The two corrections that cancel a static and a couple unbalance.

    C_1 = (M - z_2 U) / (z_2 - z_1),  C_2 = (z_1 U - M) / (z_2 - z_1)

    static_gmm, couple_gmm2: shape (...). plane_z_mm: shape (..., 2). Returns shape (..., 2) [g.mm]; the
    weight is the size over the plane's radius. Raises UnsolvableError where both planes have one z,
    NotFiniteError.
    """
    require_finite(static_gmm=static_gmm, couple_gmm2=couple_gmm2)
    static, couple = np.asarray(static_gmm), np.asarray(couple_gmm2)
    first_z, second_z = _plane_pair(plane_z_mm)
    distance = second_z - first_z
    return np.stack(
        np.broadcast_arrays(
            (couple - second_z * static) / distance,
            (first_z * static - couple) / distance,
        ),
        axis=-1,
    )


def two_plane_scale(
    static_scale_gmm: npt.ArrayLike, couple_scale_gmm2: npt.ArrayLike, plane_z_mm: npt.ArrayLike
) -> FloatArray:
    """The size of what `two_plane_correction` adds up, below 1e-9 of which a correction has no direction.

    static_scale_gmm, couple_scale_gmm2: the sums of the inputs' sizes, shape (...). Returns shape (..., 2)
    [g.mm].
    """
    planes = np.flip(np.abs(np.stack(_plane_pair(plane_z_mm), axis=-1)), axis=-1)
    distance = np.abs(np.diff(plane_z_mm))
    static, couple = np.expand_dims(static_scale_gmm, -1), np.expand_dims(couple_scale_gmm2, -1)
    scale: FloatArray = (couple + planes * static) / distance
    return scale


def _plane_pair(plane_z_mm: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    require_finite(plane_z_mm=plane_z_mm)
    planes = np.asarray(plane_z_mm)
    first_z, second_z = planes[..., 0], planes[..., 1]
    if (np.abs(second_z - first_z) < SMALLEST_PLANE_DISTANCE_MM).any():
        raise UnsolvableError("plane_z_mm", "Give the two planes different z; they stand at the same place.")
    return first_z, second_z


def single_plane_correction(static_gmm: npt.ArrayLike) -> ComplexArray:
    """The correction that cancels a static unbalance from one plane, C = -U. Any shape [g.mm]."""
    require_finite(static_gmm=static_gmm)
    correction: ComplexArray = np.negative(static_gmm)
    return correction


def couple_left(static_gmm: npt.ArrayLike, couple_gmm2: npt.ArrayLike, z_mm: npt.ArrayLike) -> ComplexArray:
    """The couple about z = 0 that remains once a single-plane correction sits at z, M - z U.

    Shapes broadcast. Returns [g.mm^2].
    """
    require_finite(static_gmm=static_gmm, couple_gmm2=couple_gmm2, z_mm=z_mm)
    left: ComplexArray = np.subtract(couple_gmm2, np.multiply(z_mm, static_gmm))
    return left


def round_to_step(mass_g: npt.ArrayLike, step_g: npt.ArrayLike, dead_band_g: npt.ArrayLike) -> FloatArray:
    """A machine's rounding: step * floor(mass / step + 0.5), and 0 for a mass below the dead band.

    Shapes broadcast [g]. Raises OutOfRangeError for a step that is not above 0 or a negative dead band.
    """
    require_not_negative(mass_g=mass_g, dead_band_g=dead_band_g)
    require_positive(step_g=step_g)
    rounded = np.multiply(step_g, np.floor(np.divide(mass_g, step_g) + 0.5))
    return np.where(np.less(mass_g, dead_band_g), 0.0, rounded)[()]


@dataclass(frozen=True)
class Spin:
    """What a spin finds: `corrections_g` asked for in the entered planes, `left_g` left in the true planes.

    Both are phasors, shape (..., 2) [g]: a mass at its plane's radius and its angle.
    """

    corrections_g: ComplexArray
    left_g: ComplexArray


def spin(
    static_gmm: npt.ArrayLike,
    couple_gmm2: npt.ArrayLike,
    plane_z_mm: npt.ArrayLike,
    plane_radius_mm: npt.ArrayLike,
    entered_z_mm: npt.ArrayLike,
    entered_radius_mm: npt.ArrayLike,
    fitted_gmm: npt.ArrayLike = (0.0, 0.0),
    mounting_gmm: npt.ArrayLike = 0.0,
) -> Spin:
    """What a balancing machine shows, from the truth and from what was typed into it.

    static_gmm, couple_gmm2: the assembly without its weights, shape (...). plane_z_mm, plane_radius_mm: the
    true planes, entered_z_mm, entered_radius_mm: as typed in, shape (..., 2). fitted_gmm: the weights on it
    at their true planes, shape (..., 2). mounting_gmm: the mounting error, mass times eccentricity, in the
    plane z = 0, shape (...). The machine senses all of it and solves with the entered planes.
    Raises UnsolvableError for a plane pair with one z, OutOfRangeError for a radius that is not above 0.
    """
    require_positive(plane_radius_mm=plane_radius_mm, entered_radius_mm=entered_radius_mm)
    require_finite(fitted_gmm=fitted_gmm, mounting_gmm=mounting_gmm)
    static = np.add(static_gmm, np.sum(fitted_gmm, axis=-1))
    couple = np.add(couple_gmm2, np.multiply(fitted_gmm, plane_z_mm).sum(axis=-1))
    try:
        asked = two_plane_correction(np.add(static, mounting_gmm), couple, entered_z_mm)
    except UnsolvableError as fault:
        raise UnsolvableError("entered_z_mm", fault.message) from None
    left = -two_plane_correction(static, couple, plane_z_mm)
    return Spin(
        corrections_g=np.divide(asked, entered_radius_mm),
        left_g=np.divide(left, plane_radius_mm),
    )


def specific_unbalance(grade_mm_s: npt.ArrayLike, speed_rpm: npt.ArrayLike) -> FloatArray:
    """The permissible unbalance for each kilogram of rotor, e_per = 1000 G / omega. Shapes broadcast.

    Returns [micrometre], which is [g.mm/kg]. Source: ISO 21940-11.
    """
    require_not_negative(grade_mm_s=grade_mm_s)
    require_positive(speed_rpm=speed_rpm)
    omega = np.divide(speed_rpm, SECONDS_PER_MINUTE) * RADIANS_PER_TURN
    specific: FloatArray = np.multiply(grade_mm_s, 1000.0) / omega
    return specific


def share_between_planes(
    total_gmm: npt.ArrayLike, plane_z_mm: npt.ArrayLike, centre_of_mass_z_mm: npt.ArrayLike
) -> FloatArray:
    """A permissible unbalance shared between two planes.

    In inverse proportion to each plane's distance from the centre of mass; then neither below 0.3 nor above
    0.7 of the total. total_gmm, centre_of_mass_z_mm: shape (...). plane_z_mm: shape (..., 2). Returns shape
    (..., 2) [g.mm].
    Raises OutOfRangeError where the centre of mass does not lie between the planes. Source: ISO 21940-11.
    """
    require_not_negative(total_gmm=total_gmm)
    require_finite(centre_of_mass_z_mm=centre_of_mass_z_mm)
    first_z, second_z = _plane_pair(plane_z_mm)
    first_share = np.divide(np.subtract(second_z, centre_of_mass_z_mm), second_z - first_z)
    if (first_share < 0).any() or (first_share > 1).any():
        raise OutOfRangeError("centre_of_mass_z_mm", "Give a centre of mass between the two planes.")
    first_share = np.clip(first_share, SMALLEST_PLANE_SHARE, LARGEST_PLANE_SHARE)
    shares = np.stack([first_share, 1.0 - first_share], axis=-1)
    shared: FloatArray = np.expand_dims(total_gmm, -1) * shares
    return shared
