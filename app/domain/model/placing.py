"""Where each assembly may stand, and what the arrangement in which the car came in costs.

An assembly may not go where its rotation arrow would point backward, nor, where the placard names a rear
size, on an axle whose size or load index isn't its own. In the arrangement as the car came in, the assemblies
stand left front, right front, left rear, right rear in the order of their letters.
"""

from typing import Any, Literal

import numpy as np

from app.compute import placement
from app.domain.measures import Measure
from app.domain.model.car import NO, YES
from app.domain.model.registry import of_assembly, of_car
from app.domain.model.sidewall import placard_size, same_size, size_of

SIDE_OF = dict(zip(placement.POSITIONS, ("left", "right", "left", "right"), strict=True))
AXLE_OF = dict(zip(placement.POSITIONS, ("front", "front", "rear", "rear"), strict=True))
AS_IT_CAME = 0
"""The row of `placement.ARRANGEMENTS` that keeps the order of the letters."""


def suits_side(assembly: Any, position: str) -> Any:
    """Whether the rotation arrow would point forward there: (...) of bool; True without an arrow."""
    rotation = assembly.truth.marks.rotation
    return np.asarray(True) if rotation is None else np.asarray(rotation == SIDE_OF[position])


def suits_axle(assembly: Any, position: str) -> Any:
    """Whether size and load index are those of the axle: (...) of bool; True without a size for the rear.
    Raises LookupError where the rear has its own size and a load index is missing.
    """
    placard = assembly.model.truth.vehicle.placard
    if placard.rear_size is None:
        return np.asarray(True)
    size = placard_size(placard.size if AXLE_OF[position] == "front" else placard.rear_size)
    if size.load_kg is None:
        raise LookupError("vehicle.placard sizes need a load index where the rear has its own")
    return same_size(assembly, size) & (size_of(assembly, "load_kg") >= size.load_kg)


@of_assembly("suits_rear", Measure.CHOICE, "whether size and load index suit the rear axle: yes or no")
def suits_the_rear(assembly: Any) -> Any:
    return np.where(suits_axle(assembly, "LR"), YES, NO)


@of_car("suits_rear", Measure.SEVERAL, "the assemblies whose size and load index suit the rear axle")
def all_that_suit_the_rear(model: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    return model.each("suits_rear") == YES


def permitted(model: Any) -> Any:
    """Which arrangements put every assembly where it may go: (..., 24) of bool."""
    may_go = np.stack(
        [
            np.stack(
                np.broadcast_arrays(
                    *(
                        suits_side(view, position) & suits_axle(view, position)
                        for position in placement.POSITIONS
                    )
                ),
                axis=-1,
            )
            for view in map(model.assembly, model.truth.assemblies)
        ],
        axis=-2,
    )
    return np.all(may_go[..., placement.ARRANGEMENTS, np.arange(len(placement.POSITIONS))], axis=-1)


def arrows_fix_the_sides(model: Any) -> bool:
    """Whether every tire has a rotation arrow, so that none can change sides."""
    return all(truth.marks.rotation is not None for truth in model.truth.assemblies.values())


def free_comfort(model: Any, drive_side: Literal["left", "right"]) -> Any:
    """The felt force of every arrangement, also of those that aren't permitted: (..., 24) [N]."""
    return placement.comfort_costs(model.each("placed.first_n"), placement.comfort_weights(drive_side))


def side_without_driver(model: Any) -> Literal["left", "right"]:
    return "right" if model.truth.vehicle.drive_side == "left" else "left"


def free_tracking(model: Any) -> Any:
    """The pull of every arrangement, also of those that aren't permitted: (..., 24) [N]."""
    return placement.tracking_costs(model.each("placed.conicity_n"), model.truth.vehicle.rear_share)


def only_permitted(model: Any, costs: Any) -> Any:
    """Costs (..., 24), infinite where the arrangement isn't permitted."""
    return np.where(permitted(model), costs, np.inf)


@of_car("comfort", Measure.PLACEMENT, "cost of each arrangement for comfort")
def comfort(model: Any) -> Any:
    """shape (..., 24), in the order of `app.compute.placement.ARRANGEMENTS`."""
    return only_permitted(model, free_comfort(model, model.truth.vehicle.drive_side))


@of_car("tracking", Measure.PLACEMENT, "cost of each arrangement for tracking")
def tracking(model: Any) -> Any:
    """shape (..., 24), in the order of `app.compute.placement.ARRANGEMENTS`."""
    return only_permitted(model, free_tracking(model))


@of_car("as_it_came.felt_n", Measure.FORCE, "felt force as the assemblies stood when they came in")
def felt_as_it_came(model: Any) -> Any:
    return free_comfort(model, model.truth.vehicle.drive_side)[..., AS_IT_CAME]


@of_car("as_it_came.pull_n", Measure.FORCE, "pull as the assemblies stood when they came in")
def pull_as_it_came(model: Any) -> Any:
    return free_tracking(model)[..., AS_IT_CAME]


@of_car("best.felt_n", Measure.FORCE, "felt force of the best arrangement for comfort")
def least_felt(model: Any) -> Any:
    return np.min(model.value("car.comfort"), axis=-1)


@of_car("best.pull_n", Measure.FORCE, "pull of the best arrangement for tracking")
def smallest_pull(model: Any) -> Any:
    return np.min(model.value("car.tracking"), axis=-1)


@of_car("comfort_pull_n", Measure.FORCE, "pull of the best arrangement for comfort")
def pull_of_comfort(model: Any) -> Any:
    best = np.argmin(model.value("car.comfort"), axis=-1)
    return np.take_along_axis(free_tracking(model), best[..., np.newaxis], axis=-1)[..., 0]


def why_not(assembly: Any, position: str) -> str | None:
    """Why an assembly of a single variant may not stand at a position, for people; None where it may."""
    if not suits_side(assembly, position):
        return f"its arrow would point backward on the {SIDE_OF[position]}"
    if not suits_axle(assembly, position):
        return f"its size and load index don’t suit the {AXLE_OF[position]} axle"
    return None
