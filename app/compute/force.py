"""Force variation against its limits, and conicity told apart from ply steer."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import EQUAL_WITHIN
from app.compute.errors import require_finite, require_positive
from app.compute.phasors import size
from app.compute.runout import first_harmonic, total_indicated


class LateralForce(NamedTuple):
    """The two parts of a tire's steady lateral force [N, in a frame fixed to the tire]."""

    conicity_n: FloatArray
    ply_steer_n: FloatArray


def within_limits(
    readings_n: npt.ArrayLike, limit_n: npt.ArrayLike, harmonic_limit_n: npt.ArrayLike | None = None
) -> npt.NDArray[np.bool_]:
    """Whether a force trace keeps its limits: its total variation and, where given, its first harmonic.

    readings_n: (..., n) [N], as in `app.compute.runout`. limit_n, harmonic_limit_n: (...) [N, peak to peak].
    Raises OutOfRangeError "limit_n" or "harmonic_limit_n", WrongCountError, NotFiniteError.
    """
    require_positive(limit_n=limit_n)
    within = _at_most(total_indicated(readings_n), limit_n)
    if harmonic_limit_n is None:
        return within
    require_positive(harmonic_limit_n=harmonic_limit_n)
    return within & _at_most(size(first_harmonic(readings_n)), harmonic_limit_n)


def conicity_and_ply_steer(clockwise_n: npt.ArrayLike, counterclockwise_n: npt.ArrayLike) -> LateralForce:
    """Conicity and ply steer from the mean lateral forces in both directions of rotation.

    Any shape, broadcast. The frame is fixed to the tire: both forces are positive toward the same
    sidewall. In it conicity keeps its sign when the rotation reverses and ply steer flips; in axes that
    turn with the rolling direction it is the other way round. Source: SAE J1988 (both directions of
    rotation; second-hand summary). Raises NotFiniteError.
    """
    require_finite(clockwise_n=clockwise_n, counterclockwise_n=counterclockwise_n)
    return LateralForce(
        conicity_n=np.add(clockwise_n, counterclockwise_n) / 2,
        ply_steer_n=np.subtract(clockwise_n, counterclockwise_n) / 2,
    )


def _at_most(value: FloatArray, limit: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    return np.asarray(value <= np.multiply(limit, 1 + EQUAL_WITHIN))
