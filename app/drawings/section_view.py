"""A half section through rim and tire, inboard to the left, with its correction planes."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError, finite
from app.drawings.hatching import cut_below, hatch
from app.drawings.labels import (
    Box,
    Part,
    around,
    free_place,
    parts_list,
    square,
    tagged,
    text_box,
    text_width,
)
from app.drawings.markers import known, marker
from app.drawings.polar import Point
from app.drawings.section_profile import RIM, TIRE_BULGE, TIRE_REACH, disc, tire
from app.drawings.shapes import Line, Polyline, Shape, Text, arrow, dimension
from app.drawings.spots import part, with_tags

WIDTH = 400.0
MIDDLE_X = 200.0
TOP = 34.0
FLANGE_Y = 148.0
CUT_Y = 236.0
LOWEST_Y = 272.0
AXLE_Y = 312.0
HALF_FIELD = 152.0
ROW = 21.0
MOST_PLANES = 4


@dataclass(frozen=True)
class Plane:
    """A correction plane: z_mm positive toward outboard, radius_mm from the axle, both also as text."""

    name: str
    z_mm: float
    radius_mm: float
    z_text: str
    radius_text: str
    tag: str = ""


@dataclass(frozen=True)
class Lump:
    """Something in the section: a kind of `markers.MARKERS` at (z, radius), its label and place as text."""

    kind: str
    z_mm: float
    radius_mm: float
    label: str
    where: str = ""
    tag: str = ""


@dataclass(frozen=True)
class _Field:
    """From millimetres to drawing units: across from the centre plane, upward from the rim's flange."""

    half_width_mm: float
    flange_mm: float
    x_per_mm: float
    y_per_mm: float

    def at(self, z_mm: float, radius_mm: float) -> Point:
        return MIDDLE_X + z_mm * self.x_per_mm, FLANGE_Y - (radius_mm - self.flange_mm) * self.y_per_mm

    def share(self, z: float, r: float) -> Point:
        """A point of `section_profile`."""
        return self.at(z * self.half_width_mm, self.flange_mm * (1 + r))


def section_view(
    planes: Sequence[Plane],
    lumps: Sequence[Lump] = (),
    *,
    entered: Sequence[Plane] = (),
    rim_width_mm: float | None = None,
    flange_radius_mm: float | None = None,
    title: str = "Half section through rim and tire",
) -> Drawing:
    """The planes at their true place along the axle; `entered` planes (as typed in, maybe wrong) are dashed.

    The rim is as wide and as large as the planes ask for unless its sizes are given. Raises DrawingError for
    more than four planes of a sort, and for a number that is not finite or a radius that is not above zero.
    """
    _check(planes, entered, lumps)
    field = _field(planes, entered, lumps, rim_width_mm, flange_radius_mm)
    all_planes = [*planes, *entered]
    letters = with_tags([plane.tag for plane in all_planes] + [lump.tag for lump in lumps])
    styles = ["computed"] * len(planes) + ["own"] * len(entered)
    drawn = list(zip(all_planes, styles, letters, strict=False))

    shapes: list[Shape] = [
        *_rim_and_tire(field, tuple(plane.z_mm for plane in all_planes)),
        *_axes(len(drawn)),
    ]
    taken = [text_box(shape) for shape in shapes if isinstance(shape, Text)]
    tips = [field.at(plane.z_mm, plane.radius_mm) for plane, _, _ in drawn]
    spots = [field.at(lump.z_mm, lump.radius_mm) for lump in lumps]
    taken += [square(at, 8) for at in [*tips, *spots]]
    taken += [Box(x - 4, y, x + 4, AXLE_Y) for x, y in tips]

    for row, ((plane, style, _), tip) in enumerate(zip(drawn, tips, strict=True)):
        shapes += _plane(plane, style, tip, AXLE_Y + ROW * (row + 1), taken)
    frame = Box(4, 18, WIDTH - 4, AXLE_Y - 4)
    for at, letter in zip([*tips, *spots], letters, strict=True):
        shapes += tagged(at, letter, around(at, 60 if at[0] >= MIDDLE_X else -60), taken, frame)
    for lump, at in zip(lumps, spots, strict=True):
        shapes += marker(lump.kind, at)

    top = AXLE_Y + ROW * (len(drawn) + 1)
    list_shapes, bottom = parts_list(_parts(drawn, lumps, letters), top, WIDTH)
    return Drawing(
        title=title,
        description="Inboard is left, outboard is right, the wheel's center plane is in the middle. "
        "Planes and marks stand at their true distances; rim and tire are general, the axle is drawn nearer.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=_twin(title, drawn, lumps, letters),
    )


def _check(planes: Sequence[Plane], entered: Sequence[Plane], lumps: Sequence[Lump]) -> None:
    for name, group in (("planes", planes), ("entered", entered)):
        if len(group) > MOST_PLANES:
            raise DrawingError(f"{name} may hold {MOST_PLANES} planes at most, not {len(group)}")
    for name, places in _places(planes, entered, lumps):
        for index, (z_mm, radius_mm) in enumerate(places):
            finite(f"{name}[{index}].z_mm", z_mm)
            if finite(f"{name}[{index}].radius_mm", radius_mm) <= 0:
                raise DrawingError(f"{name}[{index}].radius_mm must be above 0, not {radius_mm}")


