"""What every measurement is made of: drawings, tables, and numbers written for the class."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypedDict

from app.domain.measures import Measure, UnitSystem, show, show_clock, shown_as
from app.domain.variants import Variant
from app.drawings.drawing import Drawing, Twin

MINUS = "\N{MINUS SIGN}"
NONE = "–"


class Head(TypedDict):
    """The head of a column; numeric columns stand right-aligned."""

    label: str
    unit: str
    numeric: bool


@dataclass(frozen=True)
class Table:
    """Cells as they are shown, as many in each row as there are heads; the first cell names its row."""

    caption: str
    heads: tuple[Head, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Measured:
    """The drawings of one measurement and the tables that hold every number of them; the author's caption."""

    title: str
    drawings: tuple[Drawing, ...]
    tables: tuple[Table, ...]
    caption: str | None = None


def measurement(title: str, drawings: Sequence[Drawing], tables: Sequence[Table]) -> Measured:
    """The drawings lose their own small table: the measurement's tables say the same once, in the open."""
    bare = tuple(replace(drawing, twin=Twin(drawing.title, (), ())) for drawing in drawings)
    return Measured(title, bare, tuple(tables))


def words(label: str) -> Head:
    return Head(label=label, unit="", numeric=False)


def numbers(label: str, unit: str = "") -> Head:
    return Head(label=label, unit=unit, numeric=True)


def unit_of(measure: Measure, variant: Variant) -> str:
    return shown_as(measure, variant.units).unit


def in_unit(value: float, measure: Measure, units: UnitSystem) -> float:
    """A quantity in the class's unit, unrounded, for a drawing's scale."""
    return float(value) / shown_as(measure, units).factor


def number(value: float, measure: Measure, variant: Variant, *, decimals: int | None = None) -> str:
    """A quantity as it is shown, without its unit, which stands in the column's head."""
    return amount(value, measure, variant, decimals=decimals).removesuffix(unit_of(measure, variant)).rstrip()


def amount(value: float, measure: Measure, variant: Variant, *, decimals: int | None = None) -> str:
    """A quantity with its unit, with a true minus sign."""
    return show(float(value), measure, variant.units, decimals=decimals).replace("-", MINUS)


def angle(value: float, variant: Variant) -> str:
    return amount(value, Measure.ANGLE, variant)


def clock(value: float) -> str:
    """The clock position; a dash where there is no direction."""
    return NONE if math.isnan(value) else show_clock(float(value))


def place(value: float, variant: Variant) -> str:
    """An angle with its clock position: `135°, 4:30`."""
    return angle(value, variant) if math.isnan(value) else f"{angle(value, variant)}, {clock(value)}"


def of(letter: str, variant: Variant, title: str) -> str:
    """`Assembly B: dial readings`; where there is only one assembly just `Dial readings`."""
    if len(variant.scenario.assembly_ids) > 1:
        return f"Assembly {letter}: {title}"
    return title[:1].upper() + title[1:]


def of_these(letters: Sequence[str], variant: Variant, title: str) -> str:
    """`Assemblies B, C: dial readings`, so that tables of one sort on a page have each its own caption."""
    if len(letters) == 1:
        return of(letters[0], variant, title)
    return f"Assemblies {', '.join(letters)}: {title}"
