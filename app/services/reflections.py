"""Reflection sheets: the student's own words after the lab, beside the results of the lab."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.errors import NotFound, Refused
from app.services.labs import Result, refuse_when_put_away, result_of
from app.services.page_saves import PageSave
from app.services.reach import own_class
from app.services.records import AssignmentRecord, AttemptRecord
from app.services.reflection_sheets import (
    Prompt,
    PromptRow,
    Sheet,
    StudentSheet,
    is_with_the_student,
    prompts_of,
    sheet_of,
)
from app.services.rules import rules_of_attempts
from app.services.standings import counting_attempt
from app.services.versions import scenario_of
from app.store import assignments, attempt_events, attempts, classes, reflections
from app.store.choices import ReflectionState
from app.store.db import Database

LONGEST_RESPONSE = 6000


@dataclass(frozen=True)
class OpenedPage:
    """The page that a text comes from: named at random when it is opened, with `changes` of the sheet that it
    showed."""

    name: str
    changes: int


@dataclass(frozen=True)
class SheetPoints:
    """What a sheet earned, for the gradebook; points is None until it is given some."""

    state: ReflectionState
    points: float | None
    out_of: float


def sheet(database: Database, *, assignment_id: str, student: Person) -> Sheet:
    """A student's own sheet. Raises NotFound."""
    with database.read() as session:
        row = given_to(session, assignment_id, student)
        tried = attempts.attempts_at(session, [row.id], student.id)
        return sheet_of(
            row,
            prompts=asked_in(session, row),
            written=reflections.reflections_of(session, row.id, student.id),
            row=next(iter(reflections.sheets_of(session, row.id, student.id)), None),
            out_of=reflections.out_of(session, row.id),
            result=_results(session, tried).get(student.id),
        )


def save(
    database: Database,
    *,
    assignment_id: str,
    student: Person,
    prompt_id: str,
    text: str,
    now: datetime,
    page_save: PageSave | None = None,
    opened: OpenedPage | None = None,
) -> str | None:
    """Keep what a student wrote under one prompt. Raises NotFound and Refused.

    With `page_save` a text that came too late, after a newer one of its page, changes nothing. With `opened`
    a text from a page that is out of date never replaces a newer one: it is kept beside it, and why is
    returned.
    """
    if len(text) > LONGEST_RESPONSE:
        raise Refused(prompt_id, f"This is {len(text)} characters long; at most {LONGEST_RESPONSE} fit.")
    with database.write() as session:
        row = given_to(session, assignment_id, student)
        prompt = next((each for each in asked_in(session, row) if each.id == prompt_id), None)
        if prompt is None:
            raise NotFound("There is no such reflection prompt among yours.")
        refuse_when_put_away(row, prompt_id)
        kept = reflections.reflection_to_change(session, row.id, student.id, prompt_id, now)
        own_sheet = reflections.sheet_to_change(session, row.id, student.id)
        why_aside = _why_aside(prompt, own_sheet, kept, opened)
        if why_aside is None:
            _replace(own_sheet, kept, text, now, page_save, opened)
        elif opened is None:
            raise Refused(prompt_id, why_aside)
        elif text != kept.text:
            aside = reflections.aside_to_change(kept, opened.name)
            if not _came_too_late(aside, page_save):
                aside.text, aside.saved_at = text, now
                _note_page(aside, page_save)
            return why_aside
        return None


def _why_aside(prompt: Prompt, own_sheet: Any, kept: Any, opened: OpenedPage | None) -> str | None:
    """Why a text can't take the place of the one that is kept; None when it can."""
    if prompt.closed:
        return "Your instructor has closed this question. What you typed is kept beside your sheet."
    if not is_with_the_student(own_sheet.state):
        return "This sheet is handed in. What you type now is kept beside it; take the sheet back to use it."
    newer = opened is not None and (kept.change_number or 0) > opened.changes
    if newer and opened is not None and kept.opened_page != opened.name:
        return (
            "This text was changed in another window or on another device since this page was opened. What "
            "you type here is kept beside it: load the page again to see both."
        )
    return None


def _replace(
    own_sheet: Any,
    kept: Any,
    text: str,
    now: datetime,
    page_save: PageSave | None,
    opened: OpenedPage | None,
) -> None:
    if _came_too_late(kept, page_save):
        return
    if kept.text != text:
        own_sheet.changes += 1
        kept.text, kept.saved_at, kept.change_number = text, now, own_sheet.changes
        kept.opened_page = opened.name if opened else None
    _note_page(kept, page_save)


def _came_too_late(kept: Any, page_save: PageSave | None) -> bool:
    return page_save is not None and page_save.is_overtaken_by(kept.page, kept.page_revision)


