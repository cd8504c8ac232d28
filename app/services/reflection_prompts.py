"""What the reflection sheets of an assignment ask, and what they are worth."""

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.errors import NotFound, Refused
from app.services.reach import note, refuse_when_put_away
from app.services.reflection_sheets import Prompt
from app.services.reflections import asked_in
from app.store import reflections
from app.store.db import Database

LONGEST_PROMPT = 1000
MOST_PROMPTS = 20
MOST_POINTS = 1000.0


@dataclass(frozen=True)
class PromptUse:
    """A prompt and how many students have words under it."""

    prompt: Prompt
    written_by: int


@dataclass(frozen=True)
class Asked:
    """out_of: what a sheet is worth, None for no points."""

    prompts: tuple[PromptUse, ...]
    out_of: float | None


def asked(database: Database, *, assignment_id: str, instructor: Person) -> Asked:
    """Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        uses = reflections.texts_by_prompt(session, row.id)
        return Asked(
            tuple(PromptUse(prompt, uses.get(prompt.id, 0)) for prompt in asked_in(session, row)),
            reflections.out_of(session, row.id),
        )


def add_prompt(
    database: Database, *, assignment_id: str, instructor: Person, text: str, now: datetime
) -> str:
    """Ask one more question, before the lab or while it runs; returns its id. Raises NotFound and Refused."""
    text = text.strip()
    if not text or len(text) > LONGEST_PROMPT:
        raise Refused("text", f"Write the question, in at most {LONGEST_PROMPT} characters.")
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        refuse_when_put_away(row.school_class, "text")
        if sum(not prompt.closed for prompt in asked_in(session, row)) >= MOST_PROMPTS:
            raise Refused(
                "text", f"A sheet asks at most {MOST_PROMPTS} questions. Close or remove one first."
            )
        added = reflections.add_prompt(
            session,
            assignment_id=row.id,
            text=text,
            added_at=now,
            added_by=instructor.id,
        )
        note(session, now, instructor, "add prompt", row.school_class, assignment=assignment_id, text=text)
        return str(added.prompt_id)


def close_prompt(
    database: Database, *, assignment_id: str, instructor: Person, prompt_id: str, now: datetime
) -> None:
    """Ask a question no more. What was written under it stays on its writers' sheets; an own question without
    a word under it is removed. Raises NotFound and Refused."""
    with database.write() as session:
        row, prompt, kept = _prompt(session, assignment_id, instructor, prompt_id)
        if (
            kept is not None
            and prompt.own
            and not reflections.texts_by_prompt(session, row.id).get(prompt_id)
        ):
            reflections.drop_prompt(session, kept)
        elif kept is not None:
            kept.closed_at = now
        else:
            reflections.add_prompt(
                session,
                assignment_id=row.id,
                prompt_id=prompt_id,
                text=None,
                added_at=now,
                added_by=instructor.id,
                closed_at=now,
            )
        note(
            session,
            now,
            instructor,
            "close prompt",
            row.school_class,
            assignment=assignment_id,
            prompt=prompt_id,
        )


def reopen_prompt(
    database: Database, *, assignment_id: str, instructor: Person, prompt_id: str, now: datetime
) -> None:
    """Ask a closed question again. Raises NotFound and Refused."""
    with database.write() as session:
        row, prompt, kept = _prompt(session, assignment_id, instructor, prompt_id)
        if prompt.own and kept is not None:
            kept.closed_at = None
        elif kept is not None:
            reflections.drop_prompt(session, kept)
        note(
            session,
            now,
            instructor,
            "reopen prompt",
            row.school_class,
            assignment=assignment_id,
            prompt=prompt_id,
        )


def set_points(
    database: Database, *, assignment_id: str, instructor: Person, out_of: float | None, now: datetime
) -> None:
    """What each sheet of an assignment is worth; None for no points. Raises NotFound and Refused."""
    if out_of is not None and not (math.isfinite(out_of) and 0 < out_of <= MOST_POINTS):
        raise Refused("out_of", f"Give more than 0 and at most {MOST_POINTS:g} points, or leave it empty.")
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        refuse_when_put_away(row.school_class, "out_of")
        most = reflections.most_points(session, row.id)
        if out_of is not None and most > out_of:
            raise Refused("out_of", f"A sheet was given {most:g} points already. Set at least that many.")
        reflections.set_out_of(session, row.id, out_of)
        note(
            session,
            now,
            instructor,
            "reflection points",
            row.school_class,
            assignment=assignment_id,
            out_of=out_of,
        )


def _prompt(
    session: Any, assignment_id: str, instructor: Person, prompt_id: str
) -> tuple[Any, Prompt, Any | None]:
    """The assignment's row, the prompt, and the prompt's row, None for an open one of the scenario."""
    row = own_assignment(session, assignment_id, instructor)
    refuse_when_put_away(row.school_class, "prompt")
    prompt = next((each for each in asked_in(session, row) if each.id == prompt_id), None)
    if prompt is None:
        raise NotFound("There is no such question on these sheets.")
    kept = next(
        (each for each in reflections.prompts_of(session, row.id) if each.prompt_id == prompt_id), None
    )
    return row, prompt, kept
