"""Two vectors head to tail, and the one that they make together."""

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


def vector_sum(first: Vector, second: Vector, *, sum_label: str, unit: str, title: str) -> Drawing:
    """`first` from the centre, `second` from its tip; the sum runs from the centre to where they end.

    The scale holds every turn of the two, so that turning one changes no other arrow. Raises DrawingError.
    """
    first, second = prepare_vectors([first, second])
    letters = with_tags([first.tag, second.tag, ""])
    reach = first.size + second.size
    step = nice_step(reach, 4)
    rings = max(2, next(n for n in range(1, 99) if n * step >= reach * (1 - 1e-9)))
    scale = RING / (rings * step)

    corner = point(CENTRE, scale * first.size, first.angle_deg or 0)
    end = point(corner, scale * second.size, second.angle_deg or 0)
    ring = degree_ring(CENTRE, RING)
    figures = [
        Text(*point(CENTRE, RING * i / rings, 45), f"{step_text(step * i)} {unit}", "quiet")
        for i in range(1, rings)
    ]
    shapes: list[Shape] = [Circle(*CENTRE, scale * step * i, "light") for i in range(1, rings)]
    shapes += [
        Line(*point(CENTRE, RING, angle), *point(CENTRE, RING, angle + 180), "light") for angle in (0, 90)
    ]
    shapes += [*ring, *figures]
    shapes += arrow(CENTRE, corner, first.style, "open" if first.style == "own" else "filled", length=HEAD)
    shapes += arrow(corner, end, second.style, "open" if second.style == "own" else "filled", length=HEAD)
    shapes += arrow(CENTRE, end, "computed", length=HEAD)
    shapes.append(Circle(*CENTRE, 2.5, "none", "ink"))

    middles = [_between(CENTRE, corner), _between(corner, end), _between(CENTRE, end)]
    taken = [text_box(shape) for shape in (*ring, *figures) if isinstance(shape, Text)]
    taken += [square(at, 6) for at in (corner, end, *middles)]
    frame = Box(2, 2, WIDTH - 2, 2 * CENTRE[1] - 2)
    for at, letter, turn in zip(middles, letters, (-90, 90, 90), strict=True):
        shapes += tagged(at, letter, around(at, turn), taken, frame)
    parts = [
        part(letters[0], first.style, first.label, first.where),
        part(letters[1], second.style, second.label, second.where),
        part(letters[2], "computed", sum_label),
    ]
    list_shapes, bottom = parts_list(parts, 2 * CENTRE[1] + 12, WIDTH)
    return Drawing(
        title=title,
        description=f"Angles run clockwise from the valve in degrees; a ring every {step_text(step)} {unit}.",
        width=WIDTH,
        height=bottom + 6,
        shapes=(*shapes, *list_shapes),
        twin=Twin(
            title,
            ("Item", "What", "Where"),
            (
                (letters[0], first.label, first.where),
                (letters[1], second.label, second.where),
                (letters[2], sum_label, "from the center to the end of both"),
            ),
        ),
    )


def _between(start: Point, end: Point) -> Point:
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
