"""Weights laid end to end beside the mass that they stand for."""

from collections.abc import Sequence

from app.drawings.calculator_tire_size import Size
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import text_width
from app.drawings.shapes import Line, Polyline, Shape, Text, dimension

WIDTH = 400.0
LEFT, RIGHT = 16.0, 384.0
HEIGHT = 44.0


def pieces_laid_out(target: Size, pieces: Sequence[Size], *, total: Size, title: str) -> Drawing:
    """The wanted mass as a dimension over the pieces, both to one scale. Raises DrawingError."""
    for name, each in [("target", target), ("total", total), *(("pieces", piece) for piece in pieces)]:
        if finite(name, each.size) < 0:
            raise DrawingError(f"{name} must not be negative, not {each.size}")
    longest = max(target.size, total.size) or 1.0
    scale = (RIGHT - LEFT) / longest
    end = LEFT + target.size * scale
    top = 46.0
    shapes: list[Shape] = []
    x = LEFT
    for piece in pieces:
        right = x + piece.size * scale
        shapes.append(
            Polyline(
                ((x, top), (right, top), (right, top + HEIGHT), (x, top + HEIGHT)),
                "outline",
                "wash",
                closed=True,
            )
        )
        if text_width(piece.text) < right - x:
            shapes.append(Text((x + right) / 2, top + HEIGHT / 2, piece.text))
        x = right
    shapes += [
        Line(LEFT, 24, LEFT, top + HEIGHT + 34, "light"),
        Line(end, 24, end, top, "light"),
        *dimension((LEFT, 30), (end, 30), Text((LEFT + end) / 2, 14, f"wanted {target.text}", "small")),
        Line(x, top + HEIGHT, x, top + HEIGHT + 34, "light"),
        *dimension(
            (LEFT, top + HEIGHT + 28),
            (x, top + HEIGHT + 28),
            Text((LEFT + x) / 2, top + HEIGHT + 14, total.text, "small"),
        ),
    ]
    return Drawing(
        title=title,
        description="The pieces end to end below the mass that is wanted, both to one scale.",
        width=WIDTH,
        height=top + HEIGHT + 44,
        shapes=tuple(shapes),
        twin=Twin(
            title,
            ("What", "Mass"),
            (("wanted", target.text), *(("piece", piece.text) for piece in pieces), ("together", total.text)),
        ),
    )
