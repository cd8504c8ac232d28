"""Cones to scale with the bore they have to fit, and a rim under the caliper."""

import pytest

from app.drawings.cone_board import Cone, cone_board
from app.drawings.drawing import Drawing
from app.drawings.errors import DrawingError
from app.drawings.labels import texts
from app.drawings.rim_width import rim_width
from app.drawings.shapes import Polyline


def cone(thin_mm: float, thick_mm: float, name: str = "small") -> Cone:
    return Cone(name, thin_mm, thick_mm, f"{thin_mm} mm", f"{thick_mm} mm")


def widths(drawing: Drawing) -> list[float]:
    """The greatest width of each closed outline: two halves of the plate, then the cones."""
    return [
        max(x for x, _ in shape.points) - min(x for x, _ in shape.points)
        for shape in drawing.shapes
        if isinstance(shape, Polyline) and shape.closed and shape.pen == "outline"
    ]


def test_cones_are_drawn_to_one_scale() -> None:
    _, _, *cones = widths(cone_board([cone(40, 50), cone(60, 100)], 45, "45 mm"))
    assert cones[1] == pytest.approx(2 * cones[0])


def test_the_bore_is_drawn_to_the_scale_of_the_cones() -> None:
    drawing = cone_board([cone(40, 80)], 60, "60 mm")
    left, right = (
        shape.points
        for shape in drawing.shapes
        if isinstance(shape, Polyline)
        and shape.closed
        and len({y for _, y in shape.points}) == 2
        and shape.points[0][1] < 100
    )
    gap = min(x for x, _ in right) - max(x for x, _ in left)
    assert gap == pytest.approx(widths(drawing)[-1] * 60 / 80)


def test_every_diameter_stands_in_the_drawing_and_its_table() -> None:
    drawing = cone_board([cone(45, 60), cone(58, 75, "middle")], 66.5, "66.50 mm")
    for text in ("bore 66.50 mm", "45 mm", "60 mm", "58 mm", "75 mm"):
        assert text in texts(drawing.shapes)
    assert ("middle", "58 mm", "75 mm") in drawing.twin.rows


@pytest.mark.parametrize(
    ("cones", "bore_mm", "field"),
    [
        ([], 60, "cones"),
        ([cone(1, 2)] * 7, 60, "cones"),
        ([cone(45, 60)], 0, "bore_mm"),
        ([cone(0, 60)], 50, "thin_mm"),
    ],
)
def test_what_cannot_be_drawn_is_refused_by_name(cones: list[Cone], bore_mm: float, field: str) -> None:
    with pytest.raises(DrawingError, match=field):
        cone_board(cones, bore_mm, "bore")


def test_the_rim_leaves_the_width_between_the_flanges_to_the_student() -> None:
    drawing = rim_width("183.80 mm", "3.00 mm")
    assert "across the outside 183.80 mm" in texts(drawing.shapes)
    assert "lip 3.00 mm" in texts(drawing.shapes)
    assert "between the flanges" in texts(drawing.shapes)
