"""Where a student stands at an assignment: what may be done now, why not, and what counts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from app.domain.local_clock import time_words
from app.domain.standing.rules import Rules
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


@dataclass(frozen=True, slots=True)
class Standing:
    """why_not: why neither starting nor continuing is possible now, empty otherwise.

    until: when what is possible now ends; of an open attempt its end, else the closing; None: never.
    attempts: those handed in. counted: what they come to, None while there is none. in_totals: whether the
    assignment belongs into the student's total now (handed in or past due, neither excused nor practice).
    """

    rules: Rules
    state: State
    may_start: bool
    may_continue: bool
    why_not: str
    until: datetime | None
    attempts: tuple[Scored, ...]
    counted: Counted | None
    in_totals: bool

    def attempt(self, number: int) -> Scored | None:
        """The handed-in attempt of that number."""
        return next((each for each in self.attempts if each.number == number), None)


def standing(rules: Rules, tries: Sequence[Try], now: datetime, *, put_away: bool = False) -> Standing:
    """rules: as they are for this student. tries: all of this student's, in the order of their numbers.
    put_away: the class is, so that nothing can be done."""
    done = tuple(each for one in tries if (each := scored(rules, one)) is not None)
    still_open = next((one for one in tries if one.handed_in_at is None), None)
    counts = counted(rules, done)
    why_not = PUT_AWAY if put_away else _why_not(rules, tries, still_open, now)
    until = rules.closes_at if still_open is None else rules.ends_at(still_open.started_at)
    return Standing(
        rules=rules,
        state=_state(rules, still_open, counts, now),
        may_start=still_open is None and not why_not,
        may_continue=still_open is not None and not why_not,
        why_not=why_not,
        until=None if why_not else until,
        attempts=done,
        counted=counts,
        in_totals=rules.excused is None and not rules.practice and (counts is not None or now > rules.due_at),
    )


def _why_not(rules: Rules, tries: Sequence[Try], still_open: Try | None, now: datetime) -> str:
    def at(moment: datetime) -> str:
        return time_words(moment, rules.time_zone, now)

    if still_open is not None:
        ends = rules.ends_at(still_open.started_at)
        if ends is None or not rules.is_over(still_open.started_at, now):
            return ""
        return f"Its time was over {at(ends)}; what was saved by then is handed in."
    if now < rules.opens_at:
        return f"This lab opens {at(rules.opens_at)}."
    if rules.closes_at is not None and now >= rules.closes_at:
        return f"This lab closed {at(rules.closes_at)}; nothing can be started or handed in any more."
    if rules.attempts_allowed is not None and len(tries) >= rules.attempts_allowed:
        return "Every attempt is used. Ask your instructor if you need another."
    if rules.unlock is not None and not rules.unlock.reached:
        first = rules.unlock
        if first.percent is None:
            return f"This lab opens once you have handed in “{first.title}”."
        return f"This lab opens once you have reached {first.percent:g} % of the points at “{first.title}”."
    return ""


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
