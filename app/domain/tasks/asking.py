"""The tasks of a scenario as they are asked: once, or once for each assembly."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from app.domain.references import EVERY, for_assembly, split_reference
from app.domain.tasks.kinds import BenchTask, ChoiceTask, NumberTask, PlacementTask, SeveralTask, TextTask
from app.domain.tasks.order import OrderTask
from app.domain.tasks.sheets import FollowingTask

AnyTask = NumberTask | ChoiceTask | SeveralTask | OrderTask | PlacementTask | TextTask | BenchTask


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
