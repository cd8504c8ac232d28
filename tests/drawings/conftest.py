"""One drawing of every sort, and what the tests ask of them."""

import math
from collections.abc import Callable
from xml.etree import ElementTree as ET

import pytest

from app.drawings.cone_board import Cone, cone_board
from app.drawings.dial_readings import Harmonic, Series, dial_readings
from app.drawings.drawing import Drawing
from app.drawings.force_trace import Limit, force_trace
from app.drawings.labels import Box, text_box
from app.drawings.lateral_arrows import Push, lateral_arrows
from app.drawings.rim_width import rim_width
from app.drawings.section_view import Lump, Plane, section_view
from app.drawings.shapes import Text
from app.drawings.sidewall import Moulded, sidewall
from app.drawings.spectrum import spectrum
from app.drawings.spots import Spot, Vector
from app.drawings.vector_plot import vector_plot
from app.drawings.vehicle_plan import Corner, vehicle_plan
from app.drawings.wheel_face import wheel_face

Draw = Callable[[str], Drawing]


def _wave(mean: float, amplitude: float, high_deg: float, count: int) -> tuple[float, ...]:
    angles = [360 * i / count for i in range(count)]
    return tuple(mean + amplitude * math.cos(math.radians(angle - high_deg)) for angle in angles)


def _series(name: str, readings: tuple[float, ...], harmonic: Harmonic | None = None) -> Series:
    return Series(name, readings, tuple(f"{reading:.2f} mm" for reading in readings), harmonic=harmonic)


DRAWERS: dict[str, Draw] = {
    "wheel face": lambda words: wheel_face(
        [Spot("heavy-spot", 120, words), Spot("weight", 300, "35 g"), Spot("weight", 300, "20 g")],
        [Vector("left over 12 g", 12, 80), Vector("own 9 g", 9, 40, "own"), Vector("nothing", 0, None)],
        title=words,
    ),
    "section view": lambda words: section_view(
        [Plane(words, -90, 203, "z −90 mm", "r 203 mm"), Plane("outboard", 38, 178, "z 38 mm", "r 178 mm")],
        [Lump("heavy-spot", -60, 310, "heavy spot 30 g")],
        entered=[Plane("inboard, entered", -75, 203, "z −75 mm", "r 203 mm")],
    ),
    "dial readings": lambda words: dial_readings(
        [
            _series(words, _wave(0.5, 0.3, 70, 12), Harmonic(0.3, 70, "first harmonic 0.60 mm")),
            _series("outboard", _wave(0.4, 0.2, 200, 12)),
        ],
        unit="mm",
    ),
    "force trace": lambda words: force_trace(
        [i * 10 for i in range(36)],
        _wave(4000, 46, 70, 36),
        unit="N",
        total_text="total 92 N",
        limit=Limit(80, "limit 80 N"),
        harmonic=Harmonic(46, 70, words),
    ),
    "vector plot": lambda words: vector_plot(
        [Vector(words, 35, 285), Vector("own", 30, 105, "own")], unit="g"
    ),
    "sidewall": lambda words: sidewall(
        "P205/65R15 92H",
        "DOT A1B2 C3D4 3719",
        [Spot("light-spot", 40, words)],
        words=[Moulded("OUTSIDE", 90)],
        rotation="clockwise",
    ),
    "cone board": lambda words: cone_board(
        [
            Cone(words, 45, 60, "45.00 mm", "60.00 mm"),
            Cone("middle", 58, 75, "58.00 mm", "75.00 mm"),
            Cone("large", 73, 95, "73.00 mm", "95.00 mm"),
            Cone("largest", 90, 130, "90.00 mm", "130.00 mm"),
        ],
        66.5,
        "66.50 mm",
    ),
    "rim width": lambda words: rim_width("183.80 mm", "3.00 mm", title=words),
    "lateral arrows": lambda words: lateral_arrows(
        [Push("clockwise", -42, "−42.0 N"), Push("counterclockwise", 6, "6.0 N")], title=words
    ),
    "spectrum": lambda words: spectrum(23.4, "23.4 Hz", title=words),
    "vehicle plan": lambda words: vehicle_plan([Corner("LF", "B", (words, "R1H 42 N"), best="C")]),
}


@pytest.fixture(params=DRAWERS.values(), ids=DRAWERS.keys())
def draw(request: pytest.FixtureRequest) -> Draw:
    """Makes one sort of drawing with given words in it."""
    drawer: Draw = request.param
    return drawer


@pytest.fixture
def drawing(draw: Draw) -> Drawing:
    return draw("heavy spot 38 g")


@pytest.fixture
def parse() -> Callable[[str], ET.Element]:
    return ET.fromstring


@pytest.fixture
def overlapping() -> Callable[[Drawing], list[tuple[str, str]]]:
    """The pairs of straight texts of a drawing whose boxes lie on one another."""

    def find(drawing: Drawing) -> list[tuple[str, str]]:
        boxes = [(shape.text, _box(shape)) for shape in drawing.shapes if isinstance(shape, Text)]
        return [
            (text, other_text)
            for i, (text, box) in enumerate(boxes)
            for other_text, other in boxes[i + 1 :]
            if box.overlaps(other)
        ]

    return find


def _box(text: Text) -> Box:
    box = text_box(text)
    if not text.turn:
        return box
    # Turned by a quarter: width and height change places about the anchor.
    half_width, half_height = (box.right - box.left) / 2, (box.bottom - box.top) / 2
    return Box(text.x - half_height, text.y - half_width, text.x + half_height, text.y + half_width)
