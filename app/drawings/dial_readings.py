"""Dial readings around a rim or tire: a circle for the mean, deviations drawn much enlarged."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Box, Part, around, parts_list, square, tagged, text_box
from app.drawings.markers import marker
from app.drawings.polar import Point, nice_step, point, step_text
from app.drawings.shapes import Circle, Polyline, Shape, Text
from app.drawings.spots import degrees, with_tags
from app.drawings.wheel_face import degree_ring

WIDTH = 400.0
CENTRE: Point = (200.0, 200.0)
RING = 172.0
MEAN_RADIUS = 105.0
DEVIATION = 48.0
DUST = 1e-9
"""Deviations smaller than this share of the readings are rounding, and must not be enlarged."""

PENS = ("computed", "own", "hidden")
"""The first series is solid, the second dashed with another ink, a third dashed in plain ink."""


@dataclass(frozen=True)
class Harmonic:
    """The once-per-turn part: half its peak-to-peak value in the readings' unit, and where it is highest."""

    amplitude: float
    high_deg: float
    label: str


@dataclass(frozen=True)
class Series:
    """Readings equally spaced clockwise, the first at `start_deg`; texts[i] is how readings[i] is written.

    tag: what stands beside it; the next letter when left out.
    """

    name: str
    readings: tuple[float, ...]
    texts: tuple[str, ...]
    start_deg: float = 0.0
    harmonic: Harmonic | None = None
    tag: str = ""

    @property
    def mean(self) -> float:
        return sum(self.readings) / len(self.readings)

    def angle(self, index: int) -> float:
        return (self.start_deg + 360 * index / len(self.readings)) % 360


def dial_readings(
    series: Sequence[Series], *, unit: str, title: str = "Dial readings around the wheel"
) -> Drawing:
    """One to three series about their own means, to one scale. Raises DrawingError."""
    _check(series)
    deviations = [reading - one.mean for one in series for reading in one.readings]
    deviations += [one.harmonic.amplitude for one in series if one.harmonic]
    largest = max(abs(deviation) for deviation in deviations)
    if largest < DUST * max(abs(reading) for one in series for reading in one.readings):
        largest = 0.0
    step = nice_step(largest, 2)
    scale = DEVIATION / max(largest, step)

    ring = degree_ring(CENTRE, RING)
    circles: list[Shape] = [Circle(*CENTRE, MEAN_RADIUS, "centre")]
    labels: list[Shape] = []
    ray = _quiet_ray(series)
    for sign in (1, -1):
        radius = MEAN_RADIUS + sign * step * scale
        circles.append(Circle(*CENTRE, radius, "light"))
        labels.append(
            Text(*point(CENTRE, radius, ray), f"{'+' if sign > 0 else '−'}{step_text(step)} {unit}", "quiet")
        )
    labels.append(Text(*point(CENTRE, MEAN_RADIUS, ray), "mean", "quiet"))

    taken = [text_box(shape) for shape in [*ring, *labels] if isinstance(shape, Text)]
    traces, spots = _traces(series, scale)
    taken += [square(at, 5) for _, at in spots]
    letters = with_tags([tag for one in series for tag in ((one.tag, "") if one.harmonic else (one.tag,))])
    shapes = [*circles, *ring, *traces, *labels]
    frame = Box(2, 2, WIDTH - 2, 2 * CENTRE[1] - 2)
    parts: list[Part] = []
    for letter, (kind, at, toward, words) in zip(letters, _named(series, scale), strict=True):
        shapes += tagged(at, letter, around(at, toward), taken, frame)
        if kind not in PENS:
            shapes += marker(kind, at)
        parts.append(Part(letter, kind, words))
    list_shapes, bottom = parts_list(parts, 2 * CENTRE[1] + 12, WIDTH)
    return Drawing(
        title=title,
        description="Each series about its own mean, angles clockwise from the valve. "
        f"Deviations are enlarged: one ring is {step_text(step)} {unit}.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=_twin(title, series),
    )


