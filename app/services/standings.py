"""Where students stand at what their classes were given: stored rows in, the domain's standings out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from app.domain.standing import Exceptional, Rules, Standing, Try, Unlock, counted, scored, standing
from app.services.labs import is_put_away
from app.services.records import AssignmentRecord, AttemptRecord
from app.services.rules import exceptional, rules_of, try_of
from app.store import assignments, attempts, exceptions

Place = tuple[int, int]
"""The keys of an assignment and a person."""


@dataclass(frozen=True, slots=True)
class _Given:
    """An assignment, read from its row once. first: what must come first, by its key, and how far."""

    key: int
    class_key: int
    rules: Rules
    put_away: bool
    first: tuple[int, Unlock] | None
    untouched: dict[tuple[float, bool | None], Standing] = field(default_factory=dict)
    """Where everyone stands who has no exception and has begun nothing, made once: by extra time and whether
    `first` is reached."""

    def standing(
        self, own: Exceptional | None, factor: float, reached: bool | None, now: datetime
    ) -> Standing:
        """Of somebody who has begun nothing. reached: None leaves aside what must come first."""
        rules = self.rules.for_student(own, extra_time_factor=factor)
        if self.first is not None and reached is not None:
            _, unlock = self.first
            rules = replace(rules, unlock=replace(unlock, reached=reached))
        return standing(rules, (), now, put_away=self.put_away)


def _given(row: AssignmentRecord, titles: Mapping[int, str]) -> _Given:
    """titles: by key, of all that can come first."""
    key, first = row.unlock_after_id, None
    if key is not None and key in titles:
        first = key, Unlock(titles[key], row.unlock_percent)
    return _Given(row.id, row.class_id, rules_of(row), is_put_away(row), first)


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
        titles = {row.id: row.title for row in given}
        self._given = {row.id: _given(row, titles) for row in given}
        self._tries, self._own, self._factors, self._now = tries, own, factors, now

    def at(self, assignment_key: int, person_key: int) -> Standing:
        given = self._given[assignment_key]
        reached = None if given.first is None else self._has_reached(*given.first, person_key)
        untouched = self._untouched(given, person_key, reached)
        tries = self._tries.get((assignment_key, person_key))
        if not tries:
            return untouched
        return standing(untouched.rules, tries, self._now, put_away=given.put_away)

    def _untouched(self, given: _Given, person_key: int, reached: bool | None = None) -> Standing:
        """Where a person stands who has begun nothing."""
        factor = self._factors.get((given.class_key, person_key), 1.0)
        own = self._own.get((given.key, person_key))
        if own is not None:
            return given.standing(own, factor, reached, self._now)
        usual = given.untouched.get((factor, reached))
        if usual is None:
            usual = given.untouched[factor, reached] = given.standing(None, factor, reached, self._now)
        return usual

    def _has_reached(self, assignment_key: int, unlock: Unlock, person_key: int) -> bool:
        """Whoever is excused from what comes first need not wait for it."""
        rules = self._untouched(self._given[assignment_key], person_key).rules
        if rules.excused is not None:
            return True
        tries = self._tries.get((assignment_key, person_key), ())
        counts = counted(rules, [each for one in tries if (each := scored(rules, one)) is not None])
        if counts is None:
            return False
        return unlock.percent is None or counts.share * 100 >= unlock.percent


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


def counting_attempt(own: Sequence[AttemptRecord], rules: Rules) -> AttemptRecord | None:
    """Of one student's attempts at an assignment the one that counts, of an average the last, as in the
    gradebook."""
    done = [each for row in own if (each := scored(rules, try_of(row))) is not None]
    counts = counted(rules, done)
    return None if counts is None else next(row for row in own if row.number == max(counts.numbers))


def _by_place(rows: Iterable[Any]) -> dict[Place, list[Try]]:
    tries: dict[Place, list[Try]] = {}
    for row in rows:
        tries.setdefault((row.assignment_id, row.person_id), []).append(try_of(row))
    return tries


def _own(rows: Iterable[Any]) -> dict[Place, Exceptional]:
    return {(row.assignment_id, row.person_id): exceptional(row) for row in rows}
