"""A tire to the sizes of its designation: from the side and from the front, dimensioned."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import text_width
from app.drawings.polar import Point
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text, dimension

WIDTH = 400.0
CENTRE: Point = (146.0, 140.0)
RADIUS = 112.0
FRONT_X = 322.0
ROW = 26.0


@dataclass(frozen=True)
class Size:
    """A length in one unit for the whole drawing, and as text."""

    size: float
    text: str


def tire_size(*, overall: Size, rim: Size, height: Size, width: Size, title: str) -> Drawing:
    """The side view with overall and rim diameter, the front view with section height and width.

    Raises DrawingError for a size that is not finite and above 0.
    """
    sizes = {
        "overall diameter": overall,
        "rim diameter": rim,
        "section height": height,
        "section width": width,
    }
    for name, each in sizes.items():
        if finite(name, each.size) <= 0:
            raise DrawingError(f"{name} must be above 0, not {each.size}")
    scale = 2 * RADIUS / overall.size
    rim_radius, half_width = rim.size * scale / 2, width.size * scale / 2
    x, y = CENTRE
    low = y + RADIUS
    shapes: list[Shape] = [
        Circle(x, y, RADIUS, "outline", "paper"),
        Circle(x, y, RADIUS - 5, "light"),
        Circle(x, y, rim_radius, "outline", "paper"),
        Circle(x, y, 9, "light"),
        Line(x - RADIUS - 10, y, x + RADIUS + 10, y, "centre"),
        Line(x, y - RADIUS - 10, x, low + 6, "centre"),
        *_front(half_width, rim_radius),
    ]
    for row, (half, size) in enumerate(((rim_radius, rim), (RADIUS, overall)), 1):
        shapes += _across(x, half, y, low + ROW * row, size.text)
    shapes += _across(FRONT_X, half_width, low - 16, low + ROW, width.text)
    beside = FRONT_X - half_width - 16
    top, edge = y - RADIUS, y - rim_radius
    shapes += [
        Line(FRONT_X - half_width, top, beside - 5, top, "light"),
        Line(FRONT_X - half_width, edge, beside - 5, edge, "light"),
        *dimension(
            (beside, top), (beside, edge), Text(beside - 11, (top + edge) / 2, height.text, "small", turn=-90)
        ),
        Text(x, 12, "from the side", "quiet"),
        Text(WIDTH - 6, 12, "from the front", "quiet", "end"),
    ]
    return Drawing(
        title=title,
        description="The tire without load, from the side and from the front, both to one scale.",
        width=WIDTH,
        height=low + 2 * ROW + 16,
        shapes=tuple(shapes),
        twin=_twin(title, sizes),
    )


def _front(half_width: float, rim_radius: float) -> list[Shape]:
    top, low = CENTRE[1] - RADIUS, CENTRE[1] + RADIUS
    corner = min(14.0, half_width / 2)
    outline = (
        *((FRONT_X - half_width + corner, top), (FRONT_X + half_width - corner, top)),
        *((FRONT_X + half_width, top + corner), (FRONT_X + half_width, low - corner)),
        *((FRONT_X + half_width - corner, low), (FRONT_X - half_width + corner, low)),
        *((FRONT_X - half_width, low - corner), (FRONT_X - half_width, top + corner)),
    )
    rims = [
        Line(
            FRONT_X - half_width,
            CENTRE[1] + side * rim_radius,
            FRONT_X + half_width,
            CENTRE[1] + side * rim_radius,
            "hidden",
        )
        for side in (-1, 1)
    ]
    return [
        Polyline(outline, "outline", "paper", closed=True),
        *rims,
        Line(FRONT_X, top - 8, FRONT_X, low + 8, "centre"),
        Line(FRONT_X - half_width - 8, CENTRE[1], FRONT_X + half_width + 8, CENTRE[1], "centre"),
    ]


def _across(x: float, half: float, from_y: float, row_y: float, text: str) -> list[Shape]:
    """A dimension of 2 x `half` about x in a row below, led down from `from_y`."""
    width = text_width(text, "small") + 6
    fits = 2 * half > width + 30
    label = Text(x, row_y if fits else row_y + 14, text, "small")
    return [
        Line(x - half, from_y, x - half, row_y + 4, "light"),
        Line(x + half, from_y, x + half, row_y + 4, "light"),
        *dimension((x - half, row_y), (x + half, row_y), label, gap=width if fits else 0),
    ]


def _twin(title: str, sizes: Mapping[str, Size]) -> Twin:
    return Twin(title, ("What", "Size"), tuple((name, size.text) for name, size in sizes.items()))
