"""A task that is answered in words, for the instructor to mark by a rubric."""

from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from app.domain.sheets import AuthoredTable, Line, Slug, Text, repeated
from app.domain.tasks.sheets import Points, TaskSheet


class Level(AuthoredTable):
    """How well a criterion may be met, and what that earns."""

    text: Line
    points: Annotated[float, Field(ge=0, le=100)]


class RubricCriterion(AuthoredTable):
    """One thing to look for. points: at most; levels: the steps between, else any points."""

    id: Slug
    text: Line
    points: Points
    levels: Annotated[tuple[Level, ...], Field(max_length=6)] = ()

    @model_validator(mode="after")
    def _levels_within(self) -> Self:
        if self.levels and max(level.points for level in self.levels) != self.points:
            raise ValueError(f"the best level of {self.id} must earn its {self.points:g} points")
        if twice := repeated(level.points for level in self.levels):
            raise ValueError(f"two levels of {self.id} earn {twice} points; leave one out")
        return self


def _kind_of_rubric(rubric: Any) -> str:
    return "words" if isinstance(rubric, str) else "criteria"


Criteria = Annotated[tuple[RubricCriterion, ...], Field(min_length=1, max_length=10)]
Rubric = Annotated[
    Annotated[Text, Tag("words")] | Annotated[Criteria, Tag("criteria")], Discriminator(_kind_of_rubric)
]


class TextTask(TaskSheet):
    """Words, for the instructor to mark by the rubric: plain words, or criteria with points of their own."""

    kind: Literal["text"]
    rubric: Rubric
    longest: Annotated[int, Field(ge=20, le=4000)] = 1200

    @model_validator(mode="after")
    def _criteria_add_up(self) -> Self:
        if twice := repeated(criterion.id for criterion in self.criteria):
            raise ValueError(f"two criteria of the rubric have the id {twice}; give each its own")
        total = sum(criterion.points for criterion in self.criteria)
        if self.criteria and abs(total - self.points) > 1e-9:
            raise ValueError(
                f"the rubric's criteria add up to {total:g} points, the task gives {self.points:g}"
            )
        return self

    @property
    def criteria(self) -> tuple[RubricCriterion, ...]:
        """None of them where the rubric is plain words."""
        return () if isinstance(self.rubric, str) else self.rubric

    @property
    def rubric_in_words(self) -> str:
        if isinstance(self.rubric, str):
            return self.rubric
        return "\n".join(f"{each.text} ({each.points:g})" for each in self.rubric)
