"""The signs for marks on a wheel or tire. Each kind has its own shape; ink is never the only difference."""

from dataclasses import dataclass

from app.drawings.errors import DrawingError
from app.drawings.polar import Point, point
from app.drawings.shapes import Circle, Line, Polyline, Shape

SIZE = 7.0


@dataclass(frozen=True)
class Marker:
    """What a kind of mark means, how many corners its sign has (0: round) and how it is filled."""

    word: str
    corners: int
    fill: str
    turn_deg: float = 0.0


MARKERS: dict[str, Marker] = {
    "heavy-spot": Marker("heavy spot", 3, "ink"),
    "weight": Marker("weight", 4, "computed", 45),
    "own-weight": Marker("own weight", 4, "paper", 45),
    "light-spot": Marker("light-spot dot", 0, "ink"),
    "high-spot": Marker("high spot", 4, "ink"),
    "low-spot": Marker("low spot", 4, "paper"),
    "high-point": Marker("high-point dot", 0, "paper"),
    "low-point": Marker("low-point mark", 3, "paper", 180),
    "shelf-label": Marker("shelf label", 6, "paper"),
    "valve": Marker("valve", 5, "paper"),
}
VECTOR_KINDS = ("computed", "own", "other")


def marker(kind: str, at: Point, size: float = SIZE) -> list[Shape]:
    """The sign of a kind of mark, centred at `at`. Raises DrawingError for an unknown kind."""
    if kind in VECTOR_KINDS:
        from_x, to_x = at[0] - 9, at[0] + 9
        return [Line(from_x, at[1], to_x, at[1], kind)]
    sign = known(kind)
    if sign.corners == 0:
        return [Circle(*at, size * 0.8, "outline", sign.fill)]
    step = 360 / sign.corners
    corners = tuple(point(at, size, sign.turn_deg + i * step) for i in range(sign.corners))
    return [Polyline(corners, "outline", sign.fill, closed=True)]


def known(kind: str) -> Marker:
    """What stands for a kind. Raises DrawingError when there is none."""
    if kind not in MARKERS:
        raise DrawingError(f"kind must be one of {', '.join(MARKERS)}, not {kind!r}")
    return MARKERS[kind]
