"""Vectors around the wheel as complex phasors: size * exp(i * angle).

Degrees outside, radians inside. The real axis points at the valve stem.
"""

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray, wrap

# Below this share of its inputs' size a result is what rounding left over, and its direction means nothing.
NO_DIRECTION_BELOW = 1e-9

ComplexArray = npt.NDArray[np.complex128]


def phasor(size: npt.ArrayLike, angle_deg: npt.ArrayLike) -> ComplexArray:
    """The phasor of a size at an angle [°]. Shapes broadcast."""
    turned: ComplexArray = np.multiply(size, np.exp(1j * np.deg2rad(angle_deg)))
    return turned


def size(p: npt.ArrayLike) -> FloatArray:
    """The size of a phasor, in the unit of its size. Any shape."""
    absolute: FloatArray = np.abs(np.asarray(p, dtype=complex))
    return absolute


def angle_deg(p: npt.ArrayLike, scale: npt.ArrayLike | None = None) -> FloatArray:
    """The direction of a phasor in 0 <= a < 360 [°], nan where it has none.

    p: any shape. scale: the size of the inputs that p was made of, in p's unit (broadcasts); a phasor below
    1e-9 of it has no direction. Without a scale only the zero phasor has none.
    """
    values = np.asarray(p, dtype=complex)
    smallest = 0.0 if scale is None else np.multiply(scale, NO_DIRECTION_BELOW)
    no_direction = (values == 0) | (np.abs(values) < smallest)
    return np.where(no_direction, np.nan, wrap(np.rad2deg(np.angle(values))))[()]
