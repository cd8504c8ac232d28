"""Section hatching, and cutting a section short."""

from collections.abc import Sequence

from app.drawings.polar import Point
from app.drawings.shapes import Line


def hatch(polygon: Sequence[Point], spacing: float = 6.0, rising: bool = True) -> list[Line]:
    """Lines inside a closed polygon (even-odd rule), rising to the right or falling."""
    sign = 1 if rising else -1
    edges = list(zip(polygon, [*polygon[1:], *polygon[:1]], strict=True))
    offsets = [x + sign * y for x, y in polygon]
    lines = []
    offset = min(offsets) + spacing / 2
    while offset < max(offsets):
        # Along the line x + sign y = offset, where does each edge cross it?
        crossings = sorted(
            (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share)
            for (x1, y1), (x2, y2) in edges
            for share in [_share(x1 + sign * y1, x2 + sign * y2, offset)]
            if share is not None
        )
        pairs = zip(crossings[::2], crossings[1::2], strict=False)
        lines += [Line(*start, *end, "hatch") for start, end in pairs]
        offset += spacing
    return lines


def _share(first: float, second: float, offset: float) -> float | None:
    """How far along an edge its value reaches `offset`; None if it does not; corners count once."""
    if (first < offset) == (second < offset):
        return None
    return (offset - first) / (second - first)


def cut_below(polygon: Sequence[Point], y: float) -> list[Point]:
    """The part of a closed polygon that lies above the height `y` (y runs downward)."""
    kept: list[Point] = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        if y1 <= y:
            kept.append((x1, y1))
        if (y1 <= y) != (y2 <= y):
            kept.append((x1 + (x2 - x1) * (y - y1) / (y2 - y1), y))
    return kept
