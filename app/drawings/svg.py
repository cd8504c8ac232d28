"""Shapes as SVG text. Words come into it through `_printable` alone, which escapes them; all else is numbers
and names of this program."""

import math
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, singledispatch
from html import escape
from itertools import groupby
from unicodedata import category

from app.drawings.labels import text_width
from app.drawings.pens import BOLD, FAMILIES, FILLS, PENS, SIZES
from app.drawings.polar import point
from app.drawings.shapes import Arc, Circle, CurvedText, Line, Polyline, Shape, Text

NAMESPACE = "http://www.w3.org/2000/svg"
BASELINE = 0.35
"""How far below a line's middle its baseline lies, in heights; `dominant-baseline` differs by renderer."""

_PREFIX = "\0"
"""Begins every id until all that the drawing holds is known; no text has this sign, see `_printable`."""

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
    name: str,
    standalone: bool,
) -> Svg:
    """One <svg> element with role img, title and description. Its ids begin with a sum of all that it holds
    and of `name`.

    standalone: with a size and presentation attributes in black ink, for a file or a PDF; else with classes.
    """
    box = f"{_number(width)} {_number(height)}"
    size = f' width="{_number(width)}" height="{_number(height)}"' if standalone else ""
    content = "".join(
        (
            f'<svg viewBox="0 0 {box}" role="img" class="engineering"',
            f' aria-labelledby="{_PREFIX}-title {_PREFIX}-description" xmlns="{NAMESPACE}"{size}>',
            f'<title id="{_PREFIX}-title">{_printable(title)}</title>',
            f'<desc id="{_PREFIX}-description">{_printable(description)}</desc>',
            *_elements(shapes, standalone),
            "</svg>",
        )
    )
    return Svg(content.replace(_PREFIX, f"drawing-{zlib.crc32(f'{name} {content}'.encode()):08x}"))


def _elements(shapes: Sequence[Shape], standalone: bool) -> Iterator[str]:
    for index, shape in enumerate(_with_lines_joined(shapes)):
        if standalone and isinstance(shape, Text):
            yield _paper_under(shape)
        yield _element(shape, _style(shape, standalone), f"{_PREFIX}-{index}")


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


def _paper_under(shape: Text) -> str:
    """Bare paper round a text, so that lines stop before it. A page puts a white edge round its letters
    instead; in a PDF such letters become outlines, which take several times as long to set."""
    width, height = text_width(shape.text, shape.size) * _LETTERS_SHARE, SIZES[shape.size] * _LETTERS_HEIGHT
    left = shape.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor] * width
    place = f'x="{_number(left)}" y="{_number(shape.y - height / 2)}"'
    size = f'width="{_number(width)}" height="{_number(height)}"'
    return f'<rect {place} {size} fill="{FILLS["paper"]}"{_turn(shape)} />'


def _turn(shape: Text) -> str:
    if not shape.turn:
        return ""
    return f' transform="rotate({_number(shape.turn)} {_number(shape.x)} {_number(shape.y)})"'


@singledispatch
def _element(shape: "Shape | _Lines", _style: str, _id: str) -> str:
    """The element of a shape, `style` among its attributes."""
    raise TypeError(f"no such shape: {shape!r}")


@_element.register
def _lines(shape: _Lines, style: str, _id: str) -> str:
    path = "".join(
        [
            f"M{_number(line.x1)} {_number(line.y1)}L{_number(line.x2)} {_number(line.y2)}"
            for line in shape.lines
        ]
    )
    return f'<path d="{path}"{style} />'


@_element.register
def _polyline(shape: Polyline, style: str, _id: str) -> str:
    points = " ".join([f"{_number(x)},{_number(y)}" for x, y in shape.points])
    return f'<{"polygon" if shape.closed else "polyline"} points="{points}"{style} />'


@_element.register
def _circle(shape: Circle, style: str, _id: str) -> str:
    return f'<circle cx="{_number(shape.x)}" cy="{_number(shape.y)}" r="{_number(shape.r)}"{style} />'


@_element.register
def _arc(shape: Arc, style: str, _id: str) -> str:
    path = _arc_path((shape.x, shape.y), shape.r, shape.from_deg, shape.to_deg)
    return f'<path d="{path}"{style} />'


@_element.register
def _text(shape: Text, style: str, _id: str) -> str:
    # The shift to the baseline is made before the turn, so that turned text stays centred too.
    place = f'x="{_number(shape.x)}" y="{_number(shape.y + BASELINE * SIZES[shape.size])}"{_turn(shape)}'
    return f'<text {place} text-anchor="{shape.anchor}"{style}>{_printable(shape.text)}</text>'


@_element.register
def _curved_text(shape: CurvedText, style: str, id_: str) -> str:
    upside_down = 90 < shape.at_deg % 360 < 270
    shift = BASELINE * SIZES[shape.size]
    centre, radius = (shape.x, shape.y), shape.r + (shift if upside_down else -shift)
    from_deg, to_deg = shape.at_deg - 90, shape.at_deg + 90
    if upside_down:
        from_deg, to_deg = to_deg, from_deg
    path = _arc_path(centre, radius, from_deg, to_deg)
    # Half of the half circle, as a length: a renderer for PDF does not read percentages here.
    along = _number(math.pi * radius / 2)
    return (
        f'<path id="{id_}" d="{path}" fill="none" /><text text-anchor="middle"{style}>'
        f'<textPath href="#{id_}" startOffset="{along}">{_printable(shape.text)}</textPath></text>'
    )


def _style(shape: Shape | _Lines, standalone: bool) -> str:
    """Attributes, each with a blank before it."""
    if isinstance(shape, Text | CurvedText):
        if not standalone:
            return f' class="text-{shape.size}"'
        weight = "bold" if shape.size in BOLD else "normal"
        size = _number(SIZES[shape.size])
        return f' font-family="{FAMILIES}" font-size="{size}" font-weight="{weight}" fill="#000"'
    fill = shape.fill if isinstance(shape, Polyline | Circle) else "none"
    if not standalone:
        return f' class="pen-{shape.pen} fill-{fill}"'
    pen = "".join(f' {name}="{value}"' for name, value in PENS[shape.pen].items())
    return f'{pen} fill="{FILLS[fill]}" stroke-linejoin="round"'


def _arc_path(centre: tuple[float, float], radius: float, from_deg: float, to_deg: float) -> str:
    """Clockwise when `to_deg` is the greater angle, else counterclockwise."""
    (x1, y1), (x2, y2) = point(centre, radius, from_deg), point(centre, radius, to_deg)
    large, sweep = int(abs(to_deg - from_deg) > 180), int(to_deg > from_deg)
    r = _number(radius)
    return f"M{_number(x1)} {_number(y1)}A{r} {r} 0 {large} {sweep} {_number(x2)} {_number(y2)}"


@lru_cache(maxsize=16384)  # rims, rings and ticks have the same places in every drawing
def _number(value: float) -> str:
    """Two decimals at most, and no negative zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _printable(text: str) -> str:
    """Escaped. XML has no place for control signs, which an author's text may still hold; spaces of any width
    stay."""
    if not text.isprintable():
        text = "".join(
            sign if sign.isprintable() or category(sign) == "Zs" else " " if sign.isspace() else ""
            for sign in text
        )
    return escape(text, quote=False)
