"""A smooth curve through given points."""

from collections.abc import Sequence

from app.drawings.polar import Point

STEPS = 6


def smooth(points: Sequence[Point]) -> list[Point]:
    """A Catmull-Rom spline through `points`, as a fine polyline with the same ends."""
    if len(points) < 3:
        return list(points)
    padded = [points[0], *points, points[-1]]
    curve = [
        _between(padded[i], padded[i + 1], padded[i + 2], padded[i + 3], step / STEPS)
        for i in range(len(points) - 1)
        for step in range(STEPS)
    ]
    return [*curve, points[-1]]


def _between(before: Point, start: Point, end: Point, after: Point, t: float) -> Point:
    x, y = (
        0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)
        for a, b, c, d in zip(before, start, end, after, strict=True)
    )
    return x, y
