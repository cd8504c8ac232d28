"""Shapes as SVG text. Built as an element tree, so that every text is escaped."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import singledispatch
from itertools import groupby
from unicodedata import category
from xml.etree import ElementTree as ET

from app.drawings.labels import text_width
from app.drawings.pens import BOLD, FAMILIES, FILLS, PENS, SIZES
from app.drawings.polar import point
from app.drawings.shapes import Arc, Circle, CurvedText, Line, Polyline, Shape, Text

NAMESPACE = "http://www.w3.org/2000/svg"
BASELINE = 0.35
"""How far below a line's middle its baseline lies, in heights; `dominant-baseline` differs by renderer."""

_LETTERS_SHARE, _LETTERS_HEIGHT = 0.85, 0.95
"""What of a text's estimated width and of its size the letters of a PDF's fonts fill."""


class Svg(str):
    """SVG text that a template may print as it is: all text in it has been escaped."""

    __slots__ = ()

    def __html__(self) -> str:
        return self


def svg_text(
    shapes: Sequence[Shape],
    *,
    title: str,
    description: str,
    width: float,
    height: float,
    prefix: str,
    standalone: bool,
) -> Svg:
    """One <svg> element with role img, title and description; `prefix` begins its ids.

    standalone: with a size and presentation attributes in black ink, for a file or a PDF; else with classes.
    """
    root = ET.Element("svg", viewBox=f"0 0 {_number(width)} {_number(height)}", role="img")
    root.set("class", "engineering")
    root.set("aria-labelledby", f"{prefix}-title {prefix}-description")
    root.set("xmlns", NAMESPACE)
    if standalone:
        root.set("width", _number(width))
        root.set("height", _number(height))
    ET.SubElement(root, "title", id=f"{prefix}-title").text = _printable(title)
    ET.SubElement(root, "desc", id=f"{prefix}-description").text = _printable(description)
    for index, shape in enumerate(_with_lines_joined(shapes)):
        if standalone and isinstance(shape, Text):
            _paper_under(shape, root)
        element = _element(shape, root, f"{prefix}-{index}")
        _style(element, shape, standalone)
    return Svg(ET.tostring(root, encoding="unicode"))


@dataclass(frozen=True)
class _Lines:
    """Lines of one pen, one after the other, as one path: hatching is most of a section, and far less to send
    and to draw so."""

    lines: tuple[Line, ...]

    @property
    def pen(self) -> str:
        return self.lines[0].pen


def _with_lines_joined(shapes: Sequence[Shape]) -> Iterator[Shape | _Lines]:
    for pen, run in groupby(shapes, key=lambda shape: shape.pen if isinstance(shape, Line) else None):
        if pen is None:
            yield from run
        else:
            yield _Lines(tuple(line for line in run if isinstance(line, Line)))


def _paper_under(shape: Text, root: ET.Element) -> None:
    """Bare paper round a text, so that lines stop before it. A page puts a white edge round its letters
    instead; in a PDF such letters become outlines, which take several times as long to set."""
    width, height = text_width(shape.text, shape.size) * _LETTERS_SHARE, SIZES[shape.size] * _LETTERS_HEIGHT
    left = shape.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor] * width
    element = _add(root, "rect", x=left, y=shape.y - height / 2, width=width, height=height)
    element.set("fill", FILLS["paper"])
    _turn(element, shape)


def _turn(element: ET.Element, shape: Text) -> None:
    if shape.turn:
        element.set("transform", f"rotate({_number(shape.turn)} {_number(shape.x)} {_number(shape.y)})")


@singledispatch
def _element(shape: "Shape | _Lines", _root: ET.Element, _id: str) -> ET.Element:
    raise TypeError(f"no such shape: {shape!r}")


@_element.register
def _lines(shape: _Lines, root: ET.Element, _id: str) -> ET.Element:
    path = "".join(
        f"M{_number(line.x1)} {_number(line.y1)}L{_number(line.x2)} {_number(line.y2)}"
        for line in shape.lines
    )
    return ET.SubElement(root, "path", d=path)


