"""Tasks: what a student is asked, where the right answer comes from, and how near counts as right."""

from typing import Annotated

from pydantic import Field

from app.domain.tasks.asking import AnyTask, for_each_assembly, key_of, keys_of
from app.domain.tasks.kinds import (
    BenchTask,
    ChoiceTask,
    Criterion,
    NumberTask,
    Option,
    PlacementTask,
    SeveralTask,
    SpotsTask,
)
from app.domain.tasks.order import OrderTask, Step
from app.domain.tasks.sheets import FollowingTask, Hint, Key, KeyedTask, TaskSheet, Tolerance
from app.domain.tasks.words import Level, RubricCriterion, TextTask

Task = Annotated[AnyTask, Field(discriminator="kind")]

__all__ = [
    "AnyTask",
    "BenchTask",
    "ChoiceTask",
    "Criterion",
    "FollowingTask",
    "Hint",
    "Key",
    "KeyedTask",
    "Level",
    "NumberTask",
    "Option",
    "OrderTask",
    "PlacementTask",
    "RubricCriterion",
    "SeveralTask",
    "SpotsTask",
    "Step",
    "Task",
    "TaskSheet",
    "TextTask",
    "Tolerance",
    "for_each_assembly",
    "key_of",
    "keys_of",
]
