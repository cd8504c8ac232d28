"""A student's reflection sheets in a list: which to write, and which came back."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from app.services.accounts import Person
from app.services.records import AssignmentRecord
from app.services.reflection_sheets import ReflectionState, is_with_the_student, prompts_of
from app.services.versions import scenario_of
from app.store import assignments, attempts, reflections
from app.store.choices import AttemptState
from app.store.db import Database


@dataclass(frozen=True)
class OwnSheet:
    assignment_id: str
    title: str
    class_name: str
    state: ReflectionState

    @property
    def to_write(self) -> bool:
        return is_with_the_student(self.state)


def own_sheets(database: Database, *, student: Person) -> tuple[OwnSheet, ...]:
    """The sheets that are begun, and those that ask something of a handed-in lab; soonest due first."""
    with database.read() as session:
        given = assignments.assignments_given_to(session, student.id)
        keys = [row.id for row in given]
        begun = reflections.begun_by(session, student.id)
        own = reflections.prompts_of_each(session, keys)
        handed_in = {
            attempt.assignment_id
            for attempt in attempts.attempts_at(session, keys, student.id)
            if attempt.state is AttemptState.HANDED_IN
        }
        return tuple(
            OwnSheet(
                row.public_id, row.title, row.school_class.name, begun.get(row.id, ReflectionState.WRITING)
            )
            for row in given
            if row.id in begun or (row.id in handed_in and _asks(row, own.get(row.id, [])))
        )


def _asks(row: AssignmentRecord, own: Sequence[Any]) -> bool:
    return any(not prompt.closed for prompt in prompts_of(scenario_of(row.scenario_version), own))
