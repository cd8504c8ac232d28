"""Real weights: the pieces in the box, and one weight replaced by two."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import EQUAL_WITHIN
from app.compute.errors import (
    OutOfRangeError,
    UnsolvableError,
    WrongCountError,
    require_finite,
    require_not_negative,
    require_positive,
)

LARGEST_MAX_PIECES = 6
# More sums than a box of real weights ever makes; above it a table would take seconds and much memory.
MOST_SUMS_TRIED = 4_000_000
SAME_LINE_WITHIN_DEG = 1e-6

Levels = tuple[FloatArray, ...]


def weights_from_stock(target_g: float, stock_g: Sequence[float], max_pieces: int) -> tuple[float, ...]:
    """The pieces from the box, largest first, whose sum comes nearest to a target. Pieces may repeat.

    Least |error|, then fewest pieces, then the larger sum, then the larger pieces first. No piece at all
    where 0 is nearest. stock_g: distinct sizes [g]. max_pieces: 1 to 6.
    Raises OutOfRangeError, WrongCountError (no sizes, or sizes that make too many different sums),
    NotFiniteError.
    """
    sizes, levels = _stock(stock_g, max_pieces)
    sums, pieces_used = _nearest(np.asarray(target_g, dtype=float), sizes, levels)
    rest = float(sums)
    pieces: list[float] = []
    for pieces_left in reversed(range(int(pieces_used))):
        # The largest piece whose rest the remaining pieces can make; the rest then holds no larger one.
        piece, rest = next(
            (size, made)
            for size in sizes
            if (made := _matching_sum(levels[pieces_left], rest - size, sizes)) is not None
        )
        pieces.append(piece)
    return tuple(pieces)


def nearest_stock_sum(target_g: npt.ArrayLike, stock_g: Sequence[float], max_pieces: int) -> FloatArray:
    """The sum of the pieces that `weights_from_stock` picks, for any shape of targets [g], same shape out."""
    sizes, levels = _stock(stock_g, max_pieces)
    sums, _ = _nearest(np.asarray(target_g, dtype=float), sizes, levels)
    return sums


def _stock(stock_g: Sequence[float], max_pieces: int) -> tuple[tuple[float, ...], Levels]:
    require_positive(stock_g=stock_g)
    sizes = tuple(sorted((float(size) for size in stock_g), reverse=True))
    if not sizes:
        raise WrongCountError("stock_g", "Give at least one size.")
    if len(set(sizes)) < len(sizes):
        raise OutOfRangeError("stock_g", "Give each size once.")
    if not 1 <= max_pieces <= LARGEST_MAX_PIECES:
        raise OutOfRangeError("max_pieces", f"Give a whole number from 1 to {LARGEST_MAX_PIECES}.")
    return sizes, _sums_by_pieces(sizes, max_pieces)


@lru_cache(maxsize=8)
def _sums_by_pieces(sizes: tuple[float, ...], max_pieces: int) -> Levels:
    """The different sums that exactly k pieces make, ascending, for k from 0 to max_pieces."""
    levels = [np.zeros(1)]
    for _ in range(max_pieces):
        if levels[-1].size * len(sizes) > MOST_SUMS_TRIED:
            raise WrongCountError(
                "stock_g", "These sizes make too many different sums; give fewer sizes or fewer pieces."
            )
        sums = np.sort(np.add.outer(levels[-1], sizes), axis=None)
        levels.append(sums[np.diff(sums, prepend=-np.inf) > EQUAL_WITHIN * sizes[0]])
    return tuple(levels)


def _nearest(
    target_g: FloatArray, sizes: tuple[float, ...], levels: Levels
) -> tuple[FloatArray, npt.NDArray[np.intp]]:
    """The sum and the number of pieces for each target, by the rule of `weights_from_stock`."""
    require_not_negative(target_g=target_g)
    equal = EQUAL_WITHIN * sizes[0]
    best_sum, best_pieces = np.zeros(target_g.shape), np.zeros(target_g.shape, dtype=np.intp)
    for pieces, sums in enumerate(levels):
        above = np.searchsorted(sums, target_g)
        higher, lower = sums[np.minimum(above, sums.size - 1)], sums[np.maximum(above - 1, 0)]
        nearer = np.where(np.abs(higher - target_g) <= np.abs(lower - target_g) + equal, higher, lower)
        better = np.abs(nearer - target_g) < np.abs(best_sum - target_g) - equal
        best_sum = np.where(better, nearer, best_sum)
        best_pieces = np.where(better, pieces, best_pieces)
    return best_sum[()], best_pieces


def _matching_sum(sums: FloatArray, wanted: float, sizes: tuple[float, ...]) -> float | None:
    equal = EQUAL_WITHIN * sizes[0]
    index = np.searchsorted(sums, wanted - equal)
    return float(sums[index]) if index < sums.size and sums[index] <= wanted + equal else None


def split_weight(mass_g: npt.ArrayLike, angle_deg: npt.ArrayLike, at_deg: npt.ArrayLike) -> FloatArray:
    """Two masses at given angles that act as one, m exp(i a) = m1 exp(i b1) + m2 exp(i b2).

    mass_g, angle_deg: shape (...). at_deg: shape (..., 2) [°]. Returns shape (..., 2) [g].
    Raises UnsolvableError where the two angles are equal or opposite, or the weight does not lie between
    them.
    """
    require_not_negative(mass_g=mass_g)
    require_finite(angle_deg=angle_deg, at_deg=at_deg)
    first, second = np.moveaxis(np.deg2rad(np.asarray(at_deg, dtype=float)), -1, 0)
    angle = np.deg2rad(angle_deg)
    opening = np.sin(second - first)
    if (np.abs(opening) <= np.sin(np.deg2rad(SAME_LINE_WITHIN_DEG))).any():
        raise UnsolvableError(
            "at_deg",
            "The weight does not lie between these two angles: they are equal or opposite; give two others.",
        )
    shares = np.stack(np.broadcast_arrays(np.sin(second - angle), np.sin(angle - first)), axis=-1)
    shares = shares / opening[..., np.newaxis]
    if (shares < -EQUAL_WITHIN).any():
        raise UnsolvableError(
            "at_deg", "The weight does not lie between these two angles; give one on either side of it."
        )
    # A weight that sits at one of the angles leaves rounding at the other.
    masses: FloatArray = np.asarray(mass_g, dtype=float)[..., np.newaxis] * np.maximum(shares, 0.0)
    return masses