def _places(
    planes: Sequence[Plane], entered: Sequence[Plane], lumps: Sequence[Lump]
) -> list[tuple[str, list[Point]]]:
    """Where everything is, (z, radius) in mm, under the names of the arguments."""
    return [
        ("planes", [(plane.z_mm, plane.radius_mm) for plane in planes]),
        ("entered", [(plane.z_mm, plane.radius_mm) for plane in entered]),
        ("lumps", [(lump.z_mm, lump.radius_mm) for lump in lumps]),
    ]


def _field(
    planes: Sequence[Plane],
    entered: Sequence[Plane],
    lumps: Sequence[Lump],
    rim_width_mm: float | None,
    flange_radius_mm: float | None,
) -> _Field:
    everything = [place for _, places in _places(planes, entered, lumps) for place in places]
    half_width = (rim_width_mm or 0) / 2 or max([40.0, *(abs(plane.z_mm) for plane in planes)])
    flange = flange_radius_mm or max((plane.radius_mm for plane in planes), default=200.0)
    widest = max([half_width * TIRE_BULGE, *(abs(z_mm) for z_mm, _ in everything)])
    highest = max([flange * TIRE_REACH, *(radius_mm - flange for _, radius_mm in everything)])
    lowest = max([0.0, *(flange - radius_mm for _, radius_mm in everything)])
    y_per_mm = (FLANGE_Y - TOP) / highest
    if lowest * y_per_mm > LOWEST_Y - FLANGE_Y:
        y_per_mm = (LOWEST_Y - FLANGE_Y) / lowest
    return _Field(half_width, flange, HALF_FIELD / widest, y_per_mm)


@lru_cache(maxsize=64)  # a class has the same rim, and hatching it is most of the work
def _rim_and_tire(field: _Field, planes_mm: tuple[float, ...]) -> tuple[Shape, ...]:
    """planes_mm: how far each plane is from the centre plane."""
    planes_share = [z_mm / field.half_width_mm for z_mm in planes_mm]
    shapes: list[Shape] = []
    for profile, rising in ((tire(), False), (disc(planes_share), True), (list(RIM), True)):
        polygon = tuple(cut_below([field.share(z, r) for z, r in profile], CUT_Y))
        shapes.append(Polyline(polygon, "none", "paper", closed=True))
        shapes += hatch(polygon, rising=rising)
        shapes.append(Polyline(polygon, "thin", closed=True))
    return tuple(shapes)


def _axes(rows: int) -> list[Shape]:
    return [
        Line(MIDDLE_X, 24, MIDDLE_X, AXLE_Y + ROW * rows + 6, "centre"),
        Line(12, AXLE_Y, WIDTH - 12, AXLE_Y, "centre"),
        Text(14, 12, "inboard", "quiet", "start"),
        Text(MIDDLE_X, 12, "center plane", "quiet"),
        Text(WIDTH - 14, 12, "outboard", "quiet", "end"),
        Text(14, AXLE_Y - 10, "axle", "quiet", "start"),
    ]


def _plane(plane: Plane, style: str, tip: Point, row_y: float, taken: list[Box]) -> list[Shape]:
    """The plane's line from the axle to its weight, its radius along it, its distance in a row below."""
    x, y = tip
    head = "open" if style == "own" else "filled"
    shapes: list[Shape] = [
        *arrow((x, AXLE_Y), tip, style, head, length=12),
        Line(x, AXLE_Y, x, row_y + 4, "light"),
    ]

    half = text_width(plane.radius_text, "small") / 2
    outward = 1 if x >= MIDDLE_X else -1
    places = [
        (x + side * outward * 12, middle)
        for side in (1, -1)
        for middle in (AXLE_Y - half - 14, y + half + 24, (AXLE_Y + y) / 2)
    ]
    at = free_place(places, 7, half, taken, Box(2, 18, WIDTH - 2, AXLE_Y - 2))
    taken.append(Box(at[0] - 7, at[1] - half, at[0] + 7, at[1] + half))
    shapes.append(Text(*at, plane.radius_text, "small", turn=-90))

    width = text_width(plane.z_text, "small")
    # Where the dimension is too short to be written in, its text goes past the centre plane.
    fits = abs(x - MIDDLE_X) > width + 24
    middle = (x + MIDDLE_X) / 2 if fits else MIDDLE_X - outward * (width / 2 + 10)
    text = Text(middle, row_y, plane.z_text, "small")
    return shapes + dimension((MIDDLE_X, row_y), (x, row_y), text, gap=width + 6 if fits else 0)


def _parts(drawn: list[tuple[Plane, str, str]], lumps: Sequence[Lump], letters: list[str]) -> list[Part]:
    rows = [part(tag, style, plane.name, plane.z_text, plane.radius_text) for plane, style, tag in drawn]
    tags = letters[len(drawn) :]
    return rows + [
        part(tag, lump.kind, lump.label, lump.where) for tag, lump in zip(tags, lumps, strict=True)
    ]


def _twin(title: str, drawn: list[tuple[Plane, str, str]], lumps: Sequence[Lump], letters: list[str]) -> Twin:
    signs = {"computed": "true plane", "own": "plane as entered"}
    rows = [
        (tag, plane.name, signs[style], f"{plane.z_text}, {plane.radius_text}") for plane, style, tag in drawn
    ]
    tags = letters[len(drawn) :]
    rows += [
        (tag, lump.label, known(lump.kind).word, lump.where or "as drawn")
        for tag, lump in zip(tags, lumps, strict=True)
    ]
    return Twin(title, ("Item", "What", "Sign", "Where"), tuple(rows))
