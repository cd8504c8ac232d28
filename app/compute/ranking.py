"""Putting numbers in order when rounding must not decide between equals."""

import numpy as np
import numpy.typing as npt

from app.compute.constants import EQUAL_WITHIN


def ranks(values: npt.ArrayLike) -> npt.NDArray[np.intp]:
    """The place of each number, 0 for the least; equal numbers share a place.

    values: shape (n,), finite. Numbers are equal within 1e-9 of the largest. Returns shape (n,).
    """
    numbers = np.asarray(values)
    tolerance = EQUAL_WITHIN * np.abs(numbers).max(initial=0.0)
    places = np.empty(numbers.shape, dtype=np.intp)
    place, least = -1, -np.inf
    for index in np.argsort(numbers):
        if numbers[index] - least > tolerance:
            place, least = place + 1, numbers[index]
        places[index] = place
    return places
