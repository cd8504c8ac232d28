"""What is moulded into the sidewalls."""

from collections.abc import Sequence

from app.domain.mark_sheets import OUT
from app.domain.model.marks import arrow_turns
from app.domain.truth import TireTruth
from app.domain.variants import Variant
from app.drawings.measured.parts import NONE, Measured, Table, measurement, of, words
from app.drawings.sidewall import Moulded, sidewall


def sidewalls(variant: Variant, letters: Sequence[str]) -> Measured:
    """Each tire's sidewall with its designation and identification number, to be read as on the tire.

    A rotation arrow and a marked outside stand in it as they are seen from outboard.
    """
    tires = {letter: variant.truth.assemblies[letter].tire for letter in letters}
    arrows, sides = ({letter: _marks(variant, letter)[i] for letter in letters} for i in (0, 1))
    seen = "sidewall, seen from outboard" if any((*arrows.values(), *sides.values())) else "sidewall"
    columns = [
        ("Size and service description", {letter: tire.designation for letter, tire in tires.items()}),
        ("Identification number", {letter: identification(tire) for letter, tire in tires.items()}),
        *((head, each) for head, each in ((ARROW, arrows), (SIDE, sides)) if any(each.values())),
    ]
    return measurement(
        "Sidewalls",
        [
            sidewall(
                tire.designation,
                identification(tire),
                words=[Moulded(sides[letter].upper(), 270)] if sides[letter] else (),
                rotation=arrows[letter] or None,
                title=of(letter, variant, seen),
            )
            for letter, tire in tires.items()
        ],
        [
            Table(
                _caption(variant, letters),
                (words("Assembly"), *(words(head) for head, _ in columns)),
                tuple((letter, *(cells[letter] or NONE for _, cells in columns)) for letter in letters),
            )
        ],
    )


ARROW, SIDE = "Arrow, seen from outboard", "Word on the side you see"


def _caption(variant: Variant, letters: Sequence[str]) -> str:
    """Names the assemblies where there are others, so that two tables of one lab have two names."""
    if len(letters) == len(variant.scenario.assembly_ids):
        return "What the sidewalls say"
    names = ", ".join(letters)
    return f"What the sidewall of {names} says" if len(letters) == 1 else f"What the sidewalls of {names} say"


def _marks(variant: Variant, letter: str) -> tuple[str, str]:
    """Which way the arrow points and the word on the side that is seen from outboard; empty for none."""
    view = variant.model.assembly(letter)
    found = view.truth.marks
    arrow = "" if found.rotation is None else str(arrow_turns(view))
    if found.outside is None:
        return arrow, ""
    return arrow, "outside" if str(found.outside) == OUT else "inside"


def identification(tire: TireTruth) -> str:
    """The tire identification number: two digits each for week and year, one for the year before 2000.

    Source: 49 CFR 574.5. Raises LookupError for a tire without one.
    """
    if tire.week is None or tire.year is None:
        raise LookupError("this tire has no tin")
    week, year = int(tire.week), int(tire.year)
    date = f"{week:02d}{year % 100:02d}" if year >= 2000 else f"{week:02d}{year % 10}"
    return f"DOT {tire.tin_prefix} {date}"
