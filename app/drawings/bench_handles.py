"""What can be taken hold of in a drawing of the bench, as plain data.

A page lays a button over each place, a script moves it, and what it stands for goes into a form of an action.
Everything that a handle does can be typed into that form too: without a script nothing is lost.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from app.drawings.drawing import Drawing
from app.drawings.polar import Point, point


@dataclass(frozen=True)
class Around:
    """A handle that goes around `centre`; its angle, clockwise from the top, goes into a field of a form.

    do, field: the action and its field. at_deg: where it stands. sign: +1 where the field holds the handle's
    own angle, -1 where the wheel is turned under something fixed. relative: the field holds the turn from
    `at_deg`, written cw or ccw. sends: letting go sends the form. turns: the drawing turns with the handle.
    """

    do: str
    field: str
    label: str
    centre: Point
    radius: float
    at_deg: float
    sign: int = 1
    relative: bool = False
    sends: bool = False
    turns: bool = False

    @property
    def place(self) -> Point:
        return point(self.centre, self.radius, self.at_deg)


@dataclass(frozen=True)
class Tap:
    """A place that is tapped. adds: what it adds to the list in `field` of the action `do`."""

    do: str
    field: str
    label: str
    adds: str
    place: Point


@dataclass(frozen=True)
class Target:
    """A place to which something is carried; `fields` go into the form of the action `do`."""

    do: str
    label: str
    place: Point
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Pick:
    """A place that is picked; `fields` are chosen in the form of the action `do`.

    A choice that has several options of a kind ("clip P", "clip T" for "clip") keeps the one it has.
    """

    do: str
    label: str
    place: Point
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Piece:
    """Something in the drawing that can be carried away; `fields` say what it is."""

    label: str
    place: Point
    fields: Mapping[str, str] = field(default_factory=dict)


Handle = Around | Tap | Target | Pick | Piece


@dataclass(frozen=True)
class Worked:
    """A drawing with its handles. over: a second drawing of the same size that lies still on it."""

    drawing: Drawing
    handles: tuple[Handle, ...] = ()
    over: Drawing | None = None

    def handles_as_data(self) -> list[dict[str, object]]:
        """For the page's script; places in shares of the drawing's width and height."""
        return [self._data(handle) for handle in self.handles]

    def _data(self, handle: Handle) -> dict[str, object]:
        width, height = self.drawing.width, self.drawing.height
        x, y = handle.place
        data: dict[str, object] = {"label": handle.label, "x": x / width, "y": y / height}
        if not isinstance(handle, Piece):
            data["do"] = handle.do
        match handle:
            case Around():
                data |= {
                    "kind": "around",
                    "field": handle.field,
                    "centreX": handle.centre[0] / width,
                    "centreY": handle.centre[1] / height,
                    "radiusX": handle.radius / width,
                    "radiusY": handle.radius / height,
                    "at": handle.at_deg,
                    "sign": handle.sign,
                    "relative": handle.relative,
                    "sends": handle.sends,
                    "turns": handle.turns,
                }
            case Tap():
                data |= {"kind": "tap", "field": handle.field, "adds": handle.adds}
            case Target():
                data |= {"kind": "target", "fields": dict(handle.fields)}
            case Pick():
                data |= {"kind": "pick", "fields": dict(handle.fields)}
            case Piece():
                data |= {"kind": "piece", "fields": dict(handle.fields)}
        return data
