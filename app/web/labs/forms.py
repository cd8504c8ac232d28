"""How the answers of a lab come in: from its form, and one at a time from the script that saves them.

What an answer means is for the domain to read; here it only gets the shape that its kind of task sends, and
loses the signs that no page can show.
"""

import re
from typing import Any

from werkzeug.datastructures import MultiDict
from werkzeug.exceptions import BadRequest

from app.domain.answers import Raw, answer_as_shown, typed_kind
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask
from app.services.page_saves import PageSave
from app.web.lab_sheet import FIELD

PAGE = re.compile(r"[0-9a-z]{8,40}")
REVISIONS = range(1, 2**31)


def answers_sent(sent: MultiDict[str, str], scenario: Scenario) -> dict[str, Raw]:
    """The answer to every task as the form sent it, by task id; blank where nothing was filled in."""
    return {task.id: answer_as_shown(_answer(sent, task)) for task in scenario.tasks}


def _answer(sent: MultiDict[str, str], task: AnyTask) -> Raw:
    field = FIELD + task.id
    match typed_kind(task):
        case "choices":
            return sent.getlist(field)
        case "placement":
            return _each(sent, f"{field}-position-")
        case "order":
            return _each(sent, f"{field}.")
        case _:
            return sent.get(field, "")


def _each(sent: MultiDict[str, str], prefix: str) -> dict[str, str]:
    """What stands in each control of a group, by the name behind the prefix; nothing when all are empty."""
    entries = {name.removeprefix(prefix): entry for name, entry in sent.items() if name.startswith(prefix)}
    return entries if any(entries.values()) else {}


def answer_in_json(body: Any) -> tuple[str, Raw]:
    """Task id and answer of `{"task": ..., "answer": ...}`; 400 for any other shape."""
    match body:
        case {"task": str(task_id), "answer": None | str() as answer}:
            return task_id, answer_as_shown(answer)
        case {"task": str(task_id), "answer": list(ticked)} if all(isinstance(each, str) for each in ticked):
            return task_id, answer_as_shown(ticked)
        case {"task": str(task_id), "answer": dict(positions)} if _plain(positions):
            return task_id, answer_as_shown(positions)
    raise BadRequest


def page_save_in_json(body: Any) -> PageSave | None:
    """The `"page"` and `"revision"` that came with an answer, None without; 400 for any other shape."""
    match body:
        case {"page": str(page), "revision": bool()}:
            raise BadRequest
        case {"page": str(page), "revision": int(revision)} if PAGE.fullmatch(page) and revision in REVISIONS:
            return PageSave(page, revision)
        case {"page": _}:
            raise BadRequest
    return None


def _plain(positions: dict[Any, Any]) -> bool:
    return all(isinstance(name, str) and isinstance(value, str) for name, value in positions.items())
