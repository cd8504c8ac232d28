"""The rows of the load and speed tables that a lab's own tires and placard need, and some around them."""

from collections.abc import Sequence

from app.compute import tires
from app.compute.errors import UnreadableError
from app.domain.measures import Measure
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, amount, measurement, number, numbers, unit_of, words

ROWS_AROUND = 2


def load_table(variant: Variant, _letters: Sequence[str]) -> Measured:
    """Load indices with their loads, speed symbols with their speeds, in the class's units."""
    indices = _indices(variant)
    unit = unit_of(Measure.LOAD, variant)
    loads = Table(
        "Load index: the most that one tire may carry",
        (numbers("Load index"), numbers("Load", unit)),
        tuple((str(index), number(tires.LOAD_INDEX_KG[index], Measure.LOAD, variant)) for index in indices),
    )
    speeds = Table(
        "Speed symbol: how fast the tire may go",
        (words("Symbol"), numbers("Speed", unit_of(Measure.SPEED, variant))),
        tuple(
            (symbol, amount(kmh, Measure.SPEED, variant).split()[0])
            for symbol, kmh in tires.SPEED_SYMBOL_KMH.items()
            if kmh >= tires.SPEED_SYMBOL_KMH["Q"]
        ),
    )
    return measurement("Load and speed tables", (), [loads, speeds])


def _indices(variant: Variant) -> list[int]:
    """Those of the placard and of the lab's tires, with some above and below each."""
    designations = [truth.tire.designation for truth in variant.truth.assemblies.values()]
    indices = [_index(text) for text in (*designations, variant.scenario.vehicle.placard.size)]
    around = {index + step for index in indices if index for step in range(-ROWS_AROUND, ROWS_AROUND + 1)}
    return sorted(around & tires.LOAD_INDEX_KG.keys())


def _index(designation: str) -> int | None:
    """None where there is none, and for a placard whose size is written in words of its own."""
    try:
        return tires.parse_designation(designation).load_index
    except UnreadableError:
        return None
