"""The field of a chart: from values to drawing units, with its grid, figures and axis names."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.errors import DrawingError, finite
from app.drawings.polar import Point, nice_step, step_text
from app.drawings.shapes import Line, Shape, Text

WIDTH = 400.0
LEFT, RIGHT = 56.0, 384.0
TOP, BOTTOM = 36.0, 236.0
FOOT = BOTTOM + 42


@dataclass(frozen=True)
class Axis:
    """From `low` to `high`, with a figure at every `step`; name with its unit: "speed, km/h"."""

    name: str
    low: float
    high: float
    step: float

    @property
    def ticks(self) -> list[float]:
        first = math.ceil(self.low / self.step - 1e-9)
        last = math.floor(self.high / self.step + 1e-9)
        return [i * self.step for i in range(first, last + 1)]

    def share(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low)


def axis(name: str, values: Sequence[float], steps: int = 4, step: float | None = None) -> Axis:
    """An axis that holds all `values` and ends on a figure. Raises DrawingError.

    step: between figures, where a round number is not the best (45 degrees).
    """
    if not values:
        raise DrawingError("values must hold at least one number")
    low, high = min(finite("values", each) for each in values), max(values)
    step = step or nice_step(high - low, steps)
    low, high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    if high - low < step:
        high = low + step
    return Axis(name, low, high, step)


@dataclass(frozen=True)
class Field:
    """x runs to the right, y upward."""

    x: Axis
    y: Axis

    def at(self, x: float, y: float) -> Point:
        return LEFT + (RIGHT - LEFT) * self.x.share(x), BOTTOM - (BOTTOM - TOP) * self.y.share(y)

    def grid(self) -> list[Shape]:
        """Light lines and figures, the two axes and their names."""
        shapes: list[Shape] = []
        for value in self.y.ticks:
            _, y = self.at(self.x.low, value)
            shapes += [Line(LEFT, y, RIGHT, y, "light"), Text(LEFT - 7, y, step_text(value), "small", "end")]
        for value in self.x.ticks:
            x, _ = self.at(value, self.y.low)
            shapes += [
                Line(x, BOTTOM, x, BOTTOM + 5, "thin"),
                Text(x, BOTTOM + 15, step_text(value), "small"),
            ]
        return [
            *shapes,
            Line(LEFT, TOP - 8, LEFT, BOTTOM, "thin"),
            Line(LEFT, BOTTOM, RIGHT, BOTTOM, "thin"),
            Text(8, 14, self.y.name, "small", "start"),
            Text((LEFT + RIGHT) / 2, BOTTOM + 32, self.x.name, "small"),
        ]
