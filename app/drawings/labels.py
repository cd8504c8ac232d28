"""Where labels go so that none lies on another, and the parts list under a drawing."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from app.drawings.markers import marker
from app.drawings.pens import BOLD, SIZES
from app.drawings.polar import Point, point
from app.drawings.shapes import Circle, CurvedText, Line, Shape, Text

NARROW = frozenset("iIjlrtf.,:;'|!()[]° 1")
WIDE = frozenset("mwMW@%—ΣΩ")
LINE_HEIGHT = 19.0
BALLOON = 10.0


@dataclass(frozen=True)
class Box:
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        beside = self.right <= other.left or other.right <= self.left
        above = self.bottom <= other.top or other.bottom <= self.top
        return not (beside or above)

    def within(self, other: "Box") -> bool:
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.top <= self.top
            and self.bottom <= other.bottom
        )


@lru_cache(maxsize=4096)  # the same figures and units stand in every drawing
def text_width(text: str, size: str = "label") -> float:
    """About how wide a line is; on the wide side, since the reader's machine may lack our letters."""
    return sum(_share(sign) for sign in text) * SIZES[size] * (1.06 if size in BOLD else 1.0)


def _share(sign: str) -> float:
    if sign in NARROW:
        return 0.36
    if sign in WIDE:
        return 0.92
    return 0.68 if sign.isupper() else 0.58


def text_box(text: Text) -> Box:
    """The box of a line of text that is not turned."""
    width, half = text_width(text.text, text.size), SIZES[text.size] / 2
    left = text.x - {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return Box(left, text.y - half, left + width, text.y + half)


def square(at: Point, half: float) -> Box:
    return Box(at[0] - half, at[1] - half, at[0] + half, at[1] + half)


def wrap(text: str, width: float, size: str = "label") -> list[str]:
    """`text` in lines no wider than `width`, broken at spaces; within a word that alone is too wide.

    A number and its unit stay together where a no-break space joins them.
    """
    lines = [""]
    for word in re.split(r"[ \t\r\n]+", text.strip()):
        candidate = f"{lines[-1]} {word}".strip()
        if text_width(candidate, size) <= width:
            lines[-1] = candidate
            continue
        if lines[-1]:
            lines.append("")
        for sign in word:
            if text_width(lines[-1] + sign, size) > width:
                lines.append("")
            lines[-1] += sign
    return lines


def around(at: Point, first_deg: float) -> Iterable[Point]:
    """Places for the label of a mark at `at`: nearest first, at each distance first toward `first_deg`."""
    for distance in (21.0, 30.0, 42.0, 56.0, 72.0, 90.0, 110.0):
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            yield point(at, distance, first_deg + turn)


def free_place(
    places: Iterable[Point], half_width: float, half_height: float, taken: Sequence[Box], frame: Box
) -> Point:
    """The first place whose box is free and inside the frame; else the one that covers least."""
    best, least = None, math.inf
    for x, y in places:
        box = Box(x - half_width, y - half_height, x + half_width, y + half_height)
        if not box.within(frame):
            continue
        covered = sum(_shared_area(box, other) for other in taken)
        if covered == 0:
            return x, y
        if covered < least:
            best, least = (x, y), covered
    return best or (frame.left + half_width, frame.top + half_height)


def _shared_area(a: Box, b: Box) -> float:
    if not a.overlaps(b):
        return 0.0
    return (min(a.right, b.right) - max(a.left, b.left)) * (min(a.bottom, b.bottom) - max(a.top, b.top))


def tag_half_width(tag: str) -> float:
    """One letter stands in a balloon, more stand bare."""
    return BALLOON if len(tag) == 1 else text_width(tag, "strong") / 2 + 3


def tagged(at: Point, tag: str, places: Iterable[Point], taken: list[Box], frame: Box) -> list[Shape]:
    """The tag of a mark at `at` on a free place, with its leader line; the place is added to `taken`."""
    half = tag_half_width(tag)
    x, y = free_place(places, half + 1, BALLOON + 1, taken, frame)
    taken.append(Box(x - half, y - BALLOON, x + half, y + BALLOON))
    shapes: list[Shape] = [Line(*at, x, y, "leader")]
    if len(tag) == 1:
        shapes.append(Circle(x, y, BALLOON, "thin", "paper"))
    shapes.append(Text(x, y, tag, "strong"))
    return shapes


@dataclass(frozen=True)
class Part:
    """One line of a parts list: the tag that stands in the drawing, the kind of mark and the words."""

    tag: str
    kind: str
    text: str


def parts_list(
    parts: Sequence[Part], top: float, width: float, margin: float = 16.0
) -> tuple[list[Shape], float]:
    """The list under a drawing, ruled like one, and the y at which it ends."""
    shapes: list[Shape] = []
    column = max((2 * tag_half_width(part.tag) + 6 for part in parts if part.tag), default=6.0)
    marker_x, text_x = margin + column + 8, margin + column + 26
    y = top
    for part in parts:
        shapes.append(Line(margin, y, width - margin, y, "light"))
        lines = wrap(part.text, width - margin - text_x)
        middle = y + LINE_HEIGHT / 2 + 2
        if part.tag:
            shapes.append(Text(margin + column / 2, middle, part.tag, "strong"))
        shapes.extend(marker(part.kind, (marker_x, middle)))
        shapes.extend(
            Text(text_x, middle + i * LINE_HEIGHT, line, "label", "start") for i, line in enumerate(lines)
        )
        y += len(lines) * LINE_HEIGHT + 4
    if parts:
        shapes.append(Line(margin, y, width - margin, y, "light"))
    return shapes, y


def texts(shapes: Iterable[Shape]) -> list[str]:
    """Every text of a drawing, in order."""
    return [shape.text for shape in shapes if isinstance(shape, Text | CurvedText)]
