"""Readings over one turn with their harmonics, unrolled: which part of a runout is which."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.compute import runout
from app.drawings.calculator_chart import FOOT, WIDTH, Field, axis
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Part, parts_list
from app.drawings.polar import Point
from app.drawings.shapes import Circle, Polyline, Shape
from app.drawings.spots import degrees

DRAWN = 2
"""So many harmonics get a line of their own; more would be a tangle. The sum holds all that are given."""

PENS = ("own", "other")
FINE_DEG = 3


@dataclass(frozen=True)
class Wave:
    """A harmonic: its peak-to-peak size in the readings' unit, also as text; no high spot: no size."""

    order: int
    peak_to_peak: float
    high_deg: float | None
    text: str


def harmonics_over_readings(
    readings: Sequence[float],
    waves: Sequence[Wave],
    *,
    start_deg: float,
    unit: str,
    title: str = "Readings over one turn, and their harmonics",
) -> Drawing:
    """The readings as dots, the first two harmonics about the mean, and the sum of all `waves`.

    Raises DrawingError.
    """
    if not readings:
        raise DrawingError("readings must hold at least one reading")
    for index, reading in enumerate(readings):
        finite(f"readings[{index}]", reading)
    mean = sum(readings) / len(readings)
    angles = np.arange(0.0, 360.0 + FINE_DEG, FINE_DEG)
    total = _sum(angles, mean, waves)
    lines = [(wave, _sum(angles, mean, [wave]), pen) for wave, pen in zip(waves, PENS, strict=False)]
    heights = [*readings, *total, *(y for _, line, _ in lines for y in line)]
    field = Field(
        axis("angle clockwise from the valve, °", [0, 360], step=90), axis(f"reading, {unit}", heights)
    )

    shapes: list[Shape] = field.grid()
    for _, line, pen in lines:
        shapes.append(Polyline(_places(field, angles, line), pen))
    if waves:
        shapes.append(Polyline(_places(field, angles, total), "computed"))
    at = [(start_deg + 360 * i / len(readings)) % 360 for i in range(len(readings))]
    shapes += [
        Circle(*field.at(angle, reading), 3.2, "outline", "paper")
        for angle, reading in zip(at, readings, strict=True)
    ]
    parts = [Part("", "high-point", "the readings")]
    if waves:
        parts.append(Part("", "computed", _sum_words(waves)))
    parts += [Part("", pen, _words(wave)) for wave, _, pen in lines]
    list_shapes, bottom = parts_list(parts, FOOT + 6, WIDTH)
    return Drawing(
        title=title,
        description=f"Readings in {unit} over the angle in degrees clockwise from the valve.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=Twin(
            title,
            ("Order", "Peak to peak", "High spot"),
            tuple((str(wave.order), wave.text, _high(wave)) for wave in waves),
        ),
    )


def _sum(angles: np.ndarray, mean: float, waves: Sequence[Wave]) -> list[float]:
    """Where the harmonics about the mean run."""
    line = runout.trace(
        angles,
        mean,
        [wave.peak_to_peak for wave in waves],
        [math.nan if wave.high_deg is None else wave.high_deg for wave in waves],
        [wave.order for wave in waves],
    )
    return [float(y) for y in line]


def _places(field: Field, angles: np.ndarray, line: Sequence[float]) -> tuple[Point, ...]:
    return tuple(field.at(float(x), y) for x, y in zip(angles, line, strict=True))


def _words(wave: Wave) -> str:
    return f"harmonic {wave.order}: {wave.text} peak to peak, {_high(wave)}"


def _sum_words(waves: Sequence[Wave]) -> str:
    if len(waves) == 1:
        return "harmonic 1 about the mean"
    return f"sum of harmonics {waves[0].order} to {waves[-1].order} about the mean"


def _high(wave: Wave) -> str:
    return "no high spot" if wave.high_deg is None else f"high spot at {degrees(wave.high_deg)}"
