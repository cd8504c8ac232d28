"""A student's work: starting a lab, saving answers, handing in, and the result."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from app.domain.answers import Raw
from app.domain.draws import DRAWING_VERSION
from app.domain.scenario import Scenario
from app.services.accounts import Person
from app.services.due import given_to
from app.services.errors import NotFound, Refused
from app.services.handing_in import hand_in, hand_in_what_is_over
from app.services.labs import (
    Lab,
    Result,
    lab_of,
    own_attempt,
    problems_of,
    refuse_when_put_away,
    result_of,
    variant_of_attempt,
)
from app.services.page_saves import PageSave
from app.services.records import AttemptRecord
from app.services.rules import refuse_when_over, rules_of_attempt
from app.services.standings import standings_of_student
from app.services.versions import attempt_seed, scenario_of
from app.store import attempt_events, attempts
from app.store.choices import AttemptState, EventKind
from app.store.db import Database

LONGEST_ANSWER = 6000
"""Characters of one saved answer, whatever its kind; each kind has a tighter bound of its own."""


@dataclass(frozen=True)
class Saved:
    """problem: why an answer, saved as typed, can't be read yet."""

    problem: str | None


def start_attempt(database: Database, *, assignment_id: str, student: Person, now: datetime) -> str:
    """The public id of the open attempt, a new one with new numbers when there is none.

    Raises NotFound, and Refused where the rules of the assignment allow no start now.
    """
    hand_in_what_is_over(database, now=now, student=student)
    with database.write() as session:
        row = given_to(session, assignment_id, student)
        own = attempts.attempts_at(session, [row.id], student.id)
        still_open = next((each for each in own if each.state is AttemptState.OPEN), None)
        if still_open is not None:
            return still_open.public_id
        stands = standings_of_student(session, [row], student.id, now).at(row.id, student.id)
        if not stands.may_start:
            raise Refused("assignment", stands.why_not)
        version = row.scenario_version
        number = len(own) + 1
        seed = attempt_seed(
            sha256=version.sha256, assignment=row.public_id, student=student.public_id, number=number
        )
        started = attempts.add_attempt(
            session,
            assignment_id=row.id,
            person_id=student.id,
            number=number,
            seed=str(seed),
            drawing_version=DRAWING_VERSION,
            scenario_version_id=version.id,
            units=row.school_class.units,
            state=AttemptState.OPEN,
            started_at=now,
        )
        return started.public_id


def lab(database: Database, *, attempt_id: str, student: Person, now: datetime | None = None) -> Lab:
    """A student's own lab with what is saved; with `now` handed in as it is when its time is over by then.
    Raises NotFound."""
    found = _read_lab(database, attempt_id, student)
    if now is None or not _is_over(found, now):
        return found
    hand_in_what_is_over(database, now=now, attempt_id=attempt_id)
    return _read_lab(database, attempt_id, student)


def _is_over(lab: Lab, now: datetime) -> bool:
    """Whether an open lab's time is over; what is put away stays as it is."""
    return lab.handed_in_at is None and not lab.put_away and lab.rules.is_over(lab.started_at, now)


def _read_lab(database: Database, attempt_id: str, student: Person) -> Lab:
    with database.read() as session:
        row = own_attempt(session, attempt_id, student)
        return lab_of(row, attempt_events.events_of(session, row.id), rules_of_attempt(row))


def save_answer(
    database: Database,
    *,
    attempt_id: str,
    student: Person,
    task_id: str,
    answer: Raw,
    now: datetime,
    page_save: PageSave | None = None,
) -> Saved:
    """Keep one answer as an event; durable when this returns. Raises NotFound, and Refused once the lab is
    handed in or its time is over."""
    answers = {task_id: answer}
    return save_answers(
        database, attempt_id=attempt_id, student=student, answers=answers, now=now, page_save=page_save
    )


def save_answers(
    database: Database,
    *,
    attempt_id: str,
    student: Person,
    answers: Mapping[str, Raw],
    now: datetime,
    page_save: PageSave | None = None,
) -> Saved:
    """Keep the answers that differ from what is saved, each as an event. Raises NotFound and Refused.

    With `page_save` an answer that came too late, after a newer one of its page, changes nothing.
    """
    with database.write() as session:
        row = own_attempt(session, attempt_id, student)
        _refuse_what_can_not_be_kept(scenario_of(row.scenario_version), answers)
        if row.state is not AttemptState.OPEN:
            raise Refused("answers", "This lab is handed in; its answers can't be changed any more.")
        refuse_when_put_away(row.assignment, "answers")
        refuse_when_over(row, "answers", now)
        _append_answers(session, row, answers, page_save, now)
    problems = problems_of(variant_of_attempt(row), answers)
    return Saved(next(iter(problems.values()), None))


def result(database: Database, *, attempt_id: str, student: Person) -> Result | None:
    """The marks of a student's own handed-in lab, None while it is open. Raises NotFound."""
    with database.read() as session:
        row = own_attempt(session, attempt_id, student)
        if row.state is not AttemptState.HANDED_IN:
            return None
        return result_of(
            row,
            attempt_events.events_of(session, row.id),
            attempts.standing_marks(session, row.id),
            rules_of_attempt(row),
        )


def _refuse_what_can_not_be_kept(scenario: Scenario, answers: Mapping[str, Raw]) -> None:
    for task_id, answer in answers.items():
        if scenario.task(task_id) is None:
            raise NotFound("There is no such task in this lab.")
        if len(str(answer)) > LONGEST_ANSWER:
            raise Refused(task_id, f"This is too long to keep; at most {LONGEST_ANSWER} characters fit.")


def _append_answers(
    session: Any,
    row: AttemptRecord,
    answers: Mapping[str, Raw],
    page_save: PageSave | None,
    now: datetime,
) -> None:
    page = asdict(page_save) if page_save else {}
    news = [
        {"task": task_id, "answer": answer} | page
        for task_id, answer in answers.items()
        if _is_news(session, row, task_id, answer, page_save)
    ]
    if news:
        attempt_events.add_events(session, attempt_key=row.id, kind=EventKind.ANSWER, bodies=news, now=now)


def _is_news(session: Any, row: AttemptRecord, task_id: str, answer: Raw, page_save: PageSave | None) -> bool:
    """Whether an answer is to be kept beside what is saved for its task.

    A page's save is news unless the page has sent a newer one: also where it changes nothing, so that an
    older one that is still under way is known to be old.
    """
    if page_save is not None:
        saved = attempt_events.newest_answer(session, row.id, task_id, page=page_save.page)
        return saved is None or not page_save.is_overtaken_by(saved["page"], saved["revision"])
    saved = attempt_events.newest_answer(session, row.id, task_id)
    return bool(saved["answer"] != answer if saved else answer)


__all__ = ["Saved", "hand_in", "lab", "result", "save_answer", "save_answers", "start_attempt"]
