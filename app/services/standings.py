"""Where students stand at what their classes were given: stored rows in, the domain's standings out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from app.domain.standing import Exceptional, Rules, Standing, Try, Unlock, counted, scored, standing
from app.services.labs import is_put_away
from app.services.records import AssignmentRecord
from app.services.rules import exceptional, rules_of, try_of
from app.store import assignments, attempts, exceptions

Place = tuple[int, int]
"""The keys of an assignment and a person."""


class Standings:
    """Where persons stand at assignments; an assignment that must come first is among them."""

    def __init__(
        self,
        given: Sequence[AssignmentRecord],
        tries: Mapping[Place, Sequence[Try]],
        own: Mapping[Place, Exceptional],
        factors: Mapping[tuple[int, int], float],
        now: datetime,
    ) -> None:
        self._given = {row.id: row for row in given}
        self._rules = {row.id: rules_of(row) for row in given}
        self._tries, self._own, self._factors, self._now = tries, own, factors, now
        self._usual: dict[tuple[int, float], Rules] = {}
        """By assignment and extra time: the rules of everyone without an exception, made once."""

    def at(self, assignment_key: int, person_key: int) -> Standing:
        row = self._given[assignment_key]
        rules = self._rules_for(assignment_key, person_key)
        first = self._given.get(row.unlock_after_id) if row.unlock_after_id is not None else None
        if first is not None:
            reached = self._has_reached(first.id, person_key, row.unlock_percent)
            rules = replace(rules, unlock=Unlock(first.title, row.unlock_percent, reached))
        tries = self._tries.get((assignment_key, person_key), ())
        return standing(rules, tries, self._now, put_away=is_put_away(row))

    def _rules_for(self, assignment_key: int, person_key: int) -> Rules:
        row = self._given[assignment_key]
        factor = self._factors.get((row.class_id, person_key), 1.0)
        own = self._own.get((assignment_key, person_key))
        if own is not None:
            return self._rules[assignment_key].for_student(own, extra_time_factor=factor)
        place = assignment_key, factor
        if place not in self._usual:
            self._usual[place] = self._rules[assignment_key].for_student(None, extra_time_factor=factor)
        return self._usual[place]

    def _has_reached(self, assignment_key: int, person_key: int, percent: float | None) -> bool:
        """Whoever is excused from what comes first need not wait for it."""
        rules = self._rules_for(assignment_key, person_key)
        if rules.excused is not None:
            return True
        tries = self._tries.get((assignment_key, person_key), ())
        counts = counted(rules, [each for one in tries if (each := scored(rules, one)) is not None])
        if counts is None:
            return False
        return percent is None or counts.share * 100 >= percent


def standings_of_student(
    session: Any, given: Sequence[AssignmentRecord], student_key: int, now: datetime
) -> Standings:
    """One student's standings at these assignments, in four queries at most."""
    rows = list(given)
    missing = {row.unlock_after_id for row in rows if row.unlock_after_id} - {row.id for row in rows}
    rows += assignments.assignments_by_key(session, missing) if missing else []
    keys = [row.id for row in rows]
    return Standings(
        rows,
        _by_place(attempts.attempts_at(session, keys, student_key)),
        _own(exceptions.exceptions_at(session, keys, [student_key])),
        exceptions.extra_time_factors(session, {row.class_id for row in rows}, [student_key]),
        now,
    )


def standings_of_class(
    session: Any, given: Sequence[AssignmentRecord], class_key: int, now: datetime
) -> Standings:
    """Everyone's standings at the assignments of a class (all of them), in three queries."""
    return Standings(
        given,
        _by_place(attempts.attempts_in_class(session, class_key)),
        _own(exceptions.exceptions_in_class(session, class_key)),
        exceptions.extra_time_factors(session, [class_key]),
        now,
    )


def _by_place(rows: Iterable[Any]) -> dict[Place, list[Try]]:
    tries: dict[Place, list[Try]] = {}
    for row in rows:
        tries.setdefault((row.assignment_id, row.person_id), []).append(try_of(row))
    return tries


def _own(rows: Iterable[Any]) -> dict[Place, Exceptional]:
    return {(row.assignment_id, row.person_id): exceptional(row) for row in rows}
