"""A tire seen along its direction of rolling, and the lateral forces that push it inboard or outboard."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.shapes import Line, Polyline, Shape, Text, arrow

WIDTH = 400.0
MIDDLE_X = 200.0
TIRE_TOP, TIRE_BOTTOM, TIRE_HALF = 40.0, 118.0, 34.0
REACH = 128.0
FIRST_ROW, ROW = 158.0, 44.0


@dataclass(frozen=True)
class Push:
    """One lateral force: how the wheel turned, its size in one unit for all, positive outboard, its text."""

    label: str
    size: float
    text: str


def lateral_arrows(pushes: Sequence[Push], *, title: str = "Lateral force") -> Drawing:
    """An arrow for each force, to one scale. Raises DrawingError for none, or for one that is not finite."""
    if not pushes:
        raise DrawingError("pushes must hold at least one force")
    sizes = [abs(finite(f"pushes[{index}].size", push.size)) for index, push in enumerate(pushes)]
    scale = REACH / max(*sizes, 1e-9)
    bottom = FIRST_ROW + ROW * (len(pushes) - 1) + 20
    shapes: list[Shape] = [*_tire(), Line(MIDDLE_X, 14, MIDDLE_X, bottom, "centre")]
    for index, push in enumerate(pushes):
        y = FIRST_ROW + ROW * index
        shapes += [
            *arrow((MIDDLE_X, y), (MIDDLE_X + push.size * scale, y), "computed"),
            Text(12, y - 16, f"turning {push.label}", "small", "start"),
            Text(WIDTH - 12, y - 16, push.text, "strong", "end"),
        ]
    return Drawing(
        title=title,
        description="The tire from behind. An arrow to the right pushes toward its own outboard sidewall.",
        width=WIDTH,
        height=bottom + 6,
        shapes=tuple(shapes),
        twin=Twin(
            title,
            ("Turning", "Lateral force"),
            tuple((push.label, push.text) for push in pushes),
        ),
    )


def _tire() -> list[Shape]:
    left, right = MIDDLE_X - TIRE_HALF, MIDDLE_X + TIRE_HALF
    outline = (
        (left + 6, TIRE_TOP), (right - 6, TIRE_TOP), (right, TIRE_TOP + 8), (right, TIRE_BOTTOM - 8),
        (right - 6, TIRE_BOTTOM), (left + 6, TIRE_BOTTOM), (left, TIRE_BOTTOM - 8), (left, TIRE_TOP + 8),
    )  # fmt: skip
    middle = (TIRE_TOP + TIRE_BOTTOM) / 2
    return [
        Polyline(outline, "outline", "paper", closed=True),
        Line(left - 60, TIRE_BOTTOM + 4, right + 60, TIRE_BOTTOM + 4, "thin"),
        Text(left - 12, middle, "inboard −", "small", "end"),
        Text(right + 12, middle, "+ outboard", "small", "start"),
    ]
