"""A rim in section with the width across its flanges and the thickness of a lip, as a caliper takes them."""

from app.drawings.drawing import Drawing, Twin
from app.drawings.hatching import hatch
from app.drawings.section_profile import RIM
from app.drawings.shapes import Line, Polyline, Shape, Text, dimension

WIDTH = 400.0
MIDDLE = 200.0
HALF = 138.0
FLANGE_Y = 84.0
RISE = 220.0
LIP = 0.05
"""How thick the drawn lip is, as a share of the half width."""


def rim_width(
    outside_text: str, lip_text: str, *, title: str = "The rim, measured across the outside"
) -> Drawing:
    """The rim's section, general in shape; the width between the flanges is left open."""
    profile = tuple((MIDDLE + z * HALF, FLANGE_Y - r * RISE) for z, r in RIM)
    shapes: list[Shape] = [*hatch(profile), Polyline(profile, "outline", closed=True)]
    left, right = MIDDLE - HALF, MIDDLE + HALF
    inner_left, inner_right = left + LIP * HALF, right - LIP * HALF
    for x, top in ((left, 30), (right, 30), (inner_left, 56), (inner_right, 56)):
        shapes.append(Line(x, FLANGE_Y - 3, x, top, "light"))
    shapes += dimension(
        (left, 36), (right, 36), Text(MIDDLE, 24, f"across the outside {outside_text}", "small")
    )
    shapes += dimension(
        (inner_left, 62), (inner_right, 62), Text(MIDDLE, 62, "between the flanges", "small"), gap=130
    )
    shapes += [
        Line(right - LIP * HALF / 2, FLANGE_Y + 4, right + 14, FLANGE_Y + 26, "leader"),
        Text(WIDTH - 8, FLANGE_Y + 36, f"lip {lip_text}", "small", "end"),
        Text(14, FLANGE_Y + 66, "inboard", "quiet", "start"),
        Text(WIDTH - 14, FLANGE_Y + 66, "outboard", "quiet", "end"),
    ]
    return Drawing(
        title=title,
        description="Inboard is left. The rim is general in shape; both lips are equally thick.",
        width=WIDTH,
        height=FLANGE_Y + 80,
        shapes=tuple(shapes),
        twin=Twin(
            title, ("What", "Size"), (("across the outside", outside_text), ("thickness of a lip", lip_text))
        ),
    )
