"""A tire's outboard sidewall with what is moulded into it."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Box, around, parts_list, square, tagged, text_width
from app.drawings.markers import known, marker
from app.drawings.polar import Point, point
from app.drawings.shapes import Arc, Circle, CurvedText, Polyline, Shape
from app.drawings.spots import Spot, part, prepare_spots, with_tags

WIDTH = 400.0
CENTRE: Point = (200.0, 196.0)
TIRE = 186.0
BEAD = 104.0
LETTERING = 150.0
SPOTS_SHARE = 0.65
ARROW_RADIUS = 172.0
MOST_WORDS_DEG = 150.0


@dataclass(frozen=True)
class Moulded:
    """More words in the sidewall, centred on an angle: "OUTSIDE" at 90, a load range at 270."""

    text: str
    angle_deg: float


def sidewall(
    designation: str,
    tin: str = "",
    spots: Sequence[Spot] = (),
    *,
    words: Sequence[Moulded] = (),
    rotation: str | None = None,
    title: str = "Sidewall of the tire",
) -> Drawing:
    """The designation over the top, the identification number along the bottom, and spots on the sidewall.

    rotation: "clockwise", "counterclockwise" or None, as seen on this side. Words too long for their arc are
    cut short in the drawing and whole in its table. Raises DrawingError.
    """
    if rotation not in (None, "clockwise", "counterclockwise"):
        raise DrawingError(f'rotation must be "clockwise", "counterclockwise" or None, not {rotation!r}')
    for index, word in enumerate(words):
        finite(f"words[{index}].angle_deg", word.angle_deg)
    placed = prepare_spots(spots)
    letters = with_tags([spot.tag for spot in placed])

    shapes: list[Shape] = [*_tire(), _curved(designation, 0, LETTERING)]
    if tin:
        shapes.append(_curved(tin, 180, LETTERING))
    shapes += [_curved(word.text, word.angle_deg, LETTERING, "small") for word in words]
    if rotation:
        shapes += _rotation(rotation == "clockwise")
    places = [
        point(CENTRE, TIRE * (SPOTS_SHARE if spot.radius is None else spot.radius), spot.angle_deg)
        for spot in placed
    ]
    taken = [square(at, 8) for at in places]
    frame = Box(4, 4, WIDTH - 4, 2 * CENTRE[1] - 4)
    for spot, at, letter in zip(placed, places, letters, strict=True):
        shapes += tagged(at, letter, around(at, spot.angle_deg + 180), taken, frame)
        shapes += marker(spot.kind, at)
    parts = [part(tag, spot.kind, spot.label, spot.where) for tag, spot in zip(letters, placed, strict=True)]
    list_shapes, bottom = parts_list(parts, 2 * CENTRE[1] + 6, WIDTH)
    return Drawing(
        title=title,
        description="The tire's sidewall, seen straight on.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=_twin(title, designation, tin, words, rotation, placed),
    )


def _tire() -> list[Shape]:
    return [
        Circle(*CENTRE, TIRE, "outline", "paper"),
        Circle(*CENTRE, TIRE - 5, "light"),
        Circle(*CENTRE, BEAD, "outline", "paper"),
        Circle(*CENTRE, BEAD - 5, "light"),
    ]


def _curved(text: str, angle_deg: float, radius: float, size: str = "large") -> CurvedText:
    """The words at the largest lettering that fits its arc; past that, cut short."""
    room = radius * 3.14159 * MOST_WORDS_DEG / 180
    if size == "large" and text_width(text, size) > room:
        size = "small"
    while text_width(text, size) > room:
        text = text[:-2].rstrip() + "…"
    return CurvedText(*CENTRE, radius, angle_deg % 360, text, size)


def _rotation(clockwise: bool) -> list[Shape]:
    from_deg, to_deg = (62.0, 104.0) if clockwise else (104.0, 62.0)
    tip = point(CENTRE, ARROW_RADIUS, to_deg)
    back = to_deg - 6 if clockwise else to_deg + 6
    wings = (point(CENTRE, ARROW_RADIUS - 6, back), tip, point(CENTRE, ARROW_RADIUS + 6, back))
    return [
        Arc(*CENTRE, ARROW_RADIUS, from_deg, to_deg, "outline"),
        Polyline(wings, "outline-head", "outline", closed=True),
        CurvedText(*CENTRE, ARROW_RADIUS, 45, "ROTATION", "small"),
    ]


def _twin(
    title: str, designation: str, tin: str, words: Sequence[Moulded], rotation: str | None, spots: list[Spot]
) -> Twin:
    rows = [("designation", designation, "top")]
    if tin:
        rows.append(("identification number", tin, "bottom"))
    rows += [("moulded words", word.text, f"{word.angle_deg % 360:g}°") for word in words]
    if rotation:
        rows.append(("rotation arrow", rotation, "right"))
    rows += [(known(spot.kind).word, spot.label, spot.where) for spot in spots]
    return Twin(title, ("What", "Reads", "Where"), tuple(rows))
