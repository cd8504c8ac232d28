"""A force over one turn of the wheel, with its total variation and the limit as dimensions."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.dial_readings import Harmonic
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Part, parts_list, text_width
from app.drawings.markers import marker
from app.drawings.polar import Point, nice_step, step_text
from app.drawings.shapes import Line, Polyline, Shape, Text, dimension
from app.drawings.spots import degrees

WIDTH = 400.0
LEFT, RIGHT = 56.0, 322.0
TOP, BOTTOM = 34.0, 226.0
TOTAL_X, LIMIT_X = 346.0, 382.0


@dataclass(frozen=True)
class Limit:
    """The greatest total variation allowed, in the readings' unit, and how it is written."""

    size: float
    text: str


@dataclass(frozen=True)
class _Field:
    """From angles and readings to drawing units."""

    low: float
    high: float

    def at(self, angle_deg: float, reading: float) -> Point:
        share = (reading - self.low) / (self.high - self.low)
        return LEFT + (RIGHT - LEFT) * angle_deg / 360, BOTTOM - (BOTTOM - TOP) * share


def force_trace(
    angles_deg: Sequence[float],
    readings: Sequence[float],
    *,
    unit: str,
    total_text: str,
    limit: Limit | None = None,
    harmonic: Harmonic | None = None,
    quantity: str = "radial force",
    title: str = "Force over one turn",
) -> Drawing:
    """The readings over their angles; `total_text` is the greatest less the least, as the caller writes it.

    The limit starts at the least reading, beside the total, so that the two lengths compare. The harmonic is
    drawn about the mean. Raises DrawingError for unequal lists, no reading, or a number that is not finite.
    """
    _check(angles_deg, readings, limit, harmonic)
    pairs = sorted((angle % 360, reading) for angle, reading in zip(angles_deg, readings, strict=True))
    mean = sum(readings) / len(readings)
    least, greatest = min(readings), max(readings)
    field, step = _field(least, greatest, mean, limit, harmonic)

    shapes = [*_grid(field, step, unit, quantity)]
    # The turn is closed: the last part runs on to the first reading, one turn later.
    closed = [*pairs, (pairs[0][0] + 360, pairs[0][1])]
    places = [field.at(angle, reading) for angle, reading in closed if angle <= 360]
    shapes.append(Polyline(tuple(places), "computed"))
    parts = [Part("", "computed", quantity)]
    if harmonic:
        wave = [
            field.at(angle, mean + harmonic.amplitude * math.cos(math.radians(angle - harmonic.high_deg)))
            for angle in range(0, 361, 5)
        ]
        shapes.append(Polyline(tuple(wave), "own"))
        shapes += marker("high-spot", field.at(harmonic.high_deg % 360, mean + harmonic.amplitude), 6)
        parts.append(Part("", "own", harmonic.label))
        parts.append(Part("", "high-spot", f"its high spot, {degrees(harmonic.high_deg)}"))
    shapes += _extent(field, least, greatest, total_text, TOTAL_X)
    if limit:
        shapes += _extent(field, least, least + limit.size, limit.text, LIMIT_X)

    list_shapes, bottom = parts_list(parts, BOTTOM + 48, WIDTH)
    return Drawing(
        title=title,
        description=f"{quantity.capitalize()} in {unit} over the angle in degrees clockwise from the valve.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=_twin(title, pairs, unit, total_text, limit, harmonic),
    )


def _check(
    angles_deg: Sequence[float], readings: Sequence[float], limit: Limit | None, harmonic: Harmonic | None
) -> None:
    if not readings or len(angles_deg) != len(readings):
        raise DrawingError("readings must hold at least one reading, and as many as angles_deg")
    for index, (angle, reading) in enumerate(zip(angles_deg, readings, strict=True)):
        finite(f"angles_deg[{index}]", angle)
        finite(f"readings[{index}]", reading)
    if limit and finite("limit.size", limit.size) < 0:
        raise DrawingError(f"limit.size must not be negative, not {limit.size}")
    if harmonic:
        finite("harmonic.high_deg", harmonic.high_deg)
        if finite("harmonic.amplitude", harmonic.amplitude) < 0:
            raise DrawingError(f"harmonic.amplitude must not be negative, not {harmonic.amplitude}")


def _field(
    least: float, greatest: float, mean: float, limit: Limit | None, harmonic: Harmonic | None
) -> tuple[_Field, float]:
    amplitude = harmonic.amplitude if harmonic else 0.0
    low = min(least, mean - amplitude)
    high = max(greatest, mean + amplitude, least + (limit.size if limit else 0.0))
    step = nice_step(high - low, 4)
    low, high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    if high - low < step:
        low, high = low - step, low + step
    return _Field(low, high), step


def _grid(field: _Field, step: float, unit: str, quantity: str) -> list[Shape]:
    shapes: list[Shape] = []
    for i in range(round((field.high - field.low) / step) + 1):
        value = field.low + i * step
        x, y = field.at(0, value)
        shapes += [Line(x, y, RIGHT, y, "light"), Text(LEFT - 7, y, step_text(value), "small", "end")]
    for angle in range(0, 361, 45):
        x, _ = field.at(angle, field.low)
        shapes.append(Line(x, BOTTOM, x, BOTTOM + (7 if angle % 90 == 0 else 4), "thin"))
        if angle % 90 == 0:
            shapes.append(Text(x, BOTTOM + 17, f"{angle}°", "small"))
    return [
        *shapes,
        Line(LEFT, TOP - 8, LEFT, BOTTOM, "thin"),
        Line(LEFT, BOTTOM, RIGHT, BOTTOM, "thin"),
        Text(8, 14, f"{quantity}, {unit}", "small", "start"),
        Text((LEFT + RIGHT) / 2, BOTTOM + 34, "angle clockwise from the valve", "small"),
    ]


def _extent(field: _Field, low: float, high: float, text: str, x: float) -> list[Shape]:
    """A dimension from `low` to `high` at the right, its text upright beside it."""
    (_, y_low), (_, y_high) = field.at(0, low), field.at(0, high)
    half = text_width(text, "small") / 2
    middle = min(max((y_low + y_high) / 2, TOP + half), BOTTOM - half)
    return [
        Line(RIGHT + 4, y_low, x + 5, y_low, "light"),
        Line(RIGHT + 4, y_high, x + 5, y_high, "light"),
        *dimension((x, y_low), (x, y_high), Text(x - 11, middle, text, "small", turn=-90)),
    ]


def _twin(
    title: str,
    pairs: list[tuple[float, float]],
    unit: str,
    total_text: str,
    limit: Limit | None,
    harmonic: Harmonic | None,
) -> Twin:
    rows = [("total variation", "", total_text)]
    if limit:
        rows.append(("limit", "", limit.text))
    if harmonic:
        rows.append(("high spot", degrees(harmonic.high_deg), harmonic.label))
    rows += [("reading", degrees(angle), f"{step_text(reading)} {unit}") for angle, reading in pairs]
    return Twin(title, ("What", "Angle", "Value"), tuple(rows))
