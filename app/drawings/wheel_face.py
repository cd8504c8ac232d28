"""The face of a wheel with its tire, seen from outboard."""

from collections.abc import Sequence
from functools import cache

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError
from app.drawings.labels import Box, Part, around, parts_list, square, tagged, text_box
from app.drawings.markers import known, marker
from app.drawings.polar import Point, point
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text, arrow
from app.drawings.spots import Spot, Vector, part, prepare_spots, prepare_vectors, with_tags

WIDTH = 400.0
CENTRE: Point = (200.0, 200.0)
RING = 172.0
TIRE = 144.0
RIM = 98.0
HUB = 30.0
VECTOR_REACH = 88.0
MARK_GAP = 15.0

PLACES = {
    "heavy-spot": 0.93,
    "weight": RIM / TIRE,
    "own-weight": RIM / TIRE,
    "light-spot": 0.8,
    "high-point": 0.8,
    "high-spot": 1.0,
    "low-spot": 1.0,
    "low-point": 0.62,
    "shelf-label": 0.97,
    "valve": 0.6,
}
"""Where on the tire's radius a kind of spot sits when its radius is not given."""


def wheel_face(
    spots: Sequence[Spot] = (),
    vectors: Sequence[Vector] = (),
    *,
    title: str = "Wheel seen from outboard",
    lugs: int = 5,
    spokes: int = 5,
    clock: bool = True,
) -> Drawing:
    """The wheel's face in a degree ring, with spots, and vectors from the hub; the longest fills the rim.

    Raises DrawingError for a number that is not finite, an unknown kind, or more than 12 lugs or spokes.
    """
    for name, count in (("lugs", lugs), ("spokes", spokes)):
        if not 0 <= count <= 12:
            raise DrawingError(f"{name} must lie from 0 to 12, not {count}")
    spots, vectors = prepare_spots(spots), prepare_vectors(vectors)
    letters = with_tags([spot.tag for spot in spots] + [vector.tag for vector in vectors])

    shapes = [*degree_ring(CENTRE, RING), *_wheel(lugs, spokes)]
    if clock:
        shapes += _clock()
    shapes += _vectors_and_spots(spots, vectors, letters)
    list_shapes, bottom = parts_list(_parts(spots, vectors, letters), 2 * CENTRE[1] + 12, WIDTH)
    return Drawing(
        title=title,
        description="The wheel seen from outboard, the valve at the top; degrees run clockwise from it.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=_twin(title, spots, vectors, letters),
    )


@cache
def degree_ring(centre: Point, radius: float) -> tuple[Shape, ...]:
    """A circle with a tick every 10 degrees and figures every 30, outside."""
    shapes: list[Shape] = [Circle(*centre, radius, "thin")]
    for angle in range(0, 360, 10):
        inner = radius - (10 if angle % 30 == 0 else 5)
        shapes.append(Line(*point(centre, inner, angle), *point(centre, radius, angle), "thin"))
    shapes += [Text(*point(centre, radius + 15, angle), f"{angle}°", "small") for angle in range(0, 360, 30)]
    return tuple(shapes)


def _clock() -> list[Shape]:
    return [Text(*point(CENTRE, RING - 18, 30 * hour), str(hour), "quiet") for hour in range(1, 13)]


def _wheel(lugs: int, spokes: int) -> list[Shape]:
    shapes: list[Shape] = [
        Circle(*CENTRE, TIRE, "outline", "paper"),
        Circle(*CENTRE, TIRE - 6, "light"),
        Circle(*CENTRE, RIM, "outline"),
        Circle(*CENTRE, RIM - 6, "light"),
    ]
    for i in range(spokes):
        # The first gap between spokes is at the valve.
        angle = (i + 0.5) * 360 / spokes
        for side in (-1, 1):
            foot, head = point(CENTRE, HUB, angle + 17 * side), point(CENTRE, RIM - 6, angle + 4 * side)
            shapes.append(Line(*foot, *head, "light"))
    shapes += [Circle(*CENTRE, HUB, "light", "paper"), Circle(*CENTRE, 9, "light")]
    shapes += [Circle(*point(CENTRE, 20, i * 360 / lugs), 3.4, "light") for i in range(lugs)]
    reach = TIRE + 6
    shapes += [
        Line(CENTRE[0] - reach, CENTRE[1], CENTRE[0] + reach, CENTRE[1], "centre"),
        Line(CENTRE[0], CENTRE[1] - reach, CENTRE[0], CENTRE[1] + reach, "centre"),
    ]
    return shapes + _valve()


