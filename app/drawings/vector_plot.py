"""Vectors from one centre to one scale: an answer beside the computed value."""

from collections.abc import Sequence

from app.drawings.drawing import Drawing, Twin
from app.drawings.labels import Box, around, parts_list, square, tagged, text_box
from app.drawings.polar import Point, nice_step, point, step_text
from app.drawings.shapes import Circle, Line, Shape, Text, arrow
from app.drawings.spots import Vector, part, prepare_vectors, with_tags
from app.drawings.wheel_face import degree_ring

WIDTH = 400.0
CENTRE: Point = (200.0, 200.0)
RING = 172.0
HEAD = 14.0


def vector_plot(
    vectors: Sequence[Vector], *, unit: str, title: str = "Vectors from the wheel's center"
) -> Drawing:
    """A polar plot with rings in `unit`, in which every vector's `size` is given. Raises DrawingError."""
    vectors = prepare_vectors(vectors)
    letters = with_tags([vector.tag for vector in vectors])
    longest = max((vector.size for vector in vectors), default=0.0)
    step = nice_step(longest, 4)
    rings = max(2, next(n for n in range(1, 99) if n * step >= longest * (1 - 1e-9)))
    scale = RING / (rings * step)

    ring_labels = _ring_labels(vectors, rings, step, unit)
    shapes: list[Shape] = [Circle(*CENTRE, scale * step * i, "light") for i in range(1, rings)]
    shapes += [
        Line(*point(CENTRE, RING, angle), *point(CENTRE, RING, angle + 180), "light") for angle in (0, 90)
    ]
    ring = degree_ring(CENTRE, RING)
    shapes += [*ring, *ring_labels]

    taken = [text_box(shape) for shape in (*ring, *ring_labels) if isinstance(shape, Text)]
    tips = []
    for vector in vectors:
        tip = CENTRE if vector.angle_deg is None else point(CENTRE, scale * vector.size, vector.angle_deg)
        taken += [
            square(point(CENTRE, scale * vector.size * share, vector.angle_deg or 0), 5)
            for share in (0.5, 0.75)
        ]
        taken.append(square(tip, 7))
        tips.append(tip)
    # The dashed arrow lies on top: where both agree, the solid one must not hide it.
    for vector, tip in sorted(zip(vectors, tips, strict=True), key=lambda pair: pair[0].style == "own"):
        shapes += arrow(CENTRE, tip, vector.style, "open" if vector.style == "own" else "filled", length=HEAD)
    shapes.append(Circle(*CENTRE, 2.5, "none", "ink"))

    frame = Box(2, 2, WIDTH - 2, 2 * CENTRE[1] - 2)
    for vector, tip, letter in zip(vectors, tips, letters, strict=True):
        shapes += tagged(tip, letter, around(tip, (vector.angle_deg or 0) + 90), taken, frame)
    parts = [
        part(tag, item.style, item.label, item.where) for tag, item in zip(letters, vectors, strict=True)
    ]
    list_shapes, bottom = parts_list(parts, 2 * CENTRE[1] + 12, WIDTH)
    return Drawing(
        title=title,
        description=f"Angles run clockwise from the valve in degrees; a ring every {step_text(step)} {unit}.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=Twin(
            caption=title,
            heads=("Item", "What", "Arrow", "Where"),
            rows=tuple(
                (tag, item.label, item.style, item.where) for tag, item in zip(letters, vectors, strict=True)
            ),
        ),
    )


def _ring_labels(vectors: Sequence[Vector], rings: int, step: float, unit: str) -> list[Shape]:
    """Ring figures along the ray that is farthest from every vector."""
    used = [vector.angle_deg for vector in vectors if vector.angle_deg is not None]

    def nearest(ray: float) -> float:
        return min((abs((ray - angle + 180) % 360 - 180) for angle in used), default=180.0)

    ray = max((45, 135, 225, 315, 75, 105, 255, 285), key=nearest)
    return [
        Text(*point(CENTRE, RING * i / rings, ray), f"{step_text(step * i)} {unit}", "quiet")
        for i in range(1, rings)
    ]
