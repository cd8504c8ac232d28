"""The vocabulary of a drawing: six plain shapes, and arrows and dimension lines built from them.

Coordinates are drawing units, x to the right and y downward. A shape names its pen and its fill; `pens.py`
and `static/css/drawings.css` say what they look like.
"""

import math
from dataclasses import dataclass

from app.drawings.polar import Point

ARROW_LENGTH = 9.0
ARROW_HALF_WIDTH = 3.0


@dataclass(frozen=True)
class Line:
    x1: float
    y1: float
    x2: float
    y2: float
    pen: str = "thin"


@dataclass(frozen=True)
class Polyline:
    points: tuple[Point, ...]
    pen: str = "thin"
    fill: str = "none"
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    x: float
    y: float
    r: float
    pen: str = "thin"
    fill: str = "none"


@dataclass(frozen=True)
class Arc:
    """Part of a circle, clockwise from one angle to the other (degrees clockwise from the top)."""

    x: float
    y: float
    r: float
    from_deg: float
    to_deg: float
    pen: str = "thin"


@dataclass(frozen=True)
class Text:
    """One line, centred on y; `anchor` start, middle or end; `turn` in degrees clockwise about (x, y)."""

    x: float
    y: float
    text: str
    size: str = "label"
    anchor: str = "middle"
    turn: float = 0.0


@dataclass(frozen=True)
class CurvedText:
    """Text along a circle, centred on `at_deg`; on the lower half it runs the other way, to stay upright."""

    x: float
    y: float
    r: float
    at_deg: float
    text: str
    size: str = "label"


Shape = Line | Polyline | Circle | Arc | Text | CurvedText


def arrow(
    tail: Point, tip: Point, pen: str = "thin", head: str = "filled", length: float = ARROW_LENGTH
) -> list[Shape]:
    """A line with a head at `tip`: "filled" or "open". One without length is a small dot."""
    (x1, y1), (x2, y2) = tail, tip
    reach = math.hypot(x2 - x1, y2 - y1)
    if reach < 0.5:
        return [Circle(x2, y2, 3, pen, "paper" if head == "open" else pen)]
    length = min(length, reach)
    half = length * ARROW_HALF_WIDTH / ARROW_LENGTH
    ux, uy = (x2 - x1) / reach, (y2 - y1) / reach
    back = (x2 - ux * length, y2 - uy * length)
    wings = ((back[0] - uy * half, back[1] + ux * half), (x2, y2), (back[0] + uy * half, back[1] - ux * half))
    if head == "open":
        return [Line(x1, y1, x2, y2, pen), Polyline(wings, f"{pen}-head")]
    return [Line(x1, y1, *back, pen), Polyline(wings, f"{pen}-head", pen, closed=True)]


def dimension(start: Point, end: Point, text: Text, gap: float = 0.0) -> list[Shape]:
    """A dimension line with an arrow at both ends and its text; `gap` is left open in the middle for it."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    reach = math.hypot(end[0] - start[0], end[1] - start[1])
    share = min(gap / reach, 1.0) / 2 if reach else 0.0
    half_x, half_y = (end[0] - start[0]) * share, (end[1] - start[1]) * share
    return [
        *arrow((x - half_x, y - half_y), start, "dimension", length=7),
        *arrow((x + half_x, y + half_y), end, "dimension", length=7),
        text,
    ]
