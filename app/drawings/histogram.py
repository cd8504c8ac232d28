"""How often values occur: bars over a scale, or around the circle for angles; each with its table."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.drawings.calculator_chart import FOOT, WIDTH, Field, axis
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.polar import Point, nice_step, point, step_text
from app.drawings.shapes import Circle, Polyline, Shape
from app.drawings.wheel_face import degree_ring

MOST_BARS = 20
SECTORS = 24
CENTRE: Point = (200.0, 200.0)
RING, HUB = 172.0, 40.0
REACH = 112.0
"""Of the longest bar around the circle."""


@dataclass(frozen=True)
class Bar:
    """low, high: from which value to which; count: how many are at least low and below high."""

    low: float
    high: float
    count: int


def bars_of(values: Sequence[float], most: int = MOST_BARS) -> list[Bar]:
    """The values in equal bars of a round width; the last one holds its high end too. Raises DrawingError."""
    if not len(values):
        raise DrawingError("values must hold at least one number")
    low, high = min(finite("values", each) for each in values), max(values)
    step = nice_step(high - low, most)
    first = np.floor(low / step + 1e-9) * step
    count = max(1, int(np.ceil((high - first) / step - 1e-9)))
    edges = first + step * np.arange(count + 1)
    places = np.clip(((np.asarray(values) - first) / step + 1e-9).astype(int), 0, count - 1)
    counts = np.bincount(places, minlength=count)
    return [Bar(float(edges[i]), float(edges[i + 1]), int(counts[i])) for i in range(count)]


def histogram(values: Sequence[float], *, name: str, title: str) -> Drawing:
    """Bars over a scale. name: of the scale, with its unit: "mass, g". Raises DrawingError."""
    bars = bars_of(values)
    scale = axis(name, [bars[0].low, bars[-1].high], 5)
    field = Field(scale, axis("variants", [0.0, float(max(bar.count for bar in bars))]))
    shapes: list[Shape] = []
    for bar in bars:
        if bar.count:
            corners = [(bar.low, 0.0), (bar.low, bar.count), (bar.high, bar.count), (bar.high, 0.0)]
            shapes.append(
                Polyline(tuple(field.at(*corner) for corner in corners), "thin", "wash", closed=True)
            )
    return Drawing(
        title=title,
        description=f"How many of {len(values)} variants lie in each bar, by {name}.",
        width=WIDTH,
        height=FOOT,
        shapes=(*shapes, *field.grid()),
        twin=_twin(title, name, bars),
    )


def rose(angles_deg: Sequence[float], *, title: str) -> Drawing:
    """Angles around the circle, clockwise from the valve, in sectors. Raises DrawingError."""
    if not len(angles_deg):
        raise DrawingError("angles_deg must hold at least one number")
    width = 360 / SECTORS
    places = [int(finite("angles_deg", each) % 360 // width) % SECTORS for each in angles_deg]
    counts = np.bincount(places, minlength=SECTORS)
    most = int(counts.max())
    shapes: list[Shape] = [Circle(*CENTRE, HUB, "thin"), Circle(*CENTRE, HUB + REACH, "light")]
    for sector in range(SECTORS):
        if counts[sector]:
            outer = HUB + REACH * counts[sector] / most
            shapes.append(Polyline(_sector(sector * width, width, outer), "thin", "wash", closed=True))
    bars = [Bar(i * width, (i + 1) * width, int(counts[i])) for i in range(SECTORS)]
    return Drawing(
        title=title,
        description=f"How many of {len(angles_deg)} variants lie in each sector of {width:g} degrees, "
        f"clockwise from the valve; the longest stands for {most}.",
        width=WIDTH,
        height=2 * CENTRE[1],
        shapes=(*shapes, *degree_ring(CENTRE, RING)),
        twin=_twin(title, "angle, °", bars),
    )


def _sector(start_deg: float, width_deg: float, outer: float) -> tuple[Point, ...]:
    """From the hub out to a radius and back, with its outer edge in steps of 3 degrees."""
    edge = [point(CENTRE, outer, start_deg + step) for step in np.linspace(0, width_deg, 6)]
    return (point(CENTRE, HUB, start_deg), *edge, point(CENTRE, HUB, start_deg + width_deg))


def _twin(title: str, name: str, bars: Sequence[Bar]) -> Twin:
    rows = [(f"{step_text(bar.low)} to {step_text(bar.high)}", str(bar.count)) for bar in bars]
    return Twin(title, (name[:1].upper() + name[1:], "Variants"), tuple(rows))
