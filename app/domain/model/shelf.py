"""Quantities of real weights: pieces from the shelf, the other unit, the clip, and weights behind spokes."""

from typing import Any

import numpy as np

from app.compute import angles, phasors, stock, units, weight_clips
from app.domain.measures import Measure, UnitSystem
from app.domain.model.registry import computed_once, of_assembly

NO_CLIP = "none"
SIDES = ("before", "after")
"""The spokes on either side of a weight, clockwise: the one that comes before it and the one after it."""
_OF_SIDES = {side: f"{side} the outboard weight" for side in SIDES}


@of_assembly("pieces.{plane}", Measure.COUNT, "fewest pieces that make the {plane} plane's total")
def pieces(assembly: Any, plane: str) -> Any:
    total_g = np.asarray(assembly.value(f"stock.{plane}.mass_g"))
    machine = assembly.model.truth.machine
    # A shelf makes few totals, so each is taken apart once, however many variants share it.
    totals_g, where = np.unique(total_g, return_inverse=True)
    counts = [len(stock.weights_from_stock(each, machine.stock_g, machine.max_pieces)) for each in totals_g]
    return np.array(counts, dtype=float)[where].reshape(total_g.shape)


@of_assembly("stock_left.{plane}.mass_g", Measure.MASS, "how far the {plane} plane's total misses the need")
def stock_left(assembly: Any, plane: str) -> Any:
    return np.abs(assembly.value(f"correction.{plane}.mass_g") - assembly.value(f"stock.{plane}.mass_g"))


@of_assembly(
    "other_unit.{plane}",
    Measure.NUMBER,
    "weight that the {plane} plane needs in the unit that the class doesn't use: ounces or grams",
)
def other_unit(assembly: Any, plane: str) -> Any:
    unit = "oz" if assembly.model.truth.units is UnitSystem.METRIC else "g"
    return units.convert(assembly.value(f"correction.{plane}.mass_g"), "g", unit)


@of_assembly("clip", Measure.CHOICE, "the clip that fits the rim's flange, or none")
def clip(assembly: Any) -> Any:
    names = np.array([*(each.name.lower() for each in weight_clips.CLIPS), NO_CLIP])
    # NO_CLIP of the computation is -1, the last name.
    return names[weight_clips.clip_index(assembly.truth.bench.flange_mm)]


def spokes_of(assembly: Any) -> int:
    """How many spokes the wheel has. Raises LookupError for fewer than 3."""
    count = assembly.truth.bench.sheet.spokes
    if count < 3:
        raise LookupError(f"assembly {assembly.truth.id} has no bench.spokes, at least 3")
    return int(count)


@computed_once
def _spokes_deg(assembly: Any) -> Any:
    """The two spokes between which the outboard weight lies, clockwise: (..., 2). The first gap is at the
    valve.
    """
    pitch = angles.FULL_TURN_DEG / spokes_of(assembly)
    weight_deg = np.nan_to_num(np.asarray(assembly.value("correction.outboard.angle_deg")))
    before = (np.floor(weight_deg / pitch - 0.5) + 0.5) * pitch
    return np.stack([before, before + pitch], axis=-1)


@computed_once
def _shares_g(assembly: Any) -> Any:
    weight_deg = np.nan_to_num(np.asarray(assembly.value("correction.outboard.angle_deg")))
    return stock.split_weight(assembly.value("correction.outboard.mass_g"), weight_deg, _spokes_deg(assembly))


@of_assembly("spoke.{part}.angle_deg", Measure.ANGLE, "the spoke that comes {part}", parts=_OF_SIDES)
def spoke_angle(assembly: Any, side: str) -> Any:
    return angles.wrap(_spokes_deg(assembly)[..., SIDES.index(side)])


@of_assembly(
    "spoke.{part}.mass_g", Measure.MASS, "share of it behind the spoke that comes {part}", parts=_OF_SIDES
)
def spoke_mass(assembly: Any, side: str) -> Any:
    return _shares_g(assembly)[..., SIDES.index(side)]


@of_assembly(
    "spoke_stock.{part}.mass_g",
    Measure.MASS,
    "nearest total from stock for that share, {part}",
    parts=_OF_SIDES,
)
def spoke_stock(assembly: Any, side: str) -> Any:
    machine = assembly.model.truth.machine
    return stock.nearest_stock_sum(
        assembly.value(f"spoke.{side}.mass_g"), machine.stock_g, machine.max_pieces
    )


@of_assembly(
    "nearest_spoke.mass_g", Measure.MASS, "unbalance left with the whole weight behind the nearest spoke"
)
def nearest_spoke_left(assembly: Any) -> Any:
    needed_g = assembly.phasor("correction.outboard.mass_g", "correction.outboard.angle_deg")
    fitted_g = phasors.phasor(np.abs(needed_g)[..., np.newaxis], _spokes_deg(assembly))
    return np.min(np.abs(fitted_g - needed_g[..., np.newaxis]), axis=-1)
