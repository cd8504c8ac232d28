"""Attempts that are handed in, put into a database in bulk: what the services would have stored."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import islice
from typing import Any

from sqlalchemy import func, insert, select

from app.domain.batches import Work, draw_each, mark_many
from app.domain.draws import DRAWING_VERSION, seed_of
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario, parse
from app.services.labs import machine_mark
from app.store.choices import AttemptState, EventKind
from app.store.db import Database
from app.store.models import Attempt, Event, Mark
from tests.services.lessons import right_answers

AT_ONCE = 5_000


@dataclass(frozen=True)
class Worked:
    """One student's numbers with right answers and their marks; many attempts share one."""

    seed: int
    answers: dict[str, Any]
    marks: list[dict[str, Any]]


@dataclass(frozen=True)
class Place:
    """Where an attempt stands: keys of its assignment, its version and its student, and its number."""

    assignment: int
    version: int
    person: int
    number: int


def worked(content: str, count: int) -> list[Worked]:
    scenario: Scenario = parse(content)
    seeds = [seed_of("handed in", str(number)) for number in range(count)]
    variants = draw_each(scenario, seeds, UnitSystem.US)
    works = [Work(variant.seed, right_answers(variant)) for variant in variants]
    marked = mark_many(scenario, UnitSystem.US, works)
    return [
        Worked(work.seed, dict(work.answers), [machine_mark(mark) for mark in marks])
        for work, marks in zip(works, marked, strict=True)
    ]


def fill(database: Database, places: Iterator[Place], done: Sequence[Worked], now: datetime) -> int:
    """Hand in an attempt at each place; returns how many there were."""
    with database.read() as session:
        key = session.scalar(select(func.coalesce(func.max(Attempt.id), 0))) or 0
    first = key
    while chunk := list(islice(places, AT_ONCE)):
        attempts, events, marks = [], [], []
        for place in chunk:
            key += 1
            work = done[key % len(done)]
            attempts.append(_attempt(key, place, work, now))
            events += _events(key, work, now)
            marks += [
                {**mark, "attempt_id": key, "made_at": now, "superseded_at": None} for mark in work.marks
            ]
        with database.write() as session:
            for table, rows in ((Attempt, attempts), (Event, events), (Mark, marks)):
                session.execute(insert(table.__table__), rows)
    return key - first


def _attempt(key: int, place: Place, work: Worked, now: datetime) -> dict[str, Any]:
    return {
        "id": key,
        "public_id": f"{key:020d}".translate(str.maketrans("01", "zy")),
        "assignment_id": place.assignment,
        "person_id": place.person,
        "number": place.number,
        "seed": str(work.seed),
        "drawing_version": DRAWING_VERSION,
        "scenario_version_id": place.version,
        "units": UnitSystem.US,
        "state": AttemptState.HANDED_IN,
        "started_at": now - timedelta(hours=20),
        "handed_in_at": now - timedelta(hours=19),
        "points": sum(mark["points"] for mark in work.marks),
        "out_of": sum(mark["out_of"] for mark in work.marks),
    }


def _events(key: int, work: Worked, now: datetime) -> list[dict[str, Any]]:
    bodies: list[tuple[EventKind, dict[str, Any]]] = [
        (EventKind.ANSWER, {"task": task, "answer": answer}) for task, answer in work.answers.items()
    ]
    bodies.append((EventKind.HAND_IN, {}))
    return [
        {"attempt_id": key, "number": number, "kind": kind, "body": body, "at": now - timedelta(hours=19)}
        for number, (kind, body) in enumerate(bodies, 1)
    ]
