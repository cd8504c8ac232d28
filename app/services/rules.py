"""The rules of stored assignments, for a class and as they are for its students."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from app.domain.local_clock import time_words
from app.domain.standing import Exceptional, Rules, Try
from app.services.errors import Refused
from app.services.records import AssignmentRecord, AttemptRecord, OwnAttemptRecord
from app.store import exceptions


def rules_of(row: AssignmentRecord) -> Rules:
    """As they are for the class; `unlock` names the assignment that comes first."""
    return Rules(
        time_zone=row.school_class.time_zone,
        opens_at=row.opens_at,
        due_at=row.due_at,
        closes_at=row.closes_at,
        attempts_allowed=row.attempts_allowed,
        counts=row.counts,
        late_percent_per_day=row.late_percent_per_day,
        late_floor_percent=row.late_floor_percent,
        minutes=row.minutes,
        practice=row.practice,
        solutions=row.solutions,
    )


def exceptional(row: Any) -> Exceptional:
    """What a stored exception changes."""
    return Exceptional(
        opens_at=row.opens_at,
        due_at=row.due_at,
        closes_at=row.closes_at,
        attempts_allowed=row.attempts_allowed,
        time_factor=row.time_factor,
        excused=row.excused,
        reason=row.reason,
    )


def try_of(row: Any) -> Try:
    """An attempt as the domain sees it; of a whole row or of its columns alone."""
    return Try(row.number, row.started_at, row.handed_in_at, row.points, row.out_of)


def rules_of_attempts(session: Any, rows: Sequence[AttemptRecord]) -> Mapping[int, Rules]:
    """The rules that each attempt is under, by its key: two queries however many there are."""
    if not rows:
        return {}
    given = {(row.assignment_id, row.person_id): row.assignment for row in rows}
    persons = {person for _, person in given}
    own = {
        (each.assignment_id, each.person_id): exceptional(each)
        for each in exceptions.exceptions_at(session, {key for key, _ in given}, persons)
    }
    factors = exceptions.extra_time_factors(session, {row.class_id for row in given.values()}, persons)
    rules = {
        (assignment, person): rules_of(row).for_student(
            own.get((assignment, person)), extra_time_factor=factors.get((row.class_id, person), 1.0)
        )
        for (assignment, person), row in given.items()
    }
    return {row.id: rules[row.assignment_id, row.person_id] for row in rows}


def rules_of_attempt(row: OwnAttemptRecord) -> Rules:
    """The rules that a student's own attempt is under."""
    own = row.otherwise
    return rules_of(row.assignment).for_student(
        None if own.exception_key is None else exceptional(own), extra_time_factor=own.extra_time_factor
    )


def refuse_when_over(row: OwnAttemptRecord, field: str, now: datetime) -> None:
    """Raises Refused when the time of an open attempt is over: nothing that comes now is kept, and nothing
    that was saved is lost. Call it inside the write."""
    rules = rules_of_attempt(row)
    ends = rules.ends_at(row.started_at)
    if ends is not None and rules.is_over(row.started_at, now):
        raise Refused(
            field,
            f"The time was over {time_words(ends, rules.time_zone, now)}. This came too late and is not "
            "kept; what was saved before is handed in.",
        )
