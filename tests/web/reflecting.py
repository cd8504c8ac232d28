"""Short ways to reflection sheets, for the tests of their pages."""

from app.services import reflections
from app.services.accounts import Person
from app.store.db import Database

OWN_WORDS = "It feels the pull, not the <b>width</b>. Größe & 5 > 3."


def own(assignment_id: str, more: str = "") -> str:
    return f"/labs/assignments/{assignment_id}/reflection{more}"


def all_of(assignment_id: str, more: str = "") -> str:
    return f"/teaching/assignments/{assignment_id}/reflections{more}"


def write(database: Database, assignment_id: str, student: Person, text: str, *, now) -> None:
    reflections.save(
        database, assignment_id=assignment_id, student=student, prompt_id="senses", text=text, now=now
    )


def written(database: Database, assignment_id: str, student: Person) -> dict[str, str]:
    sheet = reflections.sheet(database, assignment_id=assignment_id, student=student)
    return {prompt.id: prompt.response for prompt in sheet.prompts}
