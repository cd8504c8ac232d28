"""The drawing that is worked at each station: stand, balancer, runout gauge, lugs, car."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from app.drawings.bench_handles import Around, Piece, Tap, Target, Worked
from app.drawings.bench_wheel import bench_wheel
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.polar import Point, point
from app.drawings.shapes import Circle, Line, Shape, Text, arrow
from app.drawings.spots import Spot as WheelSpot
from app.drawings.spots import Vector
from app.drawings.vehicle_plan import AXLES, MIDDLE_X, TRACK, Corner, corner_balloon, vehicle_plan
from app.drawings.wheel_face import CENTRE, RIM, TIRE, WIDTH, wheel_face

GRIP = 121.0
"""Where a handle goes round: on the sidewall, clear of the weights on the rim."""
HOME_DEG = 45.0
"""Where the handle of a turn waits; the tire turns by as much as it is moved."""
SHOE_HOME_DEG = 315.0


def balancer(
    spots: Sequence[WheelSpot],
    asked: Sequence[Vector],
    *,
    weight_deg: float = 0.0,
    spokes: int = 0,
    title: str = "On the balancer",
) -> Worked:
    """The wheel with the weights that are on it and what the last spin asked for."""
    drawing = wheel_face(spots, asked, title=title, spokes=spokes)
    if not drawing.twin.rows:
        bare = ("–", "nothing is known to be on this wheel", "–", "–")
        drawing = replace(drawing, twin=replace(drawing.twin, rows=(bare,)))
    if spokes:
        middles = ", ".join(f"{(place + 0.5) * 360 / spokes:.0f}°" for place in range(spokes))
        drawing = replace(drawing, description=f"{drawing.description} The spokes stand at {middles}.")
    weight = Around("fit-weight", "angle_deg", "Weight to fit", CENTRE, GRIP, weight_deg % 360)
    return Worked(drawing, (weight,))


def stand(
    spots: Sequence[WheelSpot],
    *,
    tire: str,
    chalk_deg: float | None = None,
    spokes: int = 0,
    title: str = "On the mounting stand",
) -> Worked:
    """The shoe of the bead breaker goes around a tire on its seats; a loose one is turned on the wheel."""
    drawing = bench_wheel(spots, title=title, tire=tire, chalk_deg=chalk_deg, spokes=spokes)
    if tire == "seated":
        handle = Around("break-beads", "shoe_deg", "Shoe of the bead breaker", CENTRE, GRIP, SHOE_HOME_DEG)
    else:
        handle = Around("turn-tire", "turn_deg", "Turn of the tire", CENTRE, GRIP, HOME_DEG, relative=True)
    return Worked(drawing, (handle,))


def gauge(
    *,
    at_deg: float,
    reading: tuple[float, str] | None,
    place: str | None,
    tire_on: bool = True,
    spokes: int = 0,
    title: str = "Under the dial",
) -> Worked:
    """The wheel, turned so that `at_deg` stands under the dial at the top; the wheel is turned by its valve.

    reading: share of the dial's half range, -1 to 1, and how it is written; None before anything was read.
    place: what the indicator touches; without one there is no indicator and nothing to turn.
    """
    tire = "seated" if tire_on else "off"
    turned = -finite("at_deg", at_deg) % 360
    wheel = bench_wheel(title=title, tire=tire, turned_deg=turned, spokes=spokes)
    if place is None:
        return Worked(wheel)
    handle = Around(
        "read-dial", "at_deg", "Wheel under the dial", CENTRE, GRIP, turned, sign=-1, sends=True, turns=True
    )
    return Worked(wheel, (handle,), over=_indicator(place, reading, tire, wheel.height))


def _indicator(place: str, reading: tuple[float, str] | None, tire: str, height: float) -> Drawing:
    """A dial indicator at the top whose point touches the tread, or the rim where the tire is off."""
    touches = CENTRE[1] - (TIRE if tire == "seated" else RIM)
    face: Point = (CENTRE[0], 40.0)
    shapes: list[Shape] = [
        Line(face[0], face[1] + 30, face[0], touches - 4, "outline"),
        Circle(face[0], touches - 4, 4, "outline", "ink"),
        Circle(*face, 34, "outline", "paper"),
        Circle(*face, 30, "light"),
    ]
    shapes += [
        Line(*point(face, 25, 27 * step), *point(face, 30, 27 * step), "thin") for step in range(-5, 6)
    ]
    text = "not read yet"
    if reading is not None:
        share, text = reading
        turn = 135 * max(-1.0, min(1.0, finite("reading", share)))
        shapes += arrow(face, point(face, 24, turn), "computed", length=8)
        shapes.append(Text(face[0], face[1] + 17, text, "small"))
    shapes += [
        Text(6, 14, "dial indicator", "quiet", "start"),
        Text(6, 31, place, "small", "start"),
    ]
    title = f"Dial indicator at the {place}"
    return Drawing(
        title=title,
        description=f"A dial indicator that touches the {place}: {text}.",
        width=WIDTH,
        height=height,
        shapes=tuple(shapes),
        twin=Twin(title, ("Touches", "Shows"), ((place, text),)),
    )


def lugs(count: int, order: Sequence[int] = (), *, title: str = "Lugs, seen from outboard") -> Worked:
    """The lugs with their numbers, 1 at the top and clockwise; `order`: how they were tightened last.
    Raises DrawingError for a lug that isn't there."""
    if not 3 <= count <= 10 or not all(1 <= lug <= count for lug in order):
        raise DrawingError("there are 3 to 10 lugs, and an order names each by its number")
    centre: Point = (150.0, 130.0)
    places = [point(centre, 84, 360 * i / count) for i in range(count)]
    shapes: list[Shape] = [
        Circle(*centre, 116, "outline", "paper"),
        Circle(*centre, 84, "centre"),
        Circle(*centre, 26, "light"),
    ]
    for first, second in pairwise(order):
        shapes += arrow(
            _toward(places[first - 1], places[second - 1]),
            _toward(places[second - 1], places[first - 1]),
            "own",
        )
    for number, at in enumerate(places, start=1):
        shapes += [Circle(*at, 19, "outline", "paper"), Text(*at, str(number), "large")]
    taps = tuple(
        Tap("tighten", "order", f"Lug {number}", str(number), at) for number, at in enumerate(places, start=1)
    )
    rows = tuple((str(place), str(lug)) for place, lug in enumerate(order, start=1))
    drawing = Drawing(
        title=title,
        description=f"{count} lugs on a circle, number 1 at the top, clockwise. Arrows: the last order.",
        width=300.0,
        height=260.0,
        shapes=tuple(shapes),
        twin=Twin(title, ("Step", "Lug"), rows),
    )
    return Worked(drawing, taps)


