"""The strength of a vibration over its frequency, with one peak."""

import math

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.polar import step_text
from app.drawings.shapes import Line, Polyline, Shape, Text

WIDTH, HEIGHT = 400.0, 236.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 384.0, 44.0, 188.0
STEPS_HZ = (1, 2, 5, 10, 20, 50, 100)
MOST_STEPS = 8
PEAK_WIDTH = 0.012
FLOOR = 0.05


def spectrum(peak_hz: float, peak_text: str, *, title: str = "Spectrum") -> Drawing:
    """A curve from 0 to a round frequency well above the peak. Raises DrawingError for one not above 0."""
    if finite("peak_hz", peak_hz) <= 0:
        raise DrawingError(f"peak_hz must be above 0, not {peak_hz}")
    step = next(each for each in STEPS_HZ if each * MOST_STEPS >= 1.5 * peak_hz or each == STEPS_HZ[-1])
    top_hz = step * math.ceil(1.5 * peak_hz / step)

    def x(hz: float) -> float:
        return LEFT + (RIGHT - LEFT) * hz / top_hz

    shapes: list[Shape] = []
    for hz in range(0, top_hz + 1, step):
        shapes += [
            Line(x(hz), TOP, x(hz), BOTTOM + 4, "light"),
            Text(x(hz), BOTTOM + 14, step_text(hz), "small"),
        ]
    points = tuple(
        (x(hz), BOTTOM - (BOTTOM - TOP) * _strength(hz / top_hz, peak_hz / top_hz))
        for hz in sorted({*(top_hz * i / 160 for i in range(161)), peak_hz})
    )
    shapes += [
        Line(LEFT, BOTTOM, RIGHT, BOTTOM, "thin"),
        Polyline(points, "computed"),
        Line(x(peak_hz), TOP - 6, x(peak_hz), TOP - 16, "leader"),
        Text(x(peak_hz), TOP - 26, peak_text, "strong"),
        Text(RIGHT, BOTTOM + 34, "frequency, Hz", "small", "end"),
    ]
    return Drawing(
        title=title,
        description=f"One peak stands out, at {peak_text}.",
        width=WIDTH,
        height=HEIGHT,
        shapes=tuple(shapes),
        twin=Twin(title, ("What", "Frequency"), (("peak", peak_text),)),
    )


def _strength(at: float, peak: float) -> float:
    """Of 1 at the peak, down to a floor that ripples a little, as an instrument's does."""
    ripple = FLOOR * (1 + 0.5 * math.sin(61 * at) * math.sin(23 * at + 1))
    return ripple + (1 - FLOOR) * math.exp(-(((at - peak) / PEAK_WIDTH) ** 2) / 2) * (1 - ripple)
