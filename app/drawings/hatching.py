"""Section hatching, and cutting a section short."""

from bisect import bisect_right
from collections.abc import Sequence

from app.drawings.polar import Point
from app.drawings.shapes import Line


def hatch(polygon: Sequence[Point], spacing: float = 6.0, rising: bool = True) -> list[Line]:
    """Lines inside a closed polygon (even-odd rule), rising to the right or falling."""
    sign = 1 if rising else -1
    offsets = _offsets([x + sign * y for x, y in polygon], spacing)
    crossings: list[list[Point]] = [[] for _ in offsets]
    # A hatching line is where x + sign y has its offset: which of them does each edge cross, and where?
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        first, second = x1 + sign * y1, x2 + sign * y2
        low, high = min(first, second), max(first, second)  # of its two corners one counts: none counts twice
        for place in range(bisect_right(offsets, low), bisect_right(offsets, high)):
            share = (offsets[place] - first) / (second - first)
            crossings[place].append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
    lines = []
    for crossed in crossings:
        crossed.sort()
        pairs = zip(crossed[::2], crossed[1::2], strict=False)
        lines += [Line(*start, *end, "hatch") for start, end in pairs]
    return lines


def _offsets(values: Sequence[float], spacing: float) -> list[float]:
    """Where the lines lie between the least and the greatest of `values`."""
    offsets, offset = [], min(values) + spacing / 2
    while offset < max(values):
        offsets.append(offset)
        offset += spacing
    return offsets


def cut_below(polygon: Sequence[Point], y: float) -> list[Point]:
    """The part of a closed polygon that lies above the height `y` (y runs downward)."""
    kept: list[Point] = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        if y1 <= y:
            kept.append((x1, y1))
        if (y1 <= y) != (y2 <= y):
            kept.append((x1 + (x2 - x1) * (y - y1) / (y2 - y1), y))
    return kept
