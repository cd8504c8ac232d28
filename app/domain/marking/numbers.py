"""What typed numbers are held against: worked out for every variant of a batch at once."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np

from app.domain.measures import UnitSystem, show
from app.domain.model import Model, quantity_of
from app.domain.tasks import AnyTask, NumberTask
from app.domain.well_posed import reach


class RightNumber(NamedTuple):
    """The right value of one number task of one variant, in its measure's inside unit.

    allowed: how far off still counts as right; reach: the same with what rounding may add; words: for people.
    """

    value: float
    allowed: float
    reach: float
    words: str


RightNumbers = Mapping[str, RightNumber]
"""Those of one variant, by the task's id."""


def right_numbers(
    tasks: tuple[AnyTask, ...], model: Model, units: UnitSystem, count: int
) -> Iterator[RightNumbers]:
    """Those of each of `count` variants. model: of a batch with as many rows, or of one variant."""
    columns = {task.id: _column(task, model, units, count) for task in tasks if isinstance(task, NumberTask)}
    for _ in range(count):
        yield {name: next(column) for name, column in columns.items()}


def right_number(task: NumberTask, model: Model, units: UnitSystem) -> RightNumber:
    """That of one variant."""
    return next(_column(task, model, units, 1))


def _column(task: NumberTask, model: Model, units: UnitSystem, count: int) -> Iterator[RightNumber]:
    # A number that no draw changes has no batch axis.
    values = np.broadcast_to(np.asarray(model.value(task.key), dtype=float), count)
    measure = quantity_of(task.key).measure
    words = (show(value, measure, units) for value in values.tolist())
    parts = (values, task.tolerance.around(values), reach(task.tolerance, values))
    return map(RightNumber, *(part.tolist() for part in parts), words)
