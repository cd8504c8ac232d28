"""Balancing by experiment: turning the wheel on the shaft, and trial weights.

Readings and weights are phasors in wheel angles; their units are the caller's.
"""

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.errors import UnsolvableError, require_finite
from app.compute.phasors import ComplexArray

# A change of reading or a determinant below this share of what it is made of is rounding.
NOTHING_BELOW = 1e-9


def reindex(first: npt.ArrayLike, second: npt.ArrayLike) -> tuple[ComplexArray, ComplexArray]:
    """What belongs to the assembly and what to its mounting, from two spins with half a turn between them.

    first, second: the readings before and after the assembly was turned half a turn on the shaft, any shape.
    Returns (assembly, mounting) of the same shape; the mounting as it stood in the first spin.
    """
    require_finite(first=first, second=second)
    before, after = np.asarray(first, dtype=complex), np.asarray(second, dtype=complex)
    return (before + after) / 2, (before - after) / 2


def single_plane_correction(
    initial: npt.ArrayLike, trial: npt.ArrayLike, with_trial: npt.ArrayLike
) -> ComplexArray:
    """The correction from one trial run, the trial weight taken off again, C = -V0 W / (V1 - V0).

    initial, with_trial: the readings without and with the trial weight; trial: the weight. Shapes broadcast.
    Raises UnsolvableError where the trial weight changed nothing. Source: S. S. Rao, Mechanical Vibrations,
    ch. 9.
    """
    require_finite(initial=initial, trial=trial, with_trial=with_trial)
    before, after = np.asarray(initial, dtype=complex), np.asarray(with_trial, dtype=complex)
    change = after - before
    if (np.abs(change) <= NOTHING_BELOW * (np.abs(before) + np.abs(after))).any():
        raise UnsolvableError(
            "with_trial",
            "The trial weight changed nothing; give a reading that differs from the initial one.",
        )
    correction: ComplexArray = -before * np.asarray(trial) / change
    return correction


def influence_coefficients(
    initial: npt.ArrayLike, trial: npt.ArrayLike, readings: npt.ArrayLike
) -> ComplexArray:
    """The effect of a unit weight in plane j on reading i, a_ij = (V_ij - V_i) / W_j.

    initial: shape (..., 2). trial: the trial weight of each plane, shape (..., 2), not 0.
    readings: shape (..., 2, 2), readings[..., j, i] taken with the trial weight in plane j.
    Returns shape (..., 2, 2), a[..., i, j]. Raises NotFiniteError; UnsolvableError for a
    trial weight of 0. Source: S. S. Rao, Mechanical Vibrations, ch. 9.
    """
    require_finite(initial=initial, trial=trial, readings=readings)
    weights = np.asarray(trial, dtype=complex)
    if (weights == 0).any():
        raise UnsolvableError("trial", "Give a trial weight above 0.")
    change = np.asarray(readings, dtype=complex) - np.asarray(initial, dtype=complex)[..., np.newaxis, :]
    coefficients: ComplexArray = np.swapaxes(change / weights[..., :, np.newaxis], -1, -2)
    return coefficients


def two_plane_corrections(initial: npt.ArrayLike, coefficients: npt.ArrayLike) -> ComplexArray:
    """The two weights that cancel the initial readings, V + A C = 0.

    initial: shape (..., 2). coefficients: shape (..., 2, 2). Returns shape (..., 2).
    Raises UnsolvableError where the coefficients are singular: the two planes act alike.
    """
    require_finite(initial=initial, coefficients=coefficients)
    readings, matrix = np.asarray(initial, dtype=complex), np.asarray(coefficients, dtype=complex)
    adjugate = _adjugate(matrix)
    straight, crossed = matrix[..., 0, 0] * matrix[..., 1, 1], matrix[..., 0, 1] * matrix[..., 1, 0]
    determinant = straight - crossed
    if (np.abs(determinant) <= NOTHING_BELOW * (np.abs(straight) + np.abs(crossed))).any():
        raise UnsolvableError(
            "coefficients",
            "The trial weights in the two planes act alike, so they can't tell the planes apart; "
            "give readings that differ.",
        )
    weights: ComplexArray = -np.einsum("...ij,...j->...i", adjugate, readings) / determinant[..., np.newaxis]
    return weights


def two_plane_corrections_scale(initial: npt.ArrayLike, coefficients: npt.ArrayLike) -> FloatArray:
    """The size of what `two_plane_corrections` adds up, below 1e-9 of which a weight has no direction.

    Same shapes. The coefficients must not be singular.
    """
    matrix = np.asarray(coefficients, dtype=complex)
    determinant = matrix[..., 0, 0] * matrix[..., 1, 1] - matrix[..., 0, 1] * matrix[..., 1, 0]
    sizes = np.einsum("...ij,...j->...i", np.abs(_adjugate(matrix)), np.abs(initial))
    scale: FloatArray = sizes / np.abs(determinant)[..., np.newaxis]
    return scale


def _adjugate(matrix: ComplexArray) -> ComplexArray:
    rows = [
        np.stack([matrix[..., 1, 1], -matrix[..., 0, 1]], axis=-1),
        np.stack([-matrix[..., 1, 0], matrix[..., 0, 0]], axis=-1),
    ]
    return np.stack(rows, axis=-2)
