"""One value in every unit of its kind."""

import re

from app.compute import units
from app.web.calculators.calculator import Calculator, Entered, Entry, Outcome, Result, Table, ask
from app.web.calculators.kinds import NUMBER, Choice

SIGNS = {"C": "°C", "F": "°F", "deg": "°", "clock": "o’clock", "in/32": "/32 in", "mil": "mil (0.001 in)"}
PLACES = {"value": "value", "from": "from", "to": "to"}


def _sign(unit: str) -> str:
    return SIGNS.get(unit, re.sub(r"\.", "·", unit))


def _number(value: float) -> str:
    """Eight figures, which show an exact factor whole and no rounding of the machine's."""
    return f"{value:.8g}".replace("-", "−")


def _work(entered: Entered) -> Outcome:
    kind = units.unit_named(entered["from"]).kind
    wanted = ask("convert", entered, PLACES)["value"]
    given = f"{_number(entered['value'])} {_sign(entered['from'])}"
    answer = f"{_number(wanted)} {_sign(entered['to'])}"
    return Outcome(
        headline=f"{given} = {answer}",
        results=(Result(f"{given} is", answer),),
        worked=(f"{given} = {answer}",),
        tables=(
            Table(
                f"The same in every unit of {kind}",
                ("Unit", "Value"),
                tuple(
                    (_sign(unit), _number(ask("convert", entered.but(to=unit), PLACES)["value"]))
                    for unit in units.units_of_kind(kind)
                ),
            ),
        ),
    )


OPTIONS = {name: f"{_sign(name)} – {unit.kind}" for name, unit in units.UNITS.items()}

UNITS = Calculator(
    slug="units",
    title="Units",
    lead="A value in another unit of its kind, and in all the others.",
    calculations=("convert",),
    entries=(
        Entry("value", "Value", NUMBER, "1.25"),
        Entry("from", "Its unit", Choice(OPTIONS), "oz"),
        Entry("to", "Unit wanted", Choice(OPTIONS), "g"),
    ),
    formula=("value in the wanted unit = value · factor of its unit / factor of the wanted unit",),
    source="NIST Special Publication 811 (2008), Appendix B: the inch, mile, pound and standard gravity are "
    "exact by definition, the others exact products of them.",
    work=_work,
)
