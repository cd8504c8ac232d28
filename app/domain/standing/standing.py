"""Where a student stands at an assignment: what may be done now, why not, and what counts."""

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum
from typing import NamedTuple

from app.domain.local_clock import time_words
from app.domain.standing.rules import Rules, Unlock
from app.domain.standing.scoring import Counted, Scored, Try, counted, scored

PUT_AWAY = "This class is put away: its work can be read, and no longer changed."


class State(StrEnum):
    """How an assignment stands for a student, in a word for the list and the gradebook."""

    EXCUSED = "excused"
    NOT_OPEN = "not open yet"
    LOCKED = "locked"
    """Another assignment comes first."""
    TO_DO = "to do"
    IN_PROGRESS = "in progress"
    HANDED_IN = "handed in"
    LATE = "late"
    """What counts was handed in after the due time."""
    OVERDUE = "overdue"
    """Past due with nothing handed in; it still can be."""
    MISSING = "missing"
    """Closed with nothing handed in."""


class Standing(NamedTuple):
    """tries: all of the student's. counted: what those handed in come to, None while there is none. What a
    gradebook doesn't ask of each of its cells is worked out when it is asked for."""

    rules: Rules
    tries: Sequence[Try]
    state: State
    counted: Counted | None
    now: datetime
    put_away: bool

    @property
    def attempts(self) -> list[Scored]:
        """Those handed in."""
        return _handed_in(self.rules, self.tries)

    def attempt(self, number: int) -> Scored | None:
        """The handed-in attempt of that number."""
        return next((each for each in self.attempts if each.number == number), None)

    @property
    def in_totals(self) -> bool:
        """Whether the assignment belongs into the student's total now: handed in or past due, neither excused
        nor practice."""
        rules = self.rules
        if rules.excused is not None or rules.practice:
            return False
        return self.counted is not None or self.now > rules.due_at

    @property
    def still_open(self) -> Try | None:
        return _still_open(self.tries)

    @property
    def may_start(self) -> bool:
        return self.still_open is None and not self.why_not

    @property
    def may_continue(self) -> bool:
        return self.still_open is not None and not self.why_not

    @property
    def until(self) -> datetime | None:
        """When what is possible now ends; of an open attempt its end, else the closing; None: never."""
        if self.why_not:
            return None
        still_open = self.still_open
        return self.rules.closes_at if still_open is None else self.rules.ends_at(still_open.started_at)

    @property
    def why_not(self) -> str:
        """Why neither starting nor continuing is possible now, empty otherwise."""
        if self.put_away:
            return PUT_AWAY
        still_open = self.still_open
        return self._why_not_start() if still_open is None else self._why_not_continue(still_open)

    def _why_not_continue(self, still_open: Try) -> str:
        ends = self.rules.ends_at(still_open.started_at)
        if ends is None or not self.rules.is_over(still_open.started_at, self.now):
            return ""
        return f"Its time was over {self._at(ends)}; what was saved by then is handed in."

    def _why_not_start(self) -> str:
        rules, now = self.rules, self.now
        if now < rules.opens_at:
            return f"This lab opens {self._at(rules.opens_at)}."
        if rules.closes_at is not None and now >= rules.closes_at:
            closed = self._at(rules.closes_at)
            return f"This lab closed {closed}; nothing can be started or handed in any more."
        if rules.attempts_allowed is not None and len(self.tries) >= rules.attempts_allowed:
            return "Every attempt is used. Ask your instructor if you need another."
        if rules.unlock is not None and not rules.unlock.reached:
            return _comes_first(rules.unlock)
        return ""

    def _at(self, moment: datetime) -> str:
        return time_words(moment, self.rules.time_zone, self.now)


def _comes_first(first: Unlock) -> str:
    if first.percent is None:
        return f"This lab opens once you have handed in “{first.title}”."
    return f"This lab opens once you have reached {first.percent:g} % of the points at “{first.title}”."


def standing(rules: Rules, tries: Sequence[Try], now: datetime, *, put_away: bool = False) -> Standing:
    """rules: as they are for this student. tries: all of this student's, in the order of their numbers.
    put_away: the class is, so that nothing can be done."""
    done = _handed_in(rules, tries)
    still_open = None if len(done) == len(tries) else _still_open(tries)
    counts = counted(rules, done)
    return Standing(rules, tries, _state(rules, still_open, counts, now), counts, now, put_away)


def _handed_in(rules: Rules, tries: Sequence[Try]) -> list[Scored]:
    return [each for one in tries if (each := scored(rules, one)) is not None]


def _still_open(tries: Sequence[Try]) -> Try | None:
    return next((one for one in tries if one.handed_in_at is None), None)


def _state(rules: Rules, still_open: Try | None, counts: Counted | None, now: datetime) -> State:
    if rules.excused is not None:
        return State.EXCUSED
    if still_open is not None:
        return State.IN_PROGRESS
    if counts is not None:
        return State.LATE if counts.late else State.HANDED_IN
    if now < rules.opens_at:
        return State.NOT_OPEN
    if rules.closes_at is not None and now >= rules.closes_at:
        return State.MISSING
    if rules.unlock is not None and not rules.unlock.reached:
        return State.LOCKED
    return State.OVERDUE if now > rules.due_at else State.TO_DO