def _check(series: Sequence[Series]) -> None:
    if not 1 <= len(series) <= len(PENS):
        raise DrawingError(f"series must hold 1 to {len(PENS)} series, not {len(series)}")
    for index, one in enumerate(series):
        if not one.readings:
            raise DrawingError(f"series[{index}].readings must hold at least one reading")
        if len(one.texts) != len(one.readings):
            raise DrawingError(f"series[{index}].texts must hold one text for each reading")
        finite(f"series[{index}].start_deg", one.start_deg)
        for place, reading in enumerate(one.readings):
            finite(f"series[{index}].readings[{place}]", reading)
        if one.harmonic:
            finite(f"series[{index}].harmonic.high_deg", one.harmonic.high_deg)
            if finite(f"series[{index}].harmonic.amplitude", one.harmonic.amplitude) < 0:
                raise DrawingError(f"series[{index}].harmonic.amplitude must not be negative")


def _traces(series: Sequence[Series], scale: float) -> tuple[list[Shape], list[tuple[float, Point]]]:
    shapes: list[Shape] = []
    spots: list[tuple[float, Point]] = []
    for one, pen in zip(series, PENS, strict=False):
        places = [_place(one, i, scale) for i in range(len(one.readings))]
        shapes.append(Polyline(tuple(places), pen, closed=True))
        if len(places) <= 48:
            shapes += [_dot(at, pen) for at in places]
        if one.harmonic:
            wave = tuple(
                point(CENTRE, MEAN_RADIUS + scale * _wave(one.harmonic, angle), angle)
                for angle in range(0, 360, 5)
            )
            shapes.append(Polyline(wave, "other", closed=True))
        spots += [(one.angle(i), at) for i, at in enumerate(places)]
    return shapes, spots


def _dot(at: Point, pen: str) -> Shape:
    """Round for the first series, square for the second, a diamond for the third."""
    if pen == PENS[0]:
        return Circle(*at, 2.6, f"{pen}-head", pen)
    turn = 45 if pen == PENS[1] else 0
    corners = tuple(point(at, 4, turn + 90 * i) for i in range(4))
    return Polyline(corners, "own-head" if pen == "own" else "thin", "paper", closed=True)


def _named(series: Sequence[Series], scale: float) -> list[tuple[str, Point, float, str]]:
    """What gets a letter: each series at its greatest reading, each harmonic at its high spot."""
    named = []
    for one, pen in zip(series, PENS, strict=False):
        high = max(range(len(one.readings)), key=lambda i: one.readings[i])
        named.append((pen, _place(one, high, scale), one.angle(high), one.name))
        if one.harmonic:
            at = point(CENTRE, MEAN_RADIUS + scale * one.harmonic.amplitude, one.harmonic.high_deg)
            words = f"{one.harmonic.label} (dotted), high spot {degrees(one.harmonic.high_deg)}"
            named.append(("high-spot", at, one.harmonic.high_deg + 180, words))
    return named


def _place(one: Series, index: int, scale: float) -> Point:
    return point(CENTRE, MEAN_RADIUS + scale * (one.readings[index] - one.mean), one.angle(index))


def _wave(harmonic: Harmonic, angle_deg: float) -> float:
    return harmonic.amplitude * math.cos(math.radians(angle_deg - harmonic.high_deg))


def _quiet_ray(series: Sequence[Series]) -> float:
    """Where the ring figures disturb least: of the rays along which they stand over one another, the one
    farthest from every high spot."""
    highs = [one.harmonic.high_deg for one in series if one.harmonic] or [0.0]

    def nearest(ray: float) -> float:
        return min(abs((ray - high + 180) % 360 - 180) for high in highs)

    return max((15.0, 165.0, 195.0, 345.0), key=nearest)


def _twin(title: str, series: Sequence[Series]) -> Twin:
    rows = [(one.name, degrees(one.angle(i)), text) for one in series for i, text in enumerate(one.texts)] + [
        (one.harmonic.label, degrees(one.harmonic.high_deg), "high spot") for one in series if one.harmonic
    ]
    return Twin(title, ("Series", "Angle", "Reading"), tuple(rows))
