"""What is moulded into the sidewalls."""

from collections.abc import Sequence

from app.domain.truth import TireTruth
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, measurement, of, words
from app.drawings.sidewall import sidewall


def sidewalls(variant: Variant, letters: Sequence[str]) -> Measured:
    """Each tire's sidewall with its designation and identification number, to be read as on the tire."""
    tires = {letter: variant.truth.assemblies[letter].tire for letter in letters}
    return measurement(
        "Sidewalls",
        [
            sidewall(tire.designation, identification(tire), title=of(letter, variant, "sidewall"))
            for letter, tire in tires.items()
        ],
        [
            Table(
                "What the sidewalls say",
                (words("Assembly"), words("Size and service description"), words("Identification number")),
                tuple((letter, tire.designation, identification(tire)) for letter, tire in tires.items()),
            )
        ],
    )


def identification(tire: TireTruth) -> str:
    """The tire identification number: two digits each for week and year, one for the year before 2000.

    Source: 49 CFR 574.5. Raises LookupError for a tire without one.
    """
    if tire.week is None or tire.year is None:
        raise LookupError("this tire has no tin")
    week, year = int(tire.week), int(tire.year)
    date = f"{week:02d}{year % 100:02d}" if year >= 2000 else f"{week:02d}{year % 10}"
    return f"DOT {tire.tin_prefix} {date}"
