"""A wheel with or without its tire, turned by any angle: what stands on the stations of the bench."""

from collections.abc import Sequence
from dataclasses import replace

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Box, around, parts_list, square, tagged
from app.drawings.markers import known, marker
from app.drawings.polar import Point, point
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text
from app.drawings.spots import Spot, part, prepare_spots, with_tags
from app.drawings.wheel_face import CENTRE, HUB, PLACES, RIM, RING, TIRE, WIDTH, degree_ring

TIRE_STATES = ("seated", "loose", "off")


def bench_wheel(
    spots: Sequence[Spot] = (),
    *,
    title: str,
    tire: str = "seated",
    turned_deg: float = 0.0,
    spokes: int = 0,
    chalk_deg: float | None = None,
) -> Drawing:
    """The wheel's face with its valve at `turned_deg`; spots turn with it.

    tire: seated; loose (dashed: off its seats); off (only the wheel). chalk_deg: where a chalk
    line runs across tire and wheel, in the wheel's angles. Raises DrawingError.
    """
    if tire not in TIRE_STATES:
        raise DrawingError(f"tire must be one of {', '.join(TIRE_STATES)}, not {tire!r}")
    turned = finite("turned_deg", turned_deg) % 360
    placed = prepare_spots(spots)
    letters = with_tags([spot.tag for spot in placed])
    shapes: list[Shape] = [*_ring(turned), *_tire(tire), *_rim(turned, spokes)]
    if chalk_deg is not None:
        chalk = turned + finite("chalk_deg", chalk_deg)
        shapes.append(Line(*point(CENTRE, RIM - 14, chalk), *point(CENTRE, TIRE - 8, chalk), "outline"))
    places = [
        point(
            CENTRE,
            TIRE * (PLACES[spot.kind] if spot.radius is None else spot.radius),
            spot.angle_deg + turned,
        )
        for spot in placed
    ]
    taken = [square(at, 8) for at in places]
    frame = Box(2, 2, WIDTH - 2, 2 * CENTRE[1] - 2)
    for spot, at, letter in zip(placed, places, letters, strict=True):
        shapes += tagged(at, letter, around(at, spot.angle_deg + turned + 180), taken, frame)
        shapes += marker(spot.kind, at)
    parts = [
        part(letter, spot.kind, spot.label, spot.where) for spot, letter in zip(placed, letters, strict=True)
    ]
    list_shapes, bottom = parts_list(parts, 2 * CENTRE[1] + 12, WIDTH)
    return Drawing(
        title=title,
        description=_words(tire, turned),
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=Twin(
            title,
            ("Item", "What", "Sign", "Where"),
            (
                ("–", f"valve, the tire {tire}", "stem", f"{turned:g}° from the top"),
                *tuple(
                    (letter, spot.label, known(spot.kind).word, spot.where)
                    for spot, letter in zip(placed, letters, strict=True)
                ),
            ),
        ),
    )


def _words(tire: str, turned: float) -> str:
    how = {
        "seated": "The tire is on its seats.",
        "loose": "The tire is loose on the wheel.",
        "off": "The tire is off.",
    }
    where = "at the top" if turned == 0 else f"{turned:g}° clockwise from the top"
    return f"The wheel seen from outboard, its valve {where}. {how[tire]}"


def _ring(turned: float) -> list[Shape]:
    """The degree ring; its figures stay upright while it turns."""
    if turned == 0:
        return list(degree_ring(CENTRE, RING))
    shapes: list[Shape] = []
    for shape in degree_ring(CENTRE, RING):
        match shape:
            case Line():
                (x1, y1), (x2, y2) = _turn((shape.x1, shape.y1), turned), _turn((shape.x2, shape.y2), turned)
                shapes.append(Line(x1, y1, x2, y2, shape.pen))
            case Text():
                x, y = _turn((shape.x, shape.y), turned)
                shapes.append(replace(shape, x=x, y=y))
            case _:
                shapes.append(shape)
    return shapes


def _turn(at: Point, turned: float) -> Point:
    sine, minus_cosine = point((0.0, 0.0), 1.0, turned)
    cosine = -minus_cosine
    x, y = at[0] - CENTRE[0], at[1] - CENTRE[1]
    return CENTRE[0] + x * cosine - y * sine, CENTRE[1] + x * sine + y * cosine


def _tire(tire: str) -> list[Shape]:
    if tire == "off":
        return []
    pen = "outline" if tire == "seated" else "hidden"
    return [Circle(*CENTRE, TIRE, pen, "paper"), Circle(*CENTRE, TIRE - 6, "light")]


def _rim(turned: float, spokes: int) -> list[Shape]:
    shapes: list[Shape] = [Circle(*CENTRE, RIM, "outline", "paper"), Circle(*CENTRE, RIM - 6, "light")]
    for i in range(spokes):
        angle = turned + (i + 0.5) * 360 / spokes
        for side in (-1, 1):
            foot, head = point(CENTRE, HUB, angle + 17 * side), point(CENTRE, RIM - 6, angle + 4 * side)
            shapes.append(Line(*foot, *head, "light"))
    shapes += [Circle(*CENTRE, HUB, "light", "paper"), Circle(*CENTRE, 9, "light")]
    shapes += [Circle(*point(CENTRE, 20, turned + i * 72), 3.4, "light") for i in range(5)]
    stem = ((-3.0, 4.0), (3.0, 4.0), (3.0, 19.0), (2.0, 24.0), (-2.0, 24.0), (-3.0, 19.0))
    corners = tuple(_turn((CENTRE[0] + x, CENTRE[1] - RIM + y), turned) for x, y in stem)
    shapes.append(Polyline(corners, "outline", "paper", closed=True))
    shapes.append(Text(*point(CENTRE, RIM - 36, turned), "valve", "quiet"))
    return shapes
