"""How answers of a lab come in one at a time, from the script that saves them; `app.web.lab_answers` reads
those of a whole form.

What an answer means is for the domain to read; here it only gets the shape that its kind of task sends, and
loses the signs that no page can show.
"""

import re
from typing import Any

from werkzeug.exceptions import BadRequest

from app.domain.answers import Raw, answer_as_shown
from app.services.page_saves import PageSave

PAGE = re.compile(r"[0-9a-z]{8,40}")
REVISIONS = range(1, 2**31)


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
