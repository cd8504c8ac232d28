"""The cones of a balancer and the bore of a wheel, in section and to one scale."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.hatching import hatch
from app.drawings.polar import Point
from app.drawings.shapes import Line, Polyline, Shape, Text, dimension

WIDTH = 400.0
IN_A_ROW = 3
ROW = 128.0
CONE_HEIGHT = 46.0
PLATE = 16.0
WIDEST = 112.0
"""Drawing units of the widest cone."""


@dataclass(frozen=True)
class Cone:
    """A cone from its thin to its thick end, both also as text."""

    name: str
    thin_mm: float
    thick_mm: float
    thin_text: str
    thick_text: str


def cone_board(
    cones: Sequence[Cone], bore_mm: float, bore_text: str, *, title: str = "Cones on the board, and the bore"
) -> Drawing:
    """Each cone with the diameters of its ends, and the wheel's plate with its bore above them.

    Raises DrawingError for no cone, for more than six, and for a diameter that is not above 0.
    """
    _check(cones, bore_mm)
    scale = WIDEST / max(bore_mm, *(cone.thick_mm for cone in cones))
    shapes = _plate(bore_mm * scale, bore_text)
    rows = -(-len(cones) // IN_A_ROW)
    for place, cone in enumerate(cones):
        row, column = divmod(place, IN_A_ROW)
        in_row = min(IN_A_ROW, len(cones) - row * IN_A_ROW)
        x = WIDTH * (column + 0.5) / in_row
        shapes += _cone(cone, (x, 118 + row * ROW), scale)
    return Drawing(
        title=title,
        description="The wheel's plate with its bore above, the cones below, all to one scale.",
        width=WIDTH,
        height=104 + rows * ROW,
        shapes=tuple(shapes),
        twin=Twin(
            title,
            ("What", "Thin end", "Thick end"),
            (
                ("bore", bore_text, bore_text),
                *((cone.name, cone.thin_text, cone.thick_text) for cone in cones),
            ),
        ),
    )


def _check(cones: Sequence[Cone], bore_mm: float) -> None:
    if not 1 <= len(cones) <= 2 * IN_A_ROW:
        raise DrawingError(f"cones must hold 1 to {2 * IN_A_ROW}, not {len(cones)}")
    sizes = [("bore_mm", bore_mm)]
    for place, cone in enumerate(cones):
        sizes += [(f"cones[{place}].thin_mm", cone.thin_mm), (f"cones[{place}].thick_mm", cone.thick_mm)]
    for name, size in sizes:
        if finite(name, size) <= 0:
            raise DrawingError(f"{name} must be above 0, not {size}")


def _plate(bore: float, text: str) -> list[Shape]:
    middle, top = WIDTH / 2, 40.0
    shapes: list[Shape] = [Line(middle, 8, middle, top + PLATE + 14, "centre")]
    for side in (-1, 1):
        near, far = middle + side * bore / 2, middle + side * (bore / 2 + 66)
        plate = ((near, top), (far, top), (far, top + PLATE), (near, top + PLATE))
        shapes += [*hatch(plate), Polyline(plate, "outline", closed=True)]
        shapes.append(Line(near, top - 2, near, top - 20, "light"))
    y = top - 16
    label = Text(middle + bore / 2 + 12, y, f"bore {text}", "small", "start")
    return [*shapes, *dimension((middle - bore / 2, y), (middle + bore / 2, y), label)]


def _cone(cone: Cone, top: Point, scale: float) -> list[Shape]:
    x, y = top
    thin, thick, foot = cone.thin_mm * scale / 2, cone.thick_mm * scale / 2, y + CONE_HEIGHT
    body = ((x - thin, y), (x + thin, y), (x + thick, foot), (x - thick, foot))
    shapes: list[Shape] = [
        *hatch(body, rising=True),
        Polyline(body, "outline", closed=True),
        Line(x, y - 22, x, foot + 22, "centre"),
    ]
    for half, at, text in ((thin, y - 12, cone.thin_text), (thick, foot + 12, cone.thick_text)):
        edge = y if at < y else foot
        shapes += [Line(x + side * half, edge, x + side * half, at, "light") for side in (-1, 1)]
        words = Text(x + 4, at - 9 if at < y else at + 10, text, "small", "start")
        shapes += dimension((x - half, at), (x + half, at), words)
    return [*shapes, Text(x, foot + 38, cone.name, "strong")]
