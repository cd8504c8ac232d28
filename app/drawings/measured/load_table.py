"""The rows of the load and speed tables that a lab's own tires and placard need, and some around them."""

from collections.abc import Sequence

from app.compute import tires
from app.domain.measures import Measure
from app.domain.sheets import texts_of
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


def _indices(variant: Variant) -> range:
    """From a little below the least that any variant may show to a little above the greatest."""
    scenario = variant.scenario
    designations = [text for sheet in scenario.assemblies for text in texts_of(sheet.tire.designation)]
    designations.append(scenario.vehicle.placard.size)
    found = [index for text in designations if (index := tires.parse_designation(text).load_index)]
    first = max(min(found) - ROWS_AROUND, min(tires.LOAD_INDEX_KG))
    return range(first, min(max(found) + ROWS_AROUND, max(tires.LOAD_INDEX_KG)) + 1)