@_element.register
def _polyline(shape: Polyline, root: ET.Element, _id: str) -> ET.Element:
    element = ET.SubElement(root, "polygon" if shape.closed else "polyline")
    element.set("points", " ".join(f"{_number(x)},{_number(y)}" for x, y in shape.points))
    return element


@_element.register
def _circle(shape: Circle, root: ET.Element, _id: str) -> ET.Element:
    return _add(root, "circle", cx=shape.x, cy=shape.y, r=shape.r)


@_element.register
def _arc(shape: Arc, root: ET.Element, _id: str) -> ET.Element:
    path = _arc_path((shape.x, shape.y), shape.r, shape.from_deg, shape.to_deg)
    return ET.SubElement(root, "path", d=path)


@_element.register
def _text(shape: Text, root: ET.Element, _id: str) -> ET.Element:
    # The shift to the baseline is made before the turn, so that turned text stays centred too.
    element = _add(root, "text", x=shape.x, y=shape.y + BASELINE * SIZES[shape.size])
    _turn(element, shape)
    element.set("text-anchor", shape.anchor)
    element.text = _printable(shape.text)
    return element


@_element.register
def _curved_text(shape: CurvedText, root: ET.Element, id_: str) -> ET.Element:
    upside_down = 90 < shape.at_deg % 360 < 270
    shift = BASELINE * SIZES[shape.size]
    centre, radius = (shape.x, shape.y), shape.r + (shift if upside_down else -shift)
    from_deg, to_deg = shape.at_deg - 90, shape.at_deg + 90
    if upside_down:
        from_deg, to_deg = to_deg, from_deg
    path = _arc_path(centre, radius, from_deg, to_deg)
    ET.SubElement(root, "path", id=id_, d=path, fill="none")
    element = ET.SubElement(root, "text")
    element.set("text-anchor", "middle")
    # Half of the half circle, as a length: a renderer for PDF does not read percentages here.
    along = ET.SubElement(element, "textPath", href=f"#{id_}", startOffset=_number(math.pi * radius / 2))
    along.text = _printable(shape.text)
    return element


def _style(element: ET.Element, shape: Shape | _Lines, standalone: bool) -> None:
    if isinstance(shape, Text | CurvedText):
        if not standalone:
            element.set("class", f"text-{shape.size}")
            return
        element.set("font-family", FAMILIES)
        element.set("font-size", _number(SIZES[shape.size]))
        element.set("font-weight", "bold" if shape.size in BOLD else "normal")
        element.set("fill", "#000")
        return
    fill = shape.fill if isinstance(shape, Polyline | Circle) else "none"
    if not standalone:
        element.set("class", f"pen-{shape.pen} fill-{fill}")
        return
    for name, value in PENS[shape.pen].items():
        element.set(name, value)
    element.set("fill", FILLS[fill])
    element.set("stroke-linejoin", "round")


def _arc_path(centre: tuple[float, float], radius: float, from_deg: float, to_deg: float) -> str:
    """Clockwise when `to_deg` is the greater angle, else counterclockwise."""
    (x1, y1), (x2, y2) = point(centre, radius, from_deg), point(centre, radius, to_deg)
    large, sweep = int(abs(to_deg - from_deg) > 180), int(to_deg > from_deg)
    r = _number(radius)
    return f"M{_number(x1)} {_number(y1)}A{r} {r} 0 {large} {sweep} {_number(x2)} {_number(y2)}"


def _add(root: ET.Element, tag: str, **numbers: float) -> ET.Element:
    return ET.SubElement(root, tag, {name: _number(value) for name, value in numbers.items()})


def _number(value: float) -> str:
    """Two decimals at most, and no negative zero."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def _printable(text: str) -> str:
    """XML has no place for control signs, which an author's text may still hold; spaces of any width stay."""
    return "".join(
        sign if sign.isprintable() or category(sign) == "Zs" else " " if sign.isspace() else ""
        for sign in text
    )
