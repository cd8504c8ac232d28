"""The tasks of a scenario as they are asked: once, or once for each assembly."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from app.domain.references import asks_every, for_assembly
from app.domain.tasks.kinds import (
    BenchTask,
    ChoiceTask,
    NumberTask,
    PlacementTask,
    SeveralTask,
    SpotsTask,
)
from app.domain.tasks.order import OrderTask
from app.domain.tasks.sheets import FollowingTask
from app.domain.tasks.words import TextTask

AnyTask = NumberTask | ChoiceTask | SeveralTask | SpotsTask | OrderTask | PlacementTask | TextTask | BenchTask


def key_of(task: AnyTask) -> str | None:
    """The key of the right answer; None where no single one gives it from the student's numbers."""
    return None if isinstance(task, SpotsTask | OrderTask | TextTask | BenchTask) else task.key


def keys_of(task: AnyTask) -> tuple[str, ...]:
    """Every key that a task asks for."""
    if isinstance(task, SpotsTask):
        return task.keys
    key = key_of(task)
    return () if key is None else (key,)


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

    keys = tuple(for_assembly(key, letter) for key in keys_of(task))
    return task.model_copy(
        update={
            "id": f"{task.id}-{letter.lower()}",
            "title": spelled(task.title),
            "prompt": spelled(task.prompt),
            "explain": spelled(task.explain),
            "hints": tuple(hint.model_copy(update={"text": spelled(hint.text)}) for hint in task.hints),
            **({"keys": keys} if isinstance(task, SpotsTask) else {"key": keys[0]}),
            **follows,
        }
    )


def _asks_all(task: AnyTask) -> bool:
    return any(asks_every(key) for key in keys_of(task))
