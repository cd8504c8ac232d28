"""The kinds of task that are answered by a value, by choosing, by placing or at the bench."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from app.domain.sheets import AuthoredTable, Line, Slug, Text, repeated
from app.domain.tasks.sheets import FollowingTask, Key, KeyedTask, TaskSheet, Tolerance


class NumberTask(KeyedTask):
    kind: Literal["number"]
    tolerance: Tolerance


class SpotsTask(FollowingTask):
    """Mark places on the wheel's face; `keys` are their angles, in any order.

    Part points: each spot found counts, each mark too many takes as much away.
    """

    kind: Literal["spots"]
    keys: Annotated[tuple[Key, ...], Field(min_length=1, max_length=8)]
    tolerance: Tolerance


class Option(AuthoredTable):
    """because: why it is right or not, said to who chose it wrongly or missed it."""

    id: Slug
    text: Line
    because: Text | None = None


def _refuse_twins(options: tuple[Option, ...]) -> None:
    if twice := repeated(option.id for option in options):
        raise ValueError(f"two options have the same id, {twice}")


class ChoiceTask(FollowingTask):
    """One of several; right is what `key` gives for the student's numbers, or the fixed option `right`."""

    kind: Literal["choice"]
    key: Key | None = None
    options: Annotated[tuple[Option, ...], Field(min_length=2, max_length=12)]
    right: Slug | None = None

    @model_validator(mode="after")
    def _one_right(self) -> Self:
        _refuse_twins(self.options)
        names = [option.id for option in self.options]
        if (self.key is None) == (self.right is None):
            raise ValueError(
                "give either key (from the student's numbers) or right (a fixed option), not both"
            )
        if self.right is not None and self.right not in names:
            raise ValueError(f"right must be one of {', '.join(names)}")
        return self


class SeveralTask(FollowingTask):
    """Tick every assembly for which the quantity `key` holds, or those of the own `options` that are `right`.

    Part points: each right tick counts, each wrong one takes as much away.
    """

    kind: Literal["several"]
    key: Key | None = None
    options: Annotated[tuple[Option, ...], Field(max_length=12)] = ()
    right: tuple[Slug, ...] = ()

    @model_validator(mode="after")
    def _key_or_options(self) -> Self:
        if self.key is not None and (self.options or self.right):
            raise ValueError("give either key (ticks assemblies) or options and right, not both")
        if self.key is None and not (len(self.options) > 1 and self.right):
            raise ValueError("needs key (ticks assemblies), or two or more options and right = [...]")
        _refuse_twins(self.options)
        names = [option.id for option in self.options]
        if strange := [name for name in self.right if name not in names]:
            raise ValueError(f"right names {strange[0]}, which is no option; there are {', '.join(names)}")
        if twice := repeated(self.right):
            raise ValueError(f"right names {twice} twice")
        return self


class PlacementTask(KeyedTask):
    """Which assembly goes to which corner; part points by cost between the best and the worst arrangement."""

    kind: Literal["placement"]


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
