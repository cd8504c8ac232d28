"""The half section that is worked at the balancer: a weight's kind and plane are picked where it goes."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from app.drawings.bench_handles import Pick, Worked
from app.drawings.drawing import Drawing, Twin
from app.drawings.errors import DrawingError
from app.drawings.hatching import cut_below, hatch
from app.drawings.polar import Point
from app.drawings.section_profile import RIM, disc, tire
from app.drawings.shapes import Line, Polyline, Shape, Text

WIDTH = 400.0
HEIGHT = 268.0
MIDDLE_X = 200.0
HALF_WIDTH = 112.0
FLANGE_Y = 138.0
RADIUS = 210.0
CUT_Y = 240.0
ADHESIVE_SHARE = 0.62
"""Of the rim's half width, where a strip is drawn; what it does is reckoned from its true place."""

PLACES: dict[tuple[str, str], tuple[Point, str]] = {
    ("clip", "inboard"): ((MIDDLE_X - 148, 122), "Clip on the inboard flange"),
    ("adhesive", "inboard"): ((MIDDLE_X - 74, 196), "Adhesive inside, inboard"),
    ("adhesive", "outboard"): ((MIDDLE_X + 40, 196), "Adhesive inside, outboard"),
    ("clip", "outboard"): ((MIDDLE_X + 148, 122), "Clip on the outboard flange"),
}
"""Where each kind of weight is picked, by kind and plane: far enough apart for a finger."""


@dataclass(frozen=True)
class OnRim:
    """A weight that is known to be on the wheel; where: its mass and angle in words."""

    kind: str
    plane: str
    where: str


def section(
    weights: Sequence[OnRim], *, spokes: int = 0, title: str = "Half section: where a weight goes"
) -> Worked:
    """Rim, tire and disc, inboard to the left, with the four places where a weight can go.

    spokes: behind which a strip in the outer plane hides; 0 for a disc without gaps. Raises DrawingError.
    """
    if unknown := [each for each in weights if (each.kind, each.plane) not in PLACES]:
        raise DrawingError(f"no weight is fitted as {unknown[0].kind} {unknown[0].plane}")
    held = {place: [each.where for each in weights if (each.kind, each.plane) == place] for place in PLACES}
    shapes = list(_rim_and_tire())
    for place, (at, _) in PLACES.items():
        tip = _tip(*place)
        shapes.append(Line(*at, *tip, "leader"))
        shapes.append(Polyline(_block(tip), "outline", "computed" if held[place] else "paper", closed=True))
    behind = f"{spokes} spokes" if spokes else "disc"
    shapes += [
        Text(14, 12, "inboard", "quiet", "start"),
        Text(WIDTH - 14, 12, "outboard", "quiet", "end"),
        Text(MIDDLE_X + 112, CUT_Y - 18, behind, "quiet", "start"),
    ]
    rows = tuple((words, "; ".join(held[place]) or "none known") for place, (_, words) in PLACES.items())
    hides = f" A strip in the outer plane hides behind one of the {spokes} spokes." if spokes else ""
    drawing = Drawing(
        title=title,
        description=f"The rim cut through, inboard to the left; rim and tire are general.{hides}",
        width=WIDTH,
        height=HEIGHT,
        shapes=tuple(shapes),
        twin=Twin(title, ("Place", "Weights there"), rows),
    )
    picks = tuple(
        Pick("fit-weight", words, at, {"kind": kind, "plane": plane})
        for (kind, plane), (at, words) in PLACES.items()
    )
    return Worked(drawing, picks)


def _at(z: float, r: float) -> Point:
    """A point of `section_profile`."""
    return MIDDLE_X + z * HALF_WIDTH, FLANGE_Y - r * RADIUS


def _tip(kind: str, plane: str) -> Point:
    side = -1 if plane == "inboard" else 1
    return _at(side * 1.05, 0.0) if kind == "clip" else _at(side * ADHESIVE_SHARE, -0.155)


def _block(at: Point) -> tuple[Point, ...]:
    x, y = at
    return ((x - 9, y - 5), (x + 9, y - 5), (x + 9, y + 5), (x - 9, y + 5))


@cache
def _rim_and_tire() -> tuple[Shape, ...]:
    shapes: list[Shape] = [Line(MIDDLE_X, 18, MIDDLE_X, HEIGHT - 8, "centre")]
    for profile, rising in ((tire(), False), (disc([ADHESIVE_SHARE]), True), (list(RIM), True)):
        polygon = tuple(cut_below([_at(z, r) for z, r in profile], CUT_Y))
        shapes.append(Polyline(polygon, "none", "paper", closed=True))
        shapes += hatch(polygon, rising=rising)
        shapes.append(Polyline(polygon, "thin", closed=True))
    return tuple(shapes)