def _valve() -> list[Shape]:
    x, y = point(CENTRE, RIM - 4, 0)
    stem = ((x - 3, y), (x + 3, y), (x + 3, y + 15), (x + 2, y + 20), (x - 2, y + 20), (x - 3, y + 15))
    return [Polyline(stem, "outline", "paper", closed=True), Text(x + 9, y + 13, "valve", "quiet", "start")]


def _vectors_and_spots(spots: list[Spot], vectors: list[Vector], letters: list[str]) -> list[Shape]:
    frame = Box(2, 2, WIDTH - 2, 2 * CENTRE[1] - 2)
    taken = [
        text_box(shape)
        for shape in (*degree_ring(CENTRE, RING), *_clock(), *_valve())
        if isinstance(shape, Text)
    ]
    shapes: list[Shape] = []
    tagged_places: list[tuple[Point, float, str]] = []

    longest = max((vector.size for vector in vectors), default=0.0)
    for vector, letter in zip(vectors, letters[len(spots) :], strict=True):
        tip = CENTRE
        if vector.angle_deg is not None:
            tip = point(CENTRE, VECTOR_REACH * vector.size / longest, vector.angle_deg)
        shapes += arrow(CENTRE, tip, vector.style, "open" if vector.style == "own" else "filled", length=13)
        tagged_places.append((tip, vector.angle_deg or 0.0, letter))
        taken.append(square(tip, 6))

    signs: list[Shape] = []
    for spot, letter in zip(spots, letters, strict=False):
        at = _free_place(spot, taken)
        signs += marker(spot.kind, at)
        tagged_places.append((at, spot.angle_deg + 180, letter))
        taken.append(square(at, 7))

    labels: list[Shape] = []
    for at, toward_deg, letter in tagged_places:
        labels += tagged(at, letter, around(at, toward_deg), taken, frame)
    # Leaders lie under the signs, or the sign's middle would be struck through.
    lines = [shape for shape in labels if isinstance(shape, Line)]
    return [*shapes, *lines, *signs, *(shape for shape in labels if not isinstance(shape, Line))]


def _free_place(spot: Spot, taken: list[Box]) -> Point:
    """The spot's place; a spot that would lie on another moves along its radius: its angle stays true."""
    radius = TIRE * (PLACES[spot.kind] if spot.radius is None else spot.radius)
    steps = [0.0, -MARK_GAP, MARK_GAP, -2 * MARK_GAP, 2 * MARK_GAP, -3 * MARK_GAP, -4 * MARK_GAP]
    for step in steps:
        at = point(CENTRE, radius + step, spot.angle_deg)
        if 0 <= radius + step <= TIRE and not any(square(at, 7).overlaps(box) for box in taken):
            return at
    return point(CENTRE, radius, spot.angle_deg)


def _parts(spots: list[Spot], vectors: list[Vector], letters: list[str]) -> list[Part]:
    return [
        part(letter, spot.kind, spot.label, spot.where) for spot, letter in zip(spots, letters, strict=False)
    ] + [
        part(letter, vector.style, vector.label, vector.where)
        for vector, letter in zip(vectors, letters[len(spots) :], strict=True)
    ]


def _twin(title: str, spots: list[Spot], vectors: list[Vector], letters: list[str]) -> Twin:
    rows = [(spot.label, known(spot.kind).word, spot.where) for spot in spots]
    rows += [(vector.label, f"{vector.style} arrow", vector.where) for vector in vectors]
    return Twin(
        caption=title,
        heads=("Item", "What", "Sign", "Where"),
        rows=tuple((letter, *row) for letter, row in zip(letters, rows, strict=True)),
    )
