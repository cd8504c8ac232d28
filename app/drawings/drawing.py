"""A drawing: its shapes, its words, and the table that says the same."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from app.drawings.shapes import Shape
from app.drawings.svg import Svg, svg_text


@dataclass(frozen=True)
class Twin:
    """The same facts as the picture, as a small table; every row has as many cells as there are heads."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Drawing:
    title: str
    description: str
    width: float
    height: float
    shapes: tuple[Shape, ...]
    twin: Twin

    def markup(self, name: str = "") -> Svg:
        """The drawing for a page; `name` keeps the ids of two equal drawings on one page apart."""
        if name not in self._written:
            self._written[name] = to_svg(self, name=name)
        return self._written[name]

    @cached_property
    def _written(self) -> dict[str, Svg]:
        """By name: a drawing that is kept is written once."""
        return {}


def to_svg(drawing: Drawing, *, standalone: bool = False, name: str = "") -> Svg:
    """The drawing as SVG text: with classes for a page, or `standalone` in black ink for a file or a PDF."""
    return svg_text(
        drawing.shapes,
        title=drawing.title,
        description=drawing.description,
        width=drawing.width,
        height=drawing.height,
        name=name,
        standalone=standalone,
    )


def tags(count: int) -> Sequence[str]:
    """The first `count` letters of a parts list: A to Z without I and O (read as 1 and 0), then A1, ..."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    return [letters[i % 24] + (str(i // 24) if i >= 24 else "") for i in range(count)]
