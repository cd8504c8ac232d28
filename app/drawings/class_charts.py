"""Plain plots of a class: how hard and how telling each task was, and how the points are spread."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.drawings.calculator_chart import FOOT, WIDTH, Axis, Field, axis
from app.drawings.drawing import Drawing, Twin
from app.drawings.shapes import Circle, Line, Polyline, Shape, Text

TENTHS = 10
SHARE = Axis("mean share of the points, %", 0, 100, 20)
TELLING = Axis("correlation with the rest of the lab", -1, 1, 0.5)
DOT = 9.0


@dataclass(frozen=True)
class TaskPoint:
    """A task's number in the lab, its mean share (0 to 1) and its correlation with the rest, None where that
    is undefined."""

    number: int
    title: str
    share: float
    correlation: float | None


def task_chart(tasks: Sequence[TaskPoint]) -> Drawing:
    """Each task where its share and its correlation put it; tasks without a correlation stand in the table
    only."""
    field = Field(SHARE, TELLING)
    left, middle = field.at(SHARE.low, 0)
    right, _ = field.at(SHARE.high, 0)
    shapes: list[Shape] = [*field.grid(), Line(left, middle, right, middle, "medium")]
    for task in tasks:
        if task.correlation is not None:
            x, y = field.at(100 * task.share, task.correlation)
            shapes += [Circle(x, y, DOT, "thin", "paper"), Text(x, y, str(task.number), "small")]
    return Drawing(
        title="How hard each task was, and whether it tells students apart",
        description="Each task by its number: to the right the easy ones, upward those that students do well "
        "who do well in the rest of the lab. Below the middle line the strong students did worse.",
        width=WIDTH,
        height=FOOT,
        shapes=tuple(shapes),
        twin=Twin(
            "Share and correlation of each task",
            ("Task", "Mean share, %", "Correlation"),
            tuple(
                (f"{each.number} {each.title}", f"{100 * each.share:.0f}", _two_places(each.correlation))
                for each in tasks
            ),
        ),
    )


def points_chart(shares: Sequence[float]) -> Drawing:
    """How many students earned which part of the points, in tenths; the last one holds 100 %."""
    places = np.clip((np.asarray(shares, dtype=float) * TENTHS + 1e-9).astype(int), 0, TENTHS - 1)
    counts = np.bincount(places, minlength=TENTHS)
    field = Field(
        Axis("share of the points, %", 0, 100, 10), axis("students", [0.0, float(max(counts.max(), 1))])
    )
    width = 100 / TENTHS
    bars: list[Shape] = [
        Polyline(
            tuple(
                field.at(x, y)
                for x, y in ((low, 0.0), (low, count), (low + width, count), (low + width, 0.0))
            ),
            "thin",
            "wash",
            closed=True,
        )
        for low, count in zip(np.arange(TENTHS) * width, counts, strict=True)
        if count
    ]
    rows = [(f"{width * i:.0f} to {width * (i + 1):.0f}", str(count)) for i, count in enumerate(counts)]
    return Drawing(
        title="How the points are spread",
        description=f"How many of {len(shares)} students earned which share of the points.",
        width=WIDTH,
        height=FOOT,
        shapes=(*bars, *field.grid()),
        twin=Twin("Students by share of the points", ("Share, %", "Students"), tuple(rows)),
    )


def _two_places(value: float | None) -> str:
    return "–" if value is None else f"{value:.2f}".replace("-", "\N{MINUS SIGN}")
