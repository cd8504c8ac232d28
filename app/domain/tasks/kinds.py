"""The kinds of task that are answered by a value, by choosing, by placing, in words, or at the bench."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from app.domain.sheets import AuthoredTable, Line, Slug, Text
from app.domain.tasks.sheets import FollowingTask, KeyedTask, TaskSheet, Tolerance


class NumberTask(KeyedTask):
    kind: Literal["number"]
    tolerance: Tolerance


class Option(AuthoredTable):
    id: Slug
    text: Line


class ChoiceTask(FollowingTask):
    """One of several; right is what `key` gives for the student's numbers, or the fixed option `right`."""

    kind: Literal["choice"]
    options: Annotated[tuple[Option, ...], Field(min_length=2, max_length=12)]
    right: Slug | None = None

    @model_validator(mode="after")
    def _one_right(self) -> Self:
        names = [option.id for option in self.options]
        if len(set(names)) < len(names):
            raise ValueError("two options have the same id")
        if (self.key is None) == (self.right is None):
            raise ValueError(
                "give either key (from the student's numbers) or right (a fixed option), not both"
            )
        if self.right is not None and self.right not in names:
            raise ValueError(f"right must be one of {', '.join(names)}")
        return self


class SeveralTask(KeyedTask):
    """Tick every assembly for which the quantity holds."""

    kind: Literal["several"]


class PlacementTask(KeyedTask):
    """Which assembly goes to which corner; part points by cost between the best and the worst arrangement."""

    kind: Literal["placement"]


class TextTask(TaskSheet):
    """Words, for the instructor to mark by the rubric."""

    kind: Literal["text"]
    rubric: Text
    longest: Annotated[int, Field(ge=20, le=4000)] = 1200


Criterion = Literal[
    "residual",
    "force",
    "pieces",
    "spins",
    "minutes",
    "rules",
    "cautions",
    "comfort",
    "tracking",
    "torque",
    "numbers",
    "pressure",
]


class BenchTask(TaskSheet):
    """One criterion by which the work at the bench is judged; nothing is typed.

    limit: what still counts, in g (residual, each plane), N (force), kPa (pressure), as a share of the
    maker's torque (torque) or of the way from the best to the worst placement (comfort, tracking), else a
    count.
    """

    kind: Literal["bench"]
    judges: Criterion
    limit: Annotated[float, Field(ge=0, le=1e6)] = 0.0
