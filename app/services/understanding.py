"""What a class understood: of one assignment task by task, and of all of them by skill."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import mean
from typing import Any

from app.domain.understanding import Understanding, time_by_task, understanding
from app.domain.wrong_turns import words_of
from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.gradebook import GradeCell, gradebook
from app.services.labs import mark_of
from app.services.reach import own_class
from app.services.records import AttemptRecord
from app.services.rules import rules_of_attempts
from app.services.standings import counting_attempt
from app.services.versions import scenario_of
from app.store import assignments, attempt_events, attempts, classes
from app.store.db import Database


@dataclass(frozen=True)
class TurnRow:
    """A wrong turn in words, and how many students took it."""

    words: str
    students: int


@dataclass(frozen=True)
class TaskRow:
    """A task of the assignment with what its understanding is; `turns` in words."""

    task_id: str
    title: str
    part: str
    difficulty: float | None
    discrimination: float | None
    students: int
    answered: int
    carried: int
    minutes: float | None
    turns: tuple[TurnRow, ...]


@dataclass(frozen=True)
class AssignmentUnderstanding:
    """students: in the class now; handed_in: those whose counting attempt stands behind the numbers."""

    assignment_id: str
    title: str
    class_id: str
    class_name: str
    students: int
    handed_in: int
    tasks: tuple[TaskRow, ...]
    turns: tuple[TurnRow, ...]
    reliability: Any
    shares: tuple[float, ...]


@dataclass(frozen=True)
class SkillRow:
    """A skill that scenarios name: the mean share of points at the labs that teach it, over the grades given
    so far."""

    skill: str
    share: float | None
    grades: int
    labs: tuple[str, ...]


def of_assignment(database: Database, *, assignment_id: str, instructor: Person) -> AssignmentUnderstanding:
    """From each student's counting attempt (of an average, the last). Raises NotFound."""
    with database.read() as session:
        row: Any = own_assignment(session, assignment_id, instructor)
        people = [
            each.person_id for each in classes.enrolments_of(session, row.class_id) if not each.dropped_at
        ]
        counting = _counting(session, attempts.attempts_of_assignment(session, row.id), people)
        marks = attempts.standing_marks_of_each(session, [each.id for each in counting])
        events = attempt_events.events_of_each(session, [each.id for each in counting])
        scenario = scenario_of(row.scenario_version)
        found = understanding(
            [task.id for task in scenario.tasks],
            [{mark.task_id: mark_of(mark) for mark in marks.get(each.id, [])} for each in counting],
            [_time_spent(each, events.get(each.id, [])) for each in counting],
        )
        return AssignmentUnderstanding(
            assignment_id=row.public_id,
            title=row.title,
            class_id=row.school_class.public_id,
            class_name=row.school_class.name,
            students=len(people),
            handed_in=len(counting),
            tasks=_task_rows(scenario, found),
            turns=tuple(TurnRow(words_of(each.turn), each.students) for each in found.turns),
            reliability=found.reliability,
            shares=found.shares,
        )


def by_skill(database: Database, *, class_id: str, instructor: Person, now: datetime) -> tuple[SkillRow, ...]:
    """Every skill that the class's labs teach, the least understood first. Raises NotFound."""
    book = gradebook(database, class_id=class_id, instructor=instructor, now=now)
    with database.read() as session:
        row = own_class(session, class_id, instructor)
        given = {each.public_id: each for each in assignments.assignments_of_class(session, row.id)}
        skills = {key: scenario_of(each.scenario_version).skills for key, each in given.items()}
    shares: dict[str, list[float]] = defaultdict(list)
    labs: dict[str, list[str]] = defaultdict(list)
    for place, column in enumerate(book.columns):
        earned = [_share(each.cells[place]) for each in book.rows if each.cells[place].points is not None]
        for skill in skills.get(column.assignment_id, ()):
            shares[skill] += earned
            labs[skill].append(column.title)
    rows = [
        SkillRow(skill, mean(shares[skill]) if shares[skill] else None, len(shares[skill]), tuple(titles))
        for skill, titles in labs.items()
    ]
    return tuple(sorted(rows, key=lambda each: (each.share is None, each.share, each.skill)))


def _share(cell: GradeCell) -> float:
    return (cell.points or 0.0) / cell.out_of if cell.out_of else 0.0


def _counting(session: Any, tried: Sequence[AttemptRecord], people: Sequence[int]) -> list[AttemptRecord]:
    """Of these people's attempts at an assignment those that count."""
    rules = rules_of_attempts(session, tried)
    by_person: dict[int, list[AttemptRecord]] = defaultdict(list)
    for each in tried:
        by_person[each.person_id].append(each)
    tries = [by_person[person] for person in people if person in by_person]
    return [row for own in tries if (row := counting_attempt(own, rules[own[0].id])) is not None]


def _time_spent(attempt: Any, events: Sequence[Any]) -> dict[str, timedelta]:
    return time_by_task(attempt.started_at, [(event.at, event.body.get("task")) for event in events])


def _task_rows(scenario: Any, found: Understanding) -> tuple[TaskRow, ...]:
    parts = {task.id: part.title for part in scenario.lab_parts for task in part.tasks}
    return tuple(
        TaskRow(
            task_id=task.id,
            title=task.title,
            part=parts[task.id],
            difficulty=each.analysis.difficulty,
            discrimination=each.analysis.discrimination,
            students=each.analysis.students,
            answered=each.answered,
            carried=each.carried,
            minutes=each.minutes,
            turns=tuple(TurnRow(words_of(turn.turn), turn.students) for turn in each.turns),
        )
        for task, each in zip(scenario.tasks, found.tasks, strict=True)
    )
