"""What a student has to do: the list of everything given, and one assignment before it is begun."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from app.domain.scenario import Scenario
from app.domain.standing import Counted, RuleLine, Rules, Standing, State, rule_lines
from app.services.accounts import Person
from app.services.errors import NotFound
from app.services.handing_in import hand_in_what_is_over
from app.services.labs import AttemptRow, attempt_row, is_put_away
from app.services.records import AssignmentRecord, AttemptRecord
from app.services.reflection_sheets import is_with_the_student, prompts_of
from app.services.standings import standings_of_student
from app.services.versions import scenario_of
from app.store import assignments, attempts, gradebook, reflections
from app.store.choices import AttemptState, ReflectionState
from app.store.db import Database


@dataclass(frozen=True)
class DueRow:
    """One assignment as its student sees it in the list. set_by_hand: points in the place of what the marks
    come to, None where none are."""

    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    attempts_used: int
    open_attempt_id: str | None
    last_handed_in_id: str | None
    out_of: float
    standing: Standing
    put_away: bool
    set_by_hand: float | None

    @property
    def rules(self) -> Rules:
        """As they are for this student."""
        return self.standing.rules

    @property
    def state(self) -> State:
        return self.standing.state

    @property
    def may_start(self) -> bool:
        return self.standing.may_start

    @property
    def counted(self) -> Counted | None:
        return self.standing.counted


@dataclass(frozen=True)
class AssignmentForStudent:
    """rules: in words, to be read before the start. reflects: whether its reflection sheet asks anything.
    to_write: whether the sheet is still the student's to write."""

    due: DueRow
    scenario: Scenario
    rules: tuple[RuleLine, ...]
    attempts: tuple[AttemptRow, ...]
    reflects: bool
    to_write: bool


def due_list(database: Database, *, student: Person, now: datetime) -> list[DueRow]:
    """Everything given to the student's classes, soonest due first."""
    hand_in_what_is_over(database, now=now, student=student)
    with database.read() as session:
        given = assignments.assignments_given_to(session, student.id)
        own = attempts.attempts_at(session, [row.id for row in given], student.id)
        standings = standings_of_student(session, given, student.id, now)
        by_hand = _set_by_hand(session, given, student)
        rows = [
            _due_row(
                row,
                [each for each in own if each.assignment_id == row.id],
                standings.at(row.id, student.id),
                by_hand.get(row.id),
            )
            for row in given
        ]
        return sorted(rows, key=lambda row: row.rules.due_at)


def assignment(
    database: Database, *, assignment_id: str, student: Person, now: datetime
) -> AssignmentForStudent:
    """What a student is told before starting, and the own attempts so far. Raises NotFound."""
    hand_in_what_is_over(database, now=now, student=student)
    with database.read() as session:
        row = given_to(session, assignment_id, student)
        own = attempts.attempts_at(session, [row.id], student.id)
        stands = standings_of_student(session, [row], student.id, now).at(row.id, student.id)
        scenario = scenario_of(row.scenario_version)
        sheet = reflections.begun_by(session, student.id).get(row.id, ReflectionState.WRITING)
        return AssignmentForStudent(
            due=_due_row(row, own, stands, _set_by_hand(session, [row], student).get(row.id)),
            scenario=scenario,
            rules=rule_lines(stands.rules, now),
            attempts=tuple(attempt_row(each, stands.rules) for each in own),
            reflects=bool(prompts_of(scenario, reflections.prompts_of(session, row.id))),
            to_write=is_with_the_student(sheet),
        )


def given_to(session: Any, assignment_id: str, student: Person) -> AssignmentRecord:
    """The row of an assignment of a class this student is in. Raises NotFound."""
    row = assignments.assignment_given_to(session, assignment_id, student.id)
    if row is None:
        raise NotFound("There is no such lab among yours.")
    return row


def _set_by_hand(session: Any, given: Sequence[AssignmentRecord], student: Person) -> dict[int, float | None]:
    """The points that stand by hand, by their assignment's row number."""
    rows = gradebook.hand_grades_of_student(session, [row.id for row in given], student.id)
    return {row.assignment_id: row.points for row in rows}


def _due_row(
    row: AssignmentRecord, own: Sequence[AttemptRecord], stands: Standing, set_by_hand: float | None
) -> DueRow:
    handed_in = [each for each in own if each.state is AttemptState.HANDED_IN]
    still_open = next((each for each in own if each.state is AttemptState.OPEN), None)
    return DueRow(
        assignment_id=row.public_id,
        title=row.title,
        class_name=row.school_class.name,
        time_zone=row.school_class.time_zone,
        attempts_used=len(own),
        open_attempt_id=still_open.public_id if still_open else None,
        last_handed_in_id=handed_in[-1].public_id if handed_in else None,
        out_of=scenario_of(row.scenario_version).out_of,
        standing=stands,
        put_away=is_put_away(row),
        set_by_hand=set_by_hand,
    )
