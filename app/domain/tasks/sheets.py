"""What the tables of all kinds of task share: texts, points, a reference to the right answer, a tolerance."""

from typing import Annotated, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import AfterValidator, Field, model_validator

from app.domain.arithmetic import parse
from app.domain.sheets import AuthoredTable, Line, Slug, Text


def _readable(key: str) -> str:
    parse(key)
    return key


Key = Annotated[str, AfterValidator(_readable)]
"""What is asked for: a quantity of the model, `assembly[A].correction.inboard.mass_g`, or arithmetic over
some; `[*]` asks every assembly."""
Points = Annotated[float, Field(gt=0, le=100)]


class Tolerance(AuthoredTable):
    """How far off counts: `absolute` (inside unit) or `relative` (share of the right value), the wider."""

    absolute: Annotated[float, Field(ge=0, le=1e6)] = 0.0
    relative: Annotated[float, Field(ge=0, le=0.5)] = 0.0

    def around(self, right: ArrayLike) -> NDArray[np.float64]:
        """How far off a value may be around each right one: any shape, the same shape out."""
        widest: NDArray[np.float64] = np.maximum(self.absolute, self.relative * np.abs(right))
        return widest

    def scaled(self, by: float) -> "Tolerance":
        """The same around a value that is `by` times as large: only the absolute part has to change."""
        return self.model_copy(update={"absolute": self.absolute * by})


class Hint(AuthoredTable):
    """A help that a student may ask for. cost: points taken off for it, never more than the task earned."""

    text: Text
    cost: Annotated[float, Field(ge=0, le=100)] = 0.0


class TaskSheet(AuthoredTable):
    """What every task has. `{assembly}` in texts stands for the letter when the key asks every assembly."""

    id: Slug
    title: Line
    prompt: Text
    points: Points
    explain: Text | None = None
    hints: Annotated[tuple[Hint, ...], Field(max_length=5)] = ()

    @model_validator(mode="after")
    def _hints_worth_asking_for(self) -> Self:
        if dear := [hint.cost for hint in self.hints if hint.cost > self.points]:
            raise ValueError(f"a hint costs {dear[0]:g} points, more than the {self.points:g} of its task")
        return self


class FollowingTask(TaskSheet):
    """A task that may build on earlier ones.

    Right for the student's own wrong earlier values, it earns `carried_share` of the points.
    """

    follows: tuple[Slug, ...] = ()
    carried_share: Annotated[float, Field(ge=0, le=1)] = 0.5


class KeyedTask(FollowingTask):
    """A task whose right answer always comes from the student's numbers."""

    key: Key
