"""Which assembly goes to which corner of the car.

An arrangement gives the assembly at each position; all 24 are tried. Costs come for all arrangements at
once, so that one call ranks one car or ten thousand.
"""

from collections.abc import Collection, Sequence
from itertools import permutations
from typing import Literal

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import EQUAL_WITHIN
from app.compute.errors import UnsolvableError, WrongCountError, require_finite, require_not_negative
from app.compute.ranking import ranks

POSITIONS = ("LF", "RF", "LR", "RR")
LEFT_FRONT, RIGHT_FRONT, LEFT_REAR, RIGHT_REAR = range(4)

# ARRANGEMENTS[k, p] is the assembly that arrangement k puts at position p.
ARRANGEMENTS: npt.NDArray[np.intp] = np.array(list(permutations(range(4))), dtype=np.intp)
ARRANGEMENTS.flags.writeable = False

# Teaching model; that they stand in this order is common practice.
DRIVER_FRONT, OTHER_FRONT, DRIVER_REAR, OTHER_REAR = 1.00, 0.85, 0.65, 0.50
DEFAULT_REAR_SHARE = 0.3


def comfort_weights(drive_side: Literal["left", "right"]) -> FloatArray:
    """How much each position's force is felt, by the side the driver sits on. Shape (4,), as POSITIONS."""
    if drive_side == "left":
        return np.array([DRIVER_FRONT, OTHER_FRONT, DRIVER_REAR, OTHER_REAR])
    return np.array([OTHER_FRONT, DRIVER_FRONT, OTHER_REAR, DRIVER_REAR])


def comfort_costs(r1h_n: npt.ArrayLike, weights: npt.ArrayLike) -> FloatArray:
    """The felt force of every arrangement: the sum over positions of weight times r1h.

    r1h_n: the assemblies' first harmonic of radial force, shape (..., 4) [N]. weights: shape (4,).
    Returns shape (..., 24) [N].
    """
    require_not_negative(r1h_n=r1h_n, weights=weights)
    costs: FloatArray = np.asarray(r1h_n)[..., ARRANGEMENTS] @ np.asarray(weights)
    return costs


def tracking_costs(conicity_n: npt.ArrayLike, rear_share: float = DEFAULT_REAR_SHARE) -> FloatArray:
    """The pull of every arrangement, |c_RF - c_LF| + rear_share |c_RR - c_LR|.

    conicity_n: positive toward the assembly's own outboard side, shape (..., 4) [N]. On the left it then
    pushes left and on the right right, so equal conicities on an axle cancel. Returns shape (..., 24) [N].
    """
    require_finite(conicity_n=conicity_n)
    require_not_negative(rear_share=rear_share)
    placed = np.asarray(conicity_n)[..., ARRANGEMENTS]
    front = np.abs(placed[..., RIGHT_FRONT] - placed[..., LEFT_FRONT])
    rear = np.abs(placed[..., RIGHT_REAR] - placed[..., LEFT_REAR])
    costs: FloatArray = front + rear_share * rear
    return costs


def permitted(allowed: Sequence[Collection[str] | None]) -> npt.NDArray[np.bool_]:
    """Which arrangements put every assembly where it may go. Shape (24,).

    allowed: for each of the four assemblies its positions, or None where it may go anywhere.
    Raises WrongCountError for other than four, UnsolvableError where no arrangement is left.
    """
    if len(allowed) != len(POSITIONS):
        raise WrongCountError("allowed", "Give the allowed positions of four assemblies.")
    may_go = np.array(
        [[places is None or position in places for position in POSITIONS] for places in allowed]
    )
    fits: npt.NDArray[np.bool_] = np.all(may_go[ARRANGEMENTS, np.arange(len(POSITIONS))], axis=1)
    if not fits.any():
        raise UnsolvableError(
            "allowed", "No arrangement puts every assembly where it is allowed; allow more."
        )
    return fits


def is_best(costs: npt.ArrayLike) -> npt.NDArray[np.bool_]:
    """Which arrangements share the least cost, those within 1e-9 of the largest.

    costs: shape (..., n), n = 24 or the permitted ones; an infinite cost is that of one that isn't permitted
    and never the best. Returns the same shape.
    """
    values = np.asarray(costs)
    finite = np.isfinite(values)
    equal = EQUAL_WITHIN * np.abs(np.where(finite, values, 0)).max(axis=-1, keepdims=True)
    best: npt.NDArray[np.bool_] = finite & (values <= values.min(axis=-1, keepdims=True) + equal)
    return best


def worst_cost(costs: npt.ArrayLike) -> FloatArray:
    """The greatest cost of an arrangement that is permitted, whose cost is finite. (..., n) to (...)."""
    values = np.asarray(costs)
    worst: FloatArray = np.where(np.isfinite(values), values, -np.inf).max(axis=-1)
    return worst


def ranking(
    costs: npt.ArrayLike, permitted_arrangements: npt.ArrayLike, ids: Sequence[str]
) -> tuple[tuple[int, ...], int]:
    """The permitted arrangements in order of cost, and how many of them share the least cost.

    costs: shape (24,). permitted_arrangements: shape (24,), bool. ids: of the four assemblies; costs within
    1e-9 of the largest are equal and stand in the order of the ids read LF, RF, LR, RR.
    Returns the rows of ARRANGEMENTS and the number of best ones.
    """
    rows = np.flatnonzero(permitted_arrangements)
    permitted_costs = np.asarray(costs)[rows]
    places = ranks(permitted_costs)

    def by_place_then_ids(index: int) -> tuple[int, list[str]]:
        return int(places[index]), [ids[assembly] for assembly in ARRANGEMENTS[rows[index]]]

    order = sorted(range(len(rows)), key=by_place_then_ids)
    return tuple(int(rows[index]) for index in order), int(is_best(permitted_costs).sum())
