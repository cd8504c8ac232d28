"""Whose grades other rules would change: what work counts by the present rules and by the new ones."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from datetime import datetime
from typing import Any, Unpack

from app.domain.standing import Rules, Standing, standing
from app.services.accounts import Person
from app.services.assignments import RuleEntries, columns_of, own_assignment
from app.services.records import AssignmentRecord
from app.services.rules import exceptional, rules_of, try_of
from app.store import attempts, classes, exceptions
from app.store.db import Database


@dataclass(frozen=True)
class RuleChange:
    """A student whose points or whose word at an assignment would be others."""

    student_id: str
    sort_name: str
    before: Standing
    after: Standing


def preview_change(
    database: Database,
    *,
    assignment_id: str,
    instructor: Person,
    now: datetime,
    **entries: Unpack[RuleEntries],
) -> list[RuleChange]:
    """Who changes by these rules, by family name; nothing is changed. Raises NotFound and Refused."""
    with database.read() as session:
        row = own_assignment(session, assignment_id, instructor)
        columns = columns_of(session, row.class_id, entries, itself=row)
        before = rules_of(row)
        known = {each.name for each in fields(Rules)}
        after = replace(before, **{name: value for name, value in columns.items() if name in known})
        return [
            change
            for change in _students(session, row, before, after, now)
            if _what_counts(change.before) != _what_counts(change.after)
        ]


def _students(
    session: Any, row: AssignmentRecord, before: Rules, after: Rules, now: datetime
) -> Iterator[RuleChange]:
    own = {each.person_id: exceptional(each) for each in exceptions.exceptions_at(session, [row.id])}
    tries: dict[int, list[Any]] = {}
    for each in attempts.attempts_of_assignment(session, row.id):
        tries.setdefault(each.person_id, []).append(try_of(each))
    for enrolment in classes.enrolments_of(session, row.class_id):
        if enrolment.dropped_at is not None:
            continue
        person = enrolment.person
        stands = [
            standing(
                rules.for_student(own.get(person.id), extra_time_factor=enrolment.extra_time_factor),
                tries.get(person.id, []),
                now,
            )
            for rules in (before, after)
        ]
        yield RuleChange(person.public_id, person.sort_name, *stands)


def _what_counts(stands: Standing) -> tuple[Any, ...]:
    return stands.state, stands.counted, stands.in_totals