def _toward(start: Point, end: Point, gap: float = 22.0) -> Point:
    """A little away from `start` on the way to `end`, clear of the lug's circle."""
    reach = math.hypot(end[0] - start[0], end[1] - start[1])
    return start[0] + (end[0] - start[0]) * gap / reach, start[1] + (end[1] - start[1]) * gap / reach


def car(corners: Sequence[Corner], *, driver_side: str, title: str = "The car from above") -> Worked:
    """The car with what stands on it: each corner takes an assembly, and gives back the one it has."""
    drawing = vehicle_plan(corners, driver_side=driver_side, title=title)
    targets = tuple(
        Target(
            "place",
            f"Put it on the {words}",
            (MIDDLE_X + (-TRACK if position[0] == "L" else TRACK), AXLES[position[1]]),
            {"corner": position},
        )
        for position, words in (
            ("LF", "left front"),
            ("RF", "right front"),
            ("LR", "left rear"),
            ("RR", "right rear"),
        )
    )
    pieces = tuple(
        Piece(
            corner.assembly,
            _below_its_head(corner_balloon(corner.position)),
            {"assembly": corner.assembly, "corner": corner.position},
        )
        for corner in corners
        if corner.assembly
    )
    return Worked(drawing, (*targets, *pieces))


def _below_its_head(balloon: Point) -> Point:
    """A piece is larger than the balloon that it covers; the corner's name stays free."""
    return balloon[0], balloon[1] + 9
