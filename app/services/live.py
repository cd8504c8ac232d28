"""A running lab as its instructor watches it: who is where, who may need help, and what goes wrong now."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

from app.domain.answers import Raw
from app.domain.marking import Mark, Verdict, mark_all
from app.domain.wrong_turns import words_of
from app.services import bench
from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.labs import answers_in, mark_of, variant_of_attempt
from app.services.understanding import TurnRow
from app.services.versions import scenario_of
from app.store import assignments, attempt_events, attempts, classes
from app.store.choices import AttemptState, EventKind
from app.store.db import Database

SILENT = timedelta(minutes=5)
"""An open lab in which nothing was saved for so long may need a look."""

MANY_CHANGES = 4
"""So many different answers to one task, and still not right, may need a look."""


class Doing(StrEnum):
    NOT_STARTED = "not started"
    WORKING = "working"
    STUCK = "may need help"
    DONE = "handed in"


@dataclass(frozen=True)
class Seat:
    """One student. at: the title of the task that was saved last. answered: of `tasks`. why: they may need
    help. share: of the points, once handed in."""

    student_id: str
    name: str
    doing: Doing
    attempt_id: str | None
    at: str
    answered: int
    tasks: int
    last_saved: datetime | None
    why: str
    share: float | None


@dataclass(frozen=True)
class Room:
    """turns: how many students' newest attempts hold a known wrong turn now, the commonest first."""

    assignment_id: str
    title: str
    class_id: str
    class_name: str
    time_zone: str
    seen_at: datetime
    seats: tuple[Seat, ...]
    turns: tuple[TurnRow, ...]

    def count(self, doing: Doing) -> int:
        return sum(seat.doing is doing for seat in self.seats)


def room(database: Database, *, assignment_id: str, instructor: Person, now: datetime) -> Room:
    """Every student of the class, by family name, in the newest attempt. Raises NotFound."""
    with database.read() as session:
        row: Any = own_assignment(session, assignment_id, instructor)
        enrolled = [each for each in classes.enrolments_of(session, row.class_id) if each.dropped_at is None]
        newest = {each.person_id: each for each in assignments.newest_attempts(session, row.id)}
        keys = [each.id for each in newest.values()]
        events = attempt_events.events_of_each(session, keys)
        stored = attempts.standing_marks_of_each(session, keys)
    titles = {task.id: task.title for task in scenario_of(row.scenario_version).tasks}
    seats, turns = [], Counter[str]()
    for each in enrolled:
        attempt = newest.get(each.person_id)
        if attempt is None:
            seats.append(_empty_seat(each.person, len(titles)))
            continue
        own = events.get(attempt.id, [])
        marks = _marks(attempt, own, stored.get(attempt.id, []))
        turns.update({mark.wrong_turn for mark in marks.values() if mark.wrong_turn})
        seats.append(_seat(each.person, attempt, own, marks, titles, now))
    ranked = sorted(turns.items(), key=lambda counted: (-counted[1], counted[0]))
    return Room(
        assignment_id=row.public_id,
        title=row.title,
        class_id=row.school_class.public_id,
        class_name=row.school_class.name,
        time_zone=row.school_class.time_zone,
        seen_at=now,
        seats=tuple(seats),
        turns=tuple(TurnRow(words_of(turn), count) for turn, count in ranked),
    )


def _marks(attempt: Any, events: Sequence[Any], stored: Sequence[Any]) -> Mapping[str, Mark]:
    """By task: the stored ones, or of an open lab what its answers would be marked now."""
    if attempt.state is AttemptState.HANDED_IN:
        return {mark.task_id: mark_of(mark) for mark in stored}
    variant = variant_of_attempt(attempt)
    answers = answers_in(events)
    return {mark.task_id: mark for mark in mark_all(variant, answers, bench.left_by(attempt, events))}


def _empty_seat(person: Any, tasks: int) -> Seat:
    return Seat(person.public_id, person.display_name, Doing.NOT_STARTED, None, "", 0, tasks, None, "", None)


def _seat(
    person: Any,
    attempt: Any,
    events: Sequence[Any],
    marks: Mapping[str, Mark],
    titles: Mapping[str, str],
    now: datetime,
) -> Seat:
    handed_in = attempt.state is AttemptState.HANDED_IN
    saved = [event for event in events if event.kind is not EventKind.HAND_IN]
    last = saved[-1] if saved else None
    why = "" if handed_in else _why_stuck(attempt.started_at, saved, marks, titles, now)
    doing = Doing.DONE if handed_in else Doing.STUCK if why else Doing.WORKING
    return Seat(
        student_id=person.public_id,
        name=person.display_name,
        doing=doing,
        attempt_id=attempt.public_id,
        at="" if last is None else titles.get(last.body.get("task", ""), "at the bench"),
        answered=sum(mark.verdict is not Verdict.BLANK for mark in marks.values()),
        tasks=len(titles),
        last_saved=last.at if last else None,
        why=why,
        share=attempt.points / attempt.out_of if handed_in and attempt.out_of else None,
    )


def _span(time: timedelta) -> str:
    """Of at least some minutes, in the unit that one thinks of it in."""
    if time < timedelta(hours=2):
        return f"{time // timedelta(minutes=1)} min"
    if time < timedelta(days=2):
        return f"{time // timedelta(hours=1)} hours"
    return f"{time // timedelta(days=1)} days"


def _why_stuck(
    started_at: datetime,
    saved: Sequence[Any],
    marks: Mapping[str, Mark],
    titles: Mapping[str, str],
    now: datetime,
) -> str:
    silent = now - (saved[-1].at if saved else started_at)
    if silent >= SILENT:
        return f"nothing saved for {_span(silent)}"
    changes = Counter(task for task, _ in _different_answers(saved))
    for task, count in changes.most_common():
        wrong = task in marks and marks[task].verdict in (Verdict.WRONG, Verdict.PART)
        if count >= MANY_CHANGES and wrong:
            return f"{count} different answers to “{titles.get(task, task)}”"
    return ""


def _different_answers(saved: Sequence[Any]) -> set[tuple[str, str]]:
    answers: list[tuple[str, Raw]] = [
        (event.body["task"], event.body["answer"]) for event in saved if event.kind is EventKind.ANSWER
    ]
    return {(task, str(answer)) for task, answer in answers if answer}
