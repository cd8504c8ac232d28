"""Reflection sheets: the student's own words after the lab, beside the results of the lab."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.measures import UnitSystem
from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.errors import NotFound, Refused
from app.services.labs import Result, is_put_away, refuse_when_put_away, result_of
from app.services.page_saves import PageSave
from app.services.records import AssignmentRecord, AttemptRecord
from app.services.review import best_handed_in
from app.services.versions import scenario_of
from app.store import assignments, attempts, classes, reflections
from app.store.db import Database

LONGEST_RESPONSE = 6000


@dataclass(frozen=True)
class PromptRow:
    id: str
    text: str
    response: str
    saved_at: datetime | None


@dataclass(frozen=True)
class Sheet:
    """One student's sheet. result: of the attempt that counts, None before any is handed in."""

    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    units: UnitSystem
    scenario_title: str
    prompts: tuple[PromptRow, ...]
    result: Result | None
    put_away: bool
    """Its class is, so it can only be read."""

    @property
    def written(self) -> int:
        return sum(bool(prompt.response.strip()) for prompt in self.prompts)


@dataclass(frozen=True)
class StudentSheet:
    student_id: str
    student_name: str
    sheet: Sheet


def sheet(database: Database, *, assignment_id: str, student: Person) -> Sheet:
    """A student's own sheet. Raises NotFound."""
    with database.read() as session:
        row = assignments.assignment_given_to(session, assignment_id, student.id)
        if row is None:
            raise NotFound("There is no such lab among yours.")
        written = reflections.reflections_of(session, row.id, student.id)
        best = best_handed_in(attempts.attempts_at(session, [row.id], student.id))
        return _sheet(row, written, _results(session, [best] if best else []).get(student.id))


def save(
    database: Database,
    *,
    assignment_id: str,
    student: Person,
    prompt_id: str,
    text: str,
    now: datetime,
    page_save: PageSave | None = None,
) -> None:
    """Keep what a student wrote under one prompt. Raises NotFound and Refused.

    With `page_save` a text that came too late, after a newer one of its page, changes nothing.
    """
    if len(text) > LONGEST_RESPONSE:
        raise Refused(prompt_id, f"This is {len(text)} characters long; at most {LONGEST_RESPONSE} fit.")
    with database.write() as session:
        row = assignments.assignment_given_to(session, assignment_id, student.id)
        prompts = scenario_of(row.scenario_version).reflection if row is not None else ()
        if row is None or prompt_id not in {prompt.id for prompt in prompts}:
            raise NotFound("There is no such reflection prompt among yours.")
        refuse_when_put_away(row, prompt_id)
        kept = reflections.reflection_to_change(session, row.id, student.id, prompt_id)
        if kept is None:
            kept = reflections.add_reflection(
                session, assignment_id=row.id, person_id=student.id, prompt_id=prompt_id, now=now
            )
        elif page_save is not None and page_save.is_overtaken_by(kept.page, kept.page_revision):
            return
        if kept.text != text:
            kept.text, kept.saved_at = text, now
        kept.page, kept.page_revision = (page_save.page, page_save.revision) if page_save else (None, None)


def sheets(
    database: Database, *, assignment_id: str, instructor: Person, student_id: str | None = None
) -> tuple[StudentSheet, ...]:
    """The sheets of a class, written or not, by family name; with student_id that one's. Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        people = [
            each.person
            for each in classes.enrolments_of(session, row.class_id)
            if each.dropped_at is None and student_id in (None, each.person.public_id)
        ]
        if student_id is not None and not people:
            raise NotFound("There is no such student in this class.")
        written = _by_person(reflections.reflections_of(session, row.id))
        tried = _by_person(attempts.attempts_of_assignment(session, row.id))
        best = [best_handed_in(tried.get(person.id, [])) for person in people]
        results = _results(session, [each for each in best if each is not None])
        return tuple(
            StudentSheet(
                person.public_id,
                person.display_name,
                _sheet(row, written.get(person.id, []), results.get(person.id)),
            )
            for person in people
        )


def _by_person(rows: Iterable[Any]) -> dict[int, list[Any]]:
    by_person: dict[int, list[Any]] = {}
    for row in rows:
        by_person.setdefault(row.person_id, []).append(row)
    return by_person


def _results(session: Any, handed_in: Sequence[AttemptRecord]) -> dict[int, Result]:
    """The results of these attempts by their students' row numbers, in two queries however many they are."""
    keys = [row.id for row in handed_in]
    events, marks = attempts.events_of_each(session, keys), attempts.standing_marks_of_each(session, keys)
    return {row.person_id: result_of(row, events.get(row.id, []), marks.get(row.id, [])) for row in handed_in}


def _sheet(row: AssignmentRecord, written: Sequence[Any], result: Result | None) -> Sheet:
    scenario = scenario_of(row.scenario_version)
    texts = {each.prompt_id: each for each in written}
    return Sheet(
        assignment_id=row.public_id,
        title=row.title,
        class_name=row.school_class.name,
        time_zone=row.school_class.time_zone,
        units=row.school_class.units,
        scenario_title=scenario.title,
        prompts=tuple(
            PromptRow(
                prompt.id,
                prompt.text,
                texts[prompt.id].text if prompt.id in texts else "",
                texts[prompt.id].saved_at if prompt.id in texts else None,
            )
            for prompt in scenario.reflection
        ),
        result=result,
        put_away=is_put_away(row),
    )
