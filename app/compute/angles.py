"""Angles around the wheel.

The one convention: degrees, clockwise from the valve stem, the wheel seen from its outboard (street) side.
An angle lies in 0 <= a < 360; a turn of one thing against another in -180 < t <= 180, positive clockwise.
"""

import numpy as np
import numpy.typing as npt

FULL_TURN_DEG = 360.0
HALF_TURN_DEG = 180.0

FloatArray = npt.NDArray[np.float64]


def wrap(angle_deg: npt.ArrayLike) -> FloatArray:
    """The same direction in 0 <= a < 360. Any shape [°], same shape out."""
    wrapped = np.mod(np.asarray(angle_deg, dtype=float), FULL_TURN_DEG)
    # The remainder of a tiny negative angle rounds up to a full turn.
    return np.where(wrapped >= FULL_TURN_DEG, 0.0, wrapped)[()]


def wrap_turn(turn_deg: npt.ArrayLike) -> FloatArray:
    """The same turn in -180 < t <= 180, the short way round. Any shape [°], same shape out."""
    wrapped = wrap(turn_deg)
    return np.where(wrapped > HALF_TURN_DEG, wrapped - FULL_TURN_DEG, wrapped)[()]


def difference(a_deg: npt.ArrayLike, b_deg: npt.ArrayLike) -> FloatArray:
    """The turn that takes b to a, in -180 < t <= 180: 1 is +2 from 359. Shapes broadcast [°]."""
    return wrap_turn(np.subtract(a_deg, b_deg))


def opposite(angle_deg: npt.ArrayLike) -> FloatArray:
    """The direction half a turn away, in 0 <= a < 360. Any shape [°], same shape out."""
    return wrap(np.add(angle_deg, HALF_TURN_DEG))
