"""A reflection sheet goes to and fro: handed in, taken back, returned with a comment, asked for again."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from app.services import reach
from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.errors import NotFound, Refused
from app.services.labs import refuse_when_put_away
from app.services.reflection_sheets import is_with_the_student
from app.services.reflections import given_to
from app.store import classes, reflections
from app.store.choices import ReflectionState
from app.store.db import Database

LONGEST_COMMENT = 2000


def hand_in(database: Database, *, assignment_id: str, student: Person, now: datetime) -> None:
    """Hand the sheet in as it is saved; a second time changes nothing. Raises NotFound and Refused."""
    with database.write() as session:
        row = given_to(session, assignment_id, student)
        refuse_when_put_away(row, "sheet")
        own_sheet = reflections.sheet_to_change(session, row.id, student.id)
        if not is_with_the_student(own_sheet.state):
            return
        written = reflections.reflections_of(session, row.id, student.id)
        if not any(each.text.strip() for each in written):
            raise Refused("sheet", "Nothing is written yet. Write under at least one question first.")
        if any(each.asides for each in written):
            raise Refused("sheet", "Some text is kept beside your sheet. Use it or throw it away first.")
        _step(session, own_sheet, written, state=ReflectionState.HANDED_IN, by=student, now=now)


def take_back(database: Database, *, assignment_id: str, student: Person, now: datetime) -> None:
    """Take a handed-in sheet back, to go on writing, as long as the instructor hasn't returned it; else
    nothing changes. Raises NotFound and Refused."""
    with database.write() as session:
        row = given_to(session, assignment_id, student)
        refuse_when_put_away(row, "sheet")
        own_sheet = reflections.sheet_to_change(session, row.id, student.id)
        if own_sheet.state is ReflectionState.HANDED_IN:
            written = reflections.reflections_of(session, row.id, student.id)
            _step(session, own_sheet, written, state=ReflectionState.WRITING, by=student, now=now)


def settle_aside(
    database: Database,
    *,
    assignment_id: str,
    student: Person,
    prompt_id: str,
    aside_id: str,
    use: bool,
    now: datetime,
) -> None:
    """Use the text that is kept beside one, or throw it away. What it replaces is kept beside it in its turn,
    unless it is blank. Raises NotFound and Refused."""
    with database.write() as session:
        row = given_to(session, assignment_id, student)
        refuse_when_put_away(row, prompt_id)
        own_sheet = reflections.sheet_to_change(session, row.id, student.id)
        kept = reflections.reflection_to_change(session, row.id, student.id, prompt_id, now)
        aside = next((each for each in kept.asides if each.opened_page == aside_id), None)
        if aside is None:
            raise NotFound("There is no such text beside your sheet; perhaps it was settled already.")
        if not use:
            reflections.drop_aside(session, kept, aside)
            return
        if not is_with_the_student(own_sheet.state):
            raise Refused(prompt_id, "This sheet is handed in. Take it back first, then use the other text.")
        own_sheet.changes += 1
        replaced, kept.text, kept.saved_at = kept.text, aside.text, now
        kept.opened_page, kept.change_number = None, own_sheet.changes
        kept.page, kept.page_revision = None, None
        if replaced.strip():
            aside.text, aside.saved_at = replaced, now
        else:
            reflections.drop_aside(session, kept, aside)


def give_back(
    database: Database,
    *,
    assignment_id: str,
    student_id: str,
    instructor: Person,
    again: bool,
    comment: str,
    points: float | None,
    seen_steps: int,
    now: datetime,
) -> None:
    """Return a sheet with a comment and points, or ask the student to write it again.

    seen_steps: how many steps the instructor saw; when there are more, the student has it back or handed it
    in anew, and nothing is changed. Raises NotFound and Refused.
    """
    comment = comment.strip()
    if len(comment) > LONGEST_COMMENT:
        raise Refused("comment", f"Shorten the comment to at most {LONGEST_COMMENT} characters.")
    if again and not comment:
        raise Refused("comment", "Say what is to be written again, so that the student knows what to do.")
    with database.write() as session:
        row = own_assignment(session, assignment_id, instructor)
        reach.refuse_when_put_away(row.school_class, "comment")
        place = classes.enrolment_of(session, row.class_id, student_id)
        if place is None or place.dropped_at is not None:
            raise NotFound("There is no such student in this class.")
        out_of = reflections.out_of(session, row.id)
        _check_points(points, out_of)
        own_sheet = reflections.sheet_to_change(session, row.id, place.person_id)
        if len(own_sheet.steps) != seen_steps:
            raise Refused(
                "comment",
                "The sheet went on since this page was opened. Your words are kept here; look at it again, "
                "then send them.",
            )
        written = reflections.reflections_of(session, row.id, place.person_id)
        state = ReflectionState.ASKED_AGAIN if again else ReflectionState.RETURNED
        _step(
            session,
            own_sheet,
            written,
            state=state,
            by=instructor,
            now=now,
            comment=comment,
            points=points,
            out_of=out_of,
        )
        act = "ask for reflection again" if again else "return reflection"
        reach.note(
            session, now, instructor, act, row.school_class, assignment=assignment_id, student=student_id
        )


def _check_points(points: float | None, out_of: float | None) -> None:
    if points is None:
        return
    if out_of is None:
        raise Refused(
            "points", "These sheets are worth no points. Set their points first, or leave it empty."
        )
    if not 0 <= points <= out_of:
        raise Refused("points", f"Give 0 to {out_of:g} points, or leave it empty.")


def _step(
    session: Any,
    own_sheet: Any,
    written: Sequence[Any],
    *,
    state: ReflectionState,
    by: Person,
    now: datetime,
    comment: str = "",
    points: float | None = None,
    out_of: float | None = None,
) -> None:
    reflections.add_step(
        session,
        own_sheet,
        state=state,
        comment=comment,
        points=points,
        out_of=out_of,
        texts={each.prompt_id: each.text for each in written if each.text},
        made_at=now,
        made_by=by.id,
    )
