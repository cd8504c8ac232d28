"""A vehicle from above with what stands at its four corners."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.curves import smooth
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError
from app.drawings.labels import wrap
from app.drawings.polar import Point
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text, arrow

WIDTH = 400.0
HEIGHT = 384.0
MIDDLE_X = 200.0
TRACK = 66.0
AXLES = {"F": 104.0, "R": 288.0}
POSITIONS = {"LF": "left front", "RF": "right front", "LR": "left rear", "RR": "right rear"}
COLUMN = 108.0


@dataclass(frozen=True)
class Corner:
    """One corner: "LF", "RF", "LR" or "RR".

    assembly: what stands there, "" for nothing. values: lines with their units. best: what would stand there
    in the best arrangement, shown in brackets.
    """

    position: str
    assembly: str = ""
    values: tuple[str, ...] = ()
    best: str = ""


def vehicle_plan(
    corners: Sequence[Corner], *, driver_side: str = "left", title: str = "The vehicle from above"
) -> Drawing:
    """The plan with its front up; corners that are not given are empty. Raises DrawingError."""
    if driver_side not in ("left", "right"):
        raise DrawingError(f'driver_side must be "left" or "right", not {driver_side!r}')
    given = {corner.position: corner for corner in corners}
    if len(given) != len(corners) or not given.keys() <= POSITIONS.keys():
        raise DrawingError(f"corners must be different ones of {', '.join(POSITIONS)}")
    everything = [given.get(position, Corner(position)) for position in POSITIONS]
    return Drawing(
        title=title,
        description=f"The vehicle from above, its front up; the driver sits on the {driver_side}.",
        width=WIDTH,
        height=HEIGHT,
        shapes=(
            *_body(),
            *_driver(driver_side),
            *(shape for corner in everything for shape in _corner(corner)),
        ),
        twin=_twin(title, everything, driver_side),
    )


def _body() -> list[Shape]:
    half = [(34, 30), (56, 40), (64, 62), (66, 150), (66, 250), (64, 330), (52, 350), (30, 356)]
    sides = [*[(MIDDLE_X + x, y) for x, y in half], *[(MIDDLE_X - x, y) for x, y in reversed(half)]]
    outline = tuple(smooth([*sides, sides[0]]))
    glass = [((46, 138), (52, 160)), ((50, 280), (44, 304))]
    shapes: list[Shape] = [Polyline(outline, "thin", "paper", closed=True)]
    for (x1, y1), (x2, y2) in glass:
        corners = ((MIDDLE_X - x1, y1), (MIDDLE_X + x1, y1), (MIDDLE_X + x2, y2), (MIDDLE_X - x2, y2))
        shapes.append(Polyline(corners, "light", closed=True))
    shapes += [Line(MIDDLE_X - 70, y, MIDDLE_X + 70, y, "centre") for y in AXLES.values()]
    shapes += [
        Line(MIDDLE_X, 8, MIDDLE_X, HEIGHT - 8, "centre"),
        *arrow((MIDDLE_X, 84), (MIDDLE_X, 48), "thin"),
        Text(MIDDLE_X, 92, "front", "quiet"),
    ]
    return shapes


def _driver(side: str) -> list[Shape]:
    x = MIDDLE_X + (-28 if side == "left" else 28)
    seat = ((x - 14, 186), (x + 14, 186), (x + 14, 214), (x + 10, 222), (x - 10, 222), (x - 14, 214))
    return [
        Circle(x, 176, 8, "thin"),
        Line(x - 8, 176, x + 8, 176, "thin"),
        Polyline(seat, "outline", "wash", closed=True),
        Text(x, 236, "driver", "small"),
    ]


def corner_balloon(position: str) -> Point:
    """Where the letter of the assembly at a corner stands."""
    side = -1 if position[0] == "L" else 1
    return WIDTH / 2 + side * (WIDTH / 2 - 24), AXLES[position[1]] - 15


def _corner(corner: Corner) -> list[Shape]:
    side = -1 if corner.position[0] == "L" else 1
    x, y = MIDDLE_X + side * TRACK, AXLES[corner.position[1]]
    tire = tuple((x + dx, y + dy) for dx, dy in ((-11, -30), (11, -30), (11, 30), (-11, 30)))
    shapes: list[Shape] = [Polyline(tire, "outline", "paper", closed=True)]

    edge, anchor = (WIDTH / 2 + side * (WIDTH / 2 - 6)), "start" if side < 0 else "end"
    top = y - 46
    shapes += [
        Text(edge, top, f"{corner.position} {POSITIONS[corner.position]}", "small", anchor),
        Line(edge, top + 10, edge - side * COLUMN, top + 10, "thin"),
    ]
    if corner.assembly:
        balloon = corner_balloon(corner.position)
        shapes += [Circle(*balloon, 15, "outline", "paper"), Text(*balloon, corner.assembly[:3], "large")]
    else:
        shapes.append(Text(edge, top + 31, "empty", "quiet", anchor))
    if corner.best:
        shapes.append(Text(edge - side * 42, top + 31, f"[best: {corner.best[:3]}]", "small", anchor))
    lines = [line for value in corner.values for line in wrap(value, COLUMN, "small")]
    shapes += [Text(edge, top + 58 + 17 * i, line, "small", anchor) for i, line in enumerate(lines[:4])]
    return shapes


def _twin(title: str, corners: Sequence[Corner], driver_side: str) -> Twin:
    has_best = any(corner.best for corner in corners)
    rows = []
    for corner in corners:
        driver = " (driver)" if corner.position == driver_side[0].upper() + "F" else ""
        row = (
            POSITIONS[corner.position] + driver,
            corner.assembly or "empty",
            ", ".join(corner.values) or "–",
        )
        rows.append((*row, corner.best or "–") if has_best else row)
    heads = ("Corner", "Assembly", "Values", "Best") if has_best else ("Corner", "Assembly", "Values")
    return Twin(title, heads, tuple(rows))
