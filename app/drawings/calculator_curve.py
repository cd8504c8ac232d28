"""How one value follows another: a curve, the place on it that was asked for, and other places of note."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.calculator_chart import FOOT, LEFT, RIGHT, TOP, WIDTH, Field, axis
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError
from app.drawings.labels import Box, Part, parts_list, square, tagged, text_box
from app.drawings.markers import marker
from app.drawings.polar import Point, point
from app.drawings.shapes import Line, Polyline, Text
from app.drawings.spots import with_tags


@dataclass(frozen=True)
class Spot:
    """A place on the curve, or on its own, and its words with amounts and units."""

    x: float
    y: float
    label: str
    kind: str = "high-spot"


@dataclass(frozen=True)
class Level:
    """A height to compare with, dashed across the field."""

    y: float
    label: str


def curve(
    points: Sequence[Point],
    spots: Sequence[Spot],
    *,
    x_name: str,
    y_name: str,
    label: str,
    title: str,
    level: Level | None = None,
    x_step: float | None = None,
) -> Drawing:
    """The curve through `points`, ascending in x, with its spots; `label` names it. Raises DrawingError."""
    if len(points) < 2:
        raise DrawingError(f"points must hold at least two points, not {len(points)}")
    places = [*points, *((spot.x, spot.y) for spot in spots)]
    heights = [y for _, y in places] + ([level.y] if level else [])
    lowest = min(heights)
    field = Field(axis(x_name, [x for x, _ in places], 6, x_step), axis(y_name, [min(0.0, lowest), *heights]))

    shapes = field.grid()
    taken = [text_box(shape) for shape in shapes if isinstance(shape, Text)]
    shapes.append(Polyline(tuple(field.at(x, y) for x, y in points), "computed"))
    parts = [Part("", "computed", label)]
    if level:
        _, y = field.at(field.x.low, level.y)
        shapes.append(Line(LEFT, y, RIGHT, y, "own"))
        parts.append(Part("", "own", level.label))

    letters = with_tags([""] * len(spots))
    frame = Box(LEFT, TOP - 20, WIDTH - 2, FOOT)
    for spot in spots:
        at = field.at(spot.x, spot.y)
        shapes.append(Line(at[0], at[1], at[0], field.at(spot.x, field.y.low)[1], "light"))
        taken.append(square(at, 8))
    for spot, letter in zip(spots, letters, strict=True):
        at = field.at(spot.x, spot.y)
        shapes += tagged(at, letter, _above(at), taken, frame)
        shapes += marker(spot.kind, at)
        parts.append(Part(letter, spot.kind, spot.label))

    list_shapes, bottom = parts_list(parts, FOOT + 6, WIDTH)
    rows = [(letter, spot.label) for letter, spot in zip(letters, spots, strict=True)]
    if level:
        rows.append(("level", level.label))
    return Drawing(
        title=title,
        description=f"{label}: {y_name} over {x_name}.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=Twin(title, ("Item", "What"), tuple(rows)),
    )


def _above(at: Point) -> list[Point]:
    turns = (0, 30, -30, 60, -60, 90, -90, 150, -150, 180)
    return [point(at, distance, turn) for distance in (24.0, 36.0, 50.0) for turn in turns]
