"""Which assembly goes to which corner of the car, and which tire on which wheel."""

from typing import Annotated, Literal

import numpy as np
from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given, Name, NotNegative, Number, require_distinct
from app.compute import pairing, placement
from app.compute.angles import FloatArray
from app.compute.errors import ComputeError

Position = Literal["LF", "RF", "LR", "RR"]


class Assembly(Given):
    """A tire on its wheel, measured, and where it may go."""

    id: Name
    r1h_n: NotNegative
    conicity_n: Number
    allowed: Annotated[list[Position], Field(max_length=4)] | None = None


class PositionWeights(Given):
    """How much each position's force is felt."""

    LF: NotNegative
    RF: NotNegative
    LR: NotNegative
    RR: NotNegative


class PlacementGiven(Given):
    """Four assemblies and what is asked of their arrangement."""

    assemblies: Annotated[list[Assembly], Field(min_length=4, max_length=4)]
    drive_side: Literal["left", "right"]
    objective: Literal["comfort", "tracking"]
    weights: PositionWeights | None = None
    rear_share: NotNegative = placement.DEFAULT_REAR_SHARE


class PairTire(Given):
    """A tire and the first harmonic of its radial force variation."""

    id: Name
    r1h_n: NotNegative


class PairWheel(Given):
    """A wheel and the first harmonic of its average radial runout."""

    id: Name
    runout_mm: NotNegative


class PairGiven(Given):
    """As many tires as wheels."""

    tires: Annotated[list[PairTire], Field(min_length=2, max_length=200)]
    wheels: Annotated[list[PairWheel], Field(min_length=2, max_length=200)]
    spring_rate_n_per_mm: NotNegative
    objective: Literal["total", "worst"]


@calculation(
    "placement", "The corner of the car for each of four assemblies", fields={"allowed": "assemblies"}
)
def place(given: PlacementGiven) -> Answer:
    """Every permitted arrangement with its cost, least first, and those that share the least cost."""
    ids = [assembly.id for assembly in given.assemblies]
    require_distinct(ids, "assemblies")
    permitted = placement.permitted([assembly.allowed for assembly in given.assemblies])
    costs = _costs(given)
    rows, best_count = placement.ranking(costs, permitted, ids)
    ranking = [{"positions": _positions(row, ids), "cost": float(costs[row])} for row in rows]
    return {"ranking": ranking, "best": ranking[:best_count]}


def _costs(given: PlacementGiven) -> FloatArray:
    if given.objective == "tracking":
        conicity_n = [assembly.conicity_n for assembly in given.assemblies]
        return placement.tracking_costs(conicity_n, given.rear_share)
    weights = placement.comfort_weights(given.drive_side)
    if given.weights is not None:
        weights = np.array([getattr(given.weights, position) for position in placement.POSITIONS])
    return placement.comfort_costs([assembly.r1h_n for assembly in given.assemblies], weights)


def _positions(row: int, ids: list[str]) -> dict[str, str]:
    placed = placement.ARRANGEMENTS[row]
    return {position: ids[index] for position, index in zip(placement.POSITIONS, placed, strict=True)}


@calculation("pair-tires-and-wheels", "The wheel for each tire that leaves the least force variation")
def pair_tires_and_wheels(given: PairGiven) -> Answer:
    """The pairs in the tires' order. One pairing is best for both objectives: see app.compute.pairing."""
    require_distinct([tire.id for tire in given.tires], "tires")
    require_distinct([wheel.id for wheel in given.wheels], "wheels")
    if len(given.tires) != len(given.wheels):
        raise ComputeError("wheels", f"Give as many wheels as tires: {len(given.tires)}.")
    tire_n = np.array([tire.r1h_n for tire in given.tires])
    wheel_n = np.array([wheel.runout_mm for wheel in given.wheels]) * given.spring_rate_n_per_mm
    wheel_of = pairing.pair(tire_n, wheel_n)
    after_n = pairing.left_after_matching(tire_n, wheel_n[wheel_of])
    pairs = [
        {"tire": tire.id, "wheel": given.wheels[wheel].id, "after_n": float(left)}
        for tire, wheel, left in zip(given.tires, wheel_of, after_n, strict=True)
    ]
    return {"pairs": pairs, "total_n": float(after_n.sum()), "worst_n": float(after_n.max())}
