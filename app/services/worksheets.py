"""The variants that paper worksheets are printed from.

An attempt's numbers follow from the scenario's version, the assignment, the student and the attempt's number
alone, so a sheet can be printed before its attempt is started: the attempt has the same numbers then.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from app.domain.draws import DRAWING_VERSION
from app.domain.variants import Variant
from app.services.accounts import Person
from app.services.assignments import own_assignment
from app.services.labs import variant_of_attempt
from app.services.records import AssignmentRecord, AttemptRecord
from app.services.versions import attempt_seed, variant_of
from app.store import attempts, classes
from app.store.choices import AttemptState
from app.store.db import Database


@dataclass(frozen=True)
class Worksheet:
    """A student's attempt: the open one, else the next to start, else the last."""

    student_id: str
    student_name: str
    number: int
    variant: Variant


def worksheets(database: Database, *, assignment_id: str, instructor: Person) -> tuple[Worksheet, ...]:
    """One for each student of the class, by family name. Raises NotFound."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        people = [
            each.person for each in classes.enrolments_of(session, row.class_id) if each.dropped_at is None
        ]
        tried: dict[int, list[AttemptRecord]] = {}
        for attempt in attempts.attempts_of_assignment(session, row.id):
            tried.setdefault(attempt.person_id, []).append(attempt)
        return tuple(_worksheet(row, person, tried.get(person.id, [])) for person in people)


def _worksheet(row: AssignmentRecord, person: Any, own: Sequence[AttemptRecord]) -> Worksheet:
    still_open = next((each for each in own if each.state is AttemptState.OPEN), None)
    all_used = row.attempts_allowed is not None and len(own) >= row.attempts_allowed
    shown = still_open or (own[-1] if own and all_used else None)
    if shown is not None:
        return Worksheet(person.public_id, person.display_name, shown.number, variant_of_attempt(shown))
    number, version = len(own) + 1, row.scenario_version
    seed = attempt_seed(
        sha256=version.sha256, assignment=row.public_id, student=person.public_id, number=number
    )
    variant = variant_of(version, seed=seed, units=row.school_class.units, drawing_version=DRAWING_VERSION)
    return Worksheet(person.public_id, person.display_name, number, variant)
