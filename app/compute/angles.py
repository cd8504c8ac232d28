"""Angles around the wheel.

The one convention: degrees, clockwise from the valve stem, the wheel seen from its outboard (street) side.
An angle lies in 0 <= a < 360; a turn of one thing against another in -180 < t <= 180, positive clockwise.
"""

import math
from typing import Any

import numpy as np
import numpy.typing as npt

FULL_TURN_DEG = 360.0
HALF_TURN_DEG = 180.0

FloatArray = npt.NDArray[np.float64]


def wrap(angle_deg: npt.ArrayLike) -> FloatArray:
    """The same direction in 0 <= a < 360. Any shape [°], same shape out."""
    if isinstance(angle_deg, float):  # one angle needs no array
        return _wrap_one(angle_deg)
    wrapped = np.mod(np.asarray(angle_deg, dtype=float), FULL_TURN_DEG)
    # The remainder of a tiny negative angle rounds up to a full turn.
    return np.where(wrapped >= FULL_TURN_DEG, 0.0, wrapped)[()]


def _wrap_one(angle_deg: float) -> Any:
    wrapped = angle_deg % FULL_TURN_DEG if math.isfinite(angle_deg) else math.nan
    return np.float64(wrapped if wrapped != FULL_TURN_DEG else 0.0)


def wrap_turn(turn_deg: npt.ArrayLike) -> FloatArray:
    """The same turn in -180 < t <= 180, the short way round. Any shape [°], same shape out."""
    wrapped = wrap(turn_deg)
    if isinstance(wrapped, float):
        return wrapped - FULL_TURN_DEG if wrapped > HALF_TURN_DEG else wrapped
    return np.where(wrapped > HALF_TURN_DEG, wrapped - FULL_TURN_DEG, wrapped)[()]


def difference(a_deg: npt.ArrayLike, b_deg: npt.ArrayLike) -> FloatArray:
    """The turn that takes b to a, in -180 < t <= 180: 1 is +2 from 359. Shapes broadcast [°]."""
    return wrap_turn(np.subtract(a_deg, b_deg))


def opposite(angle_deg: npt.ArrayLike) -> FloatArray:
    """The direction half a turn away, in 0 <= a < 360. Any shape [°], same shape out."""
    return wrap(np.add(angle_deg, HALF_TURN_DEG))
