"""Real weights from a box, one weight behind two spokes, and the units they are written in."""

import math
from typing import Annotated

from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given, Name, NotNegative, Number, Positive
from app.compute import stock, units
from app.compute.errors import OutOfRangeError


class StockGiven(Given):
    """A mass wanted and the sizes in the box."""

    target_g: NotNegative
    stock_g: Annotated[list[Positive], Field(min_length=1, max_length=100)]
    max_pieces: Annotated[int, Field(ge=1, le=stock.LARGEST_MAX_PIECES)]


class SplitGiven(Given):
    """A weight and the two angles that take its place."""

    mass_g: NotNegative
    angle_deg: Number
    at_deg: Annotated[list[Number], Field(min_length=2, max_length=2)]


class ConvertGiven(Given):
    """A value, its unit and the unit wanted."""

    value: Number
    from_unit: Annotated[Name, Field(alias="from")]
    to_unit: Annotated[Name, Field(alias="to")]


@calculation("weights-from-stock", "The pieces from the box whose sum comes nearest to a mass")
def weights_from_stock(given: StockGiven) -> Answer:
    """The pieces, their sum, and by how much it misses."""
    pieces = stock.weights_from_stock(given.target_g, given.stock_g, given.max_pieces)
    total = math.fsum(pieces)
    return {"pieces_g": list(pieces), "sum_g": total, "error_g": total - given.target_g}


@calculation("split-weight", "Two weights at given angles that act as one")
def split_weight(given: SplitGiven) -> Answer:
    """The two masses in the order of their angles."""
    masses = stock.split_weight(given.mass_g, given.angle_deg, given.at_deg)
    return {"masses_g": [float(mass) for mass in masses]}


@calculation("convert", "A value in another unit of its kind", fields={"from_unit": "from", "to_unit": "to"})
def convert(given: ConvertGiven) -> Answer:
    """The value in the wanted unit; a negative mass or a temperature below absolute zero is refused."""
    value = units.convert(given.value, given.from_unit, given.to_unit)
    kind = units.unit_named(given.from_unit).kind
    if kind == "mass" and given.value < 0:
        raise OutOfRangeError("value", "Give a mass that is not negative.")
    if kind == "temperature" and units.convert(given.value, given.from_unit, "K") < 0:
        raise OutOfRangeError("value", "Give a temperature that is not below absolute zero.")
    return {"value": float(value)}
