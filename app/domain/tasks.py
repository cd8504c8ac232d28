"""Tasks: what a student is asked, where the right answer comes from, and how near counts as right."""

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Annotated, Literal, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from app.domain.references import EVERY, FORM, for_assembly, split_reference
from app.domain.sheets import AuthoredTable, Line, Slug, Text

Reference = Annotated[str, Field(pattern=FORM, max_length=80)]
"""Names a quantity of the model: `assembly[A].correction.inboard.mass_g`; `[*]` asks every assembly."""
Points = Annotated[float, Field(gt=0, le=100)]


class Tolerance(AuthoredTable):
    """How far off counts: `absolute` (inside unit) or `relative` (share of the right value), the wider."""

    absolute: Annotated[float, Field(ge=0, le=1e6)] = 0.0
    relative: Annotated[float, Field(ge=0, le=0.5)] = 0.0

    def around(self, right: ArrayLike) -> NDArray[np.float64]:
        """How far off a value may be around each right one: any shape, the same shape out."""
        widest: NDArray[np.float64] = np.maximum(self.absolute, self.relative * np.abs(right))
        return widest


class TaskSheet(AuthoredTable):
    """What every task has. `{assembly}` in texts stands for the letter when the key asks every assembly."""

    id: Slug
    title: Line
    prompt: Text
    points: Points
    explain: Text | None = None


class FollowingTask(TaskSheet):
    """A task that may build on earlier ones.

    Right for the student's own wrong earlier values, it earns `carried_share` of the points.
    """

    key: Reference | None = None
    follows: tuple[Slug, ...] = ()
    carried_share: Annotated[float, Field(ge=0, le=1)] = 0.5


class KeyedTask(FollowingTask):
    """A task whose right answer always comes from the student's numbers."""

    key: Reference


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


AnyTask = NumberTask | ChoiceTask | SeveralTask | PlacementTask | TextTask | BenchTask
Task = Annotated[AnyTask, Field(discriminator="kind")]


def key_of(task: AnyTask) -> str | None:
    """The reference of the right answer; None where that doesn't come from the student's numbers."""
    return task.key if isinstance(task, FollowingTask) else None


def for_each_assembly(
    tasks: Sequence[AnyTask], letters: Sequence[str], *, among: Sequence[AnyTask]
) -> tuple[AnyTask, ...]:
    """The tasks as asked: one whose key holds `[*]` becomes one for each letter, with `-a` behind its id.

    Such tasks in a row are asked together, one assembly after the other. among: all tasks of the scenario, so
    that `follows` can name a task that itself became several.
    """
    several = {task.id for task in among if _asks_all(task)}

    def earlier(task: AnyTask, own: Sequence[str]) -> dict[str, tuple[str, ...]]:
        """What a task follows, where it follows anything: the same assembly's answer, or every assembly's."""
        if not isinstance(task, FollowingTask):
            return {}
        names = [
            each for name in task.follows for each in (_ids_of(name, own) if name in several else (name,))
        ]
        return {"follows": tuple(names)}

    asked: list[AnyTask] = []
    for of_each, row in groupby(tasks, key=_asks_all):
        together = list(row)
        if of_each:
            asked += [_of(task, letter, earlier(task, [letter])) for letter in letters for task in together]
        else:
            asked += [task.model_copy(update=earlier(task, letters)) for task in together]
    return tuple(asked)


def _ids_of(name: str, letters: Sequence[str]) -> list[str]:
    return [f"{name}-{letter.lower()}" for letter in letters]


def _of(task: AnyTask, letter: str, follows: Mapping[str, tuple[str, ...]]) -> AnyTask:
    def spelled(text: str | None) -> str | None:
        return text and text.replace("{assembly}", letter)

    key = key_of(task)
    return task.model_copy(
        update={
            "id": f"{task.id}-{letter.lower()}",
            "title": spelled(task.title),
            "prompt": spelled(task.prompt),
            "explain": spelled(task.explain),
            "key": key and for_assembly(key, letter),
            **follows,
        }
    )


def _asks_all(task: AnyTask) -> bool:
    key = key_of(task)
    return key is not None and split_reference(key)[0] == EVERY