def _note_page(kept: Any, page_save: PageSave | None) -> None:
    kept.page, kept.page_revision = (page_save.page, page_save.revision) if page_save else (None, None)


def sheets(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    student_id: str | None = None,
    results: bool = True,
) -> tuple[StudentSheet, ...]:
    """The sheets of a class, written or not, by family name; with student_id that one's.

    results: whether the labs' results are wanted too, which takes most of the time. Raises NotFound.
    """
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        return _sheets(session, row, _people(session, row.class_id, student_id), results=results)


def sheets_of_class(
    database: Database, *, class_id: str, instructor: Person, student_id: str | None = None
) -> tuple[StudentSheet, ...]:
    """The sheets of all assignments of a class, each student's together; with student_id that one's alone.

    Raises NotFound.
    """
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        people = _people(session, row.id, student_id)
        found = [
            each
            for given in assignments.assignments_of_class(session, row.id)
            for each in _sheets(session, given, people, results=True)
        ]
        places = {person.public_id: place for place, person in enumerate(people)}
        return tuple(sorted(found, key=lambda each: places[each.student_id]))


def points_of_class(
    database: Database, *, class_id: str, instructor: Person
) -> dict[tuple[str, str], SheetPoints]:
    """By (student id, assignment id), for the assignments whose sheets are worth points: what each sheet that
    was begun earned so far. Raises NotFound."""
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        students = {each.person_id: each.person.public_id for each in classes.enrolments_of(session, row.id)}
        given = {each.id: each.public_id for each in assignments.assignments_of_class(session, row.id)}
        return {
            (students[each.person_id], given[each.assignment_id]): SheetPoints(
                each.state, each.points, each.out_of
            )
            for each in reflections.points_in_class(session, row.id)
            if each.out_of is not None and each.person_id in students
        }


def given_to(session: Any, assignment_id: str, student: Person) -> AssignmentRecord:
    """The row of an assignment of this student's. Raises NotFound."""
    row = assignments.assignment_given_to(session, assignment_id, student.id)
    if row is None:
        raise NotFound("There is no such lab among yours.")
    return row


def asked_in(session: Any, row: AssignmentRecord) -> tuple[Prompt, ...]:
    """Every prompt of an assignment, closed ones too."""
    return prompts_of(scenario_of(row.scenario_version), reflections.prompts_of(session, row.id))


def _people(session: Any, class_key: int, student_id: str | None) -> list[Any]:
    people = [
        each.person
        for each in classes.enrolments_of(session, class_key)
        if each.dropped_at is None and student_id in (None, each.person.public_id)
    ]
    if student_id is not None and not people:
        raise NotFound("There is no such student in this class.")
    return people


def _sheets(
    session: Any, row: AssignmentRecord, people: Sequence[Any], *, results: bool
) -> tuple[StudentSheet, ...]:
    written = _by_person(reflections.reflections_of(session, row.id))
    kept = {each.person_id: each for each in reflections.sheets_of(session, row.id)}
    keys = {person.id for person in people}
    tried = attempts.attempts_of_assignment(session, row.id) if results else ()
    by_person = _results(session, [each for each in tried if each.person_id in keys])
    prompts, out_of = asked_in(session, row), reflections.out_of(session, row.id)
    return tuple(
        StudentSheet(
            person.public_id,
            person.display_name,
            sheet_of(
                row,
                prompts=prompts,
                written=written.get(person.id, []),
                row=kept.get(person.id),
                out_of=out_of,
                result=by_person.get(person.id),
            ),
            sign_in_name=person.sign_in_name,
            sort_name=person.sort_name,
        )
        for person in people
    )


def _by_person(rows: Iterable[Any]) -> dict[int, list[Any]]:
    by_person: dict[int, list[Any]] = {}
    for row in rows:
        by_person.setdefault(row.person_id, []).append(row)
    return by_person


def _results(session: Any, tried: Sequence[AttemptRecord]) -> dict[int, Result]:
    """The result of the attempt that counts, by its student's row number, in four queries however many there
    are. tried: attempts at one assignment."""
    rules = rules_of_attempts(session, tried)
    by_person = _by_person(tried).values()
    counting = [row for own in by_person if (row := counting_attempt(own, rules[own[0].id])) is not None]
    keys = [row.id for row in counting]
    events = attempt_events.events_of_each(session, keys)
    marks = attempts.standing_marks_of_each(session, keys)
    return {
        row.person_id: result_of(row, events.get(row.id, []), marks.get(row.id, []), rules[row.id])
        for row in counting
    }


__all__ = [
    "LONGEST_RESPONSE",
    "OpenedPage",
    "PromptRow",
    "Sheet",
    "SheetPoints",
    "StudentSheet",
    "points_of_class",
    "save",
    "sheet",
    "sheets",
    "sheets_of_class",
]
