"""How far each order of each turning part lies from a felt vibration."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.polar import step_text
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text

WIDTH = 400.0
LEFT, RIGHT = 132.0, 330.0
TOP, ROW = 42.0, 26.0
FARTHEST = 100.0


@dataclass(frozen=True)
class Order:
    """One candidate: its words, how far off it lies in percent, and that as text."""

    label: str
    off_percent: float
    text: str


def order_distances(orders: Sequence[Order], *, title: str = "How far off each order lies") -> Drawing:
    """A row for each order, nearest first; one farther off than 100 % stands at the edge with an arrow.

    Raises DrawingError for no order and for an `off_percent` that is negative or not finite.
    """
    if not orders:
        raise DrawingError("orders must hold at least one order")
    for index, order in enumerate(orders):
        if finite(f"orders[{index}].off_percent", order.off_percent) < 0:
            raise DrawingError(f"orders[{index}].off_percent must not be negative")
    bottom = TOP + ROW * len(orders)
    shapes: list[Shape] = [Text(LEFT, 14, "off the felt vibration, %", "small", "start")]
    for percent in range(0, 101, 25):
        x = LEFT + (RIGHT - LEFT) * percent / FARTHEST
        shapes += [Line(x, TOP - 4, x, bottom, "light"), Text(x, TOP - 13, step_text(percent), "small")]
    shapes.append(Line(LEFT, TOP - 4, LEFT, bottom, "thin"))
    for row, order in enumerate(orders):
        shapes += _row(order, TOP + ROW * (row + 0.5), nearest=row == 0)
    return Drawing(
        title=title,
        description="The nearer an order lies to the left edge, the better it fits the vibration.",
        width=WIDTH,
        height=bottom + 8,
        shapes=tuple(shapes),
        twin=Twin(title, ("Order", "Off by"), tuple((order.label, order.text) for order in orders)),
    )


def _row(order: Order, y: float, *, nearest: bool) -> list[Shape]:
    pen = "computed" if nearest else "thin"
    x = LEFT + (RIGHT - LEFT) * min(order.off_percent, FARTHEST) / FARTHEST
    end: list[Shape] = [Circle(x, y, 5 if nearest else 3.5, pen, pen if nearest else "paper")]
    if order.off_percent > FARTHEST:
        end = [Polyline(((x - 6, y - 5), (x, y), (x - 6, y + 5)), "thin")]
    return [
        Text(LEFT - 8, y, order.label, "strong" if nearest else "small", "end"),
        Line(LEFT, y, x, y, pen),
        *end,
        Text(WIDTH - 6, y, order.text, "strong" if nearest else "small", "end"),
    ]
