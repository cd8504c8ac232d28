"""Which tire goes on which wheel.

What is left after match mounting a pair is | r1h - k p |: the distance between two numbers on a line. For a
distance on a line, taking both in order of size leaves the least in total and, at the same time, the least
at worst: wherever two pairs cross, uncrossing them raises neither their sum nor their larger one. So one
rule serves both objectives and no assignment solver is needed. Source: the rearrangement argument of Hardy,
Littlewood and Polya, Inequalities, ch. 10.
"""

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.errors import WrongCountError, require_not_negative


def pair(tire_n: npt.ArrayLike, wheel_n: npt.ArrayLike) -> npt.NDArray[np.intp]:
    """The wheel for each tire: least total and least worst force left after match mounting.

    tire_n: first harmonic of each tire's radial force. wheel_n: the force that each wheel's runout makes,
    spring rate times runout. Both shape (..., n) [N]. Returns shape (..., n): the index of each tire's
    wheel.
    Raises WrongCountError for lists of unlike length.
    """
    require_not_negative(tire_n=tire_n, wheel_n=wheel_n)
    tires, wheels = np.asarray(tire_n), np.asarray(wheel_n)
    if tires.shape != wheels.shape:
        raise WrongCountError("wheel_n", "Give as many wheels as tires.")
    wheel_of = np.empty(tires.shape, dtype=np.intp)
    by_size = np.argsort(wheels, kind="stable")
    np.put_along_axis(wheel_of, np.argsort(tires, kind="stable"), by_size, axis=-1)
    return wheel_of


def left_after_matching(tire_n: npt.ArrayLike, wheel_n: npt.ArrayLike) -> FloatArray:
    """What is left when a tire's high point sits on a wheel's low spot. Shapes broadcast [N]."""
    left: FloatArray = np.abs(np.subtract(tire_n, wheel_n))
    return left
