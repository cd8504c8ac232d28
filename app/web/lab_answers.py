"""The answers of a lab as its form sends them: a student's, or an instructor's who tries a draft.

What an answer means is for the domain to read; here it only gets the shape that its kind of task sends, and
loses the signs that no page can show.
"""

from werkzeug.datastructures import MultiDict

from app.domain.answers import Raw, answer_as_shown, typed_kind
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask
from app.web.lab_sheet import FIELD


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
