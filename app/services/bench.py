"""A student's bench: an attempt's actions, each saved before what it shows is shown.

The bench is stored as its list of actions alone and stands where replaying them leaves it. What a replay
gave is kept in this process for the newest attempts, so that the next action costs one step and not sixty.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from app.domain import bench as reducer
from app.domain.bench import Action, BadAction, BenchState, Observation
from app.domain.variants import Variant
from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.kept import Kept
from app.services.labs import is_put_away, own_attempt, refuse_when_put_away, variant_of_attempt
from app.services.rules import refuse_when_over, rules_of_attempt
from app.store import attempt_events, attempts
from app.store.choices import AttemptState, EventKind
from app.store.db import Database

ACTION = EventKind.ACTION
"""The kind of an event whose body is the wire form of an action."""

MOST_KEPT = 256
"""Attempts whose newest state is kept: a few classes at work at once."""

MOST_ACTIONS = 1000
"""At one bench: several times what the longest lab takes."""

STALE = "The bench was worked on in another window. Here it is as it stands now: look at it, then go on."
HANDED_IN = "This lab is handed in; nothing can be done at its bench any more."


TOO_MANY = (
    f"{MOST_ACTIONS:,} actions are done at this bench, and that is the most it takes. "
    "Hand the lab in, or ask your instructor for another attempt."
)


class Stale(Refused):
    """The screen knew an older bench than the one that stands: nothing was done."""


@dataclass(frozen=True)
class Done:
    """One action with what it showed. number: of its event."""

    number: int
    action: Action
    observation: Observation
    at: datetime


@dataclass(frozen=True)
class Run:
    """Where a list of actions leaves the bench."""

    state: BenchState
    done: tuple[Done, ...] = ()

    @property
    def number(self) -> int:
        """Of the newest action's event, 0 before the first: what a screen sends back as `expect`."""
        return self.done[-1].number if self.done else 0


@dataclass(frozen=True)
class BenchView:
    """What a student's screen is made from. It holds the variant: a page picks what has been seen."""

    attempt_id: str
    assignment_id: str
    title: str
    class_name: str
    time_zone: str
    handed_in: bool
    put_away: bool
    """Its class is, so that it can only be read."""
    ends_at: datetime | None
    """When an open lab is over and handed in as it is; None: never."""
    variant: Variant
    run: Run


def bench(database: Database, *, attempt_id: str, student: Person) -> BenchView:
    """The bench of a student's own attempt as it stands. Raises NotFound, for a lab without a bench too."""
    with database.read() as session:
        row, events, ends_at = _read(session, attempt_id, student)
    return _view(row, ends_at, _run(row, events))


def reviewed(database: Database, *, attempt_id: str, instructor: Person) -> Run | None:
    """The bench of an attempt in an instructor's class, None for a lab without one. Raises NotFound."""
    with database.read() as session:
        row = attempts.attempt_taught_by(session, attempt_id, instructor.id)
        if row is None:
            raise NotFound("There is no such attempt in your classes.")
        if variant_of_attempt(row).scenario.bench is None:
            return None
        events = attempt_events.events_of(session, row.id)
    return _run(row, events)


def act(
    database: Database,
    *,
    attempt_id: str,
    student: Person,
    action: Mapping[str, Any],
    expect: int,
    now: datetime,
    known: BenchView | None = None,
) -> BenchView:
    """Do one action and keep it; it is durable when this returns what it showed.

    action: the wire form. expect: the number of the newest action that the screen knows. The same action sent
    again with the same number, because its reply got lost, is not done twice. known: the bench as the caller
    has just read it, which saves reading it again.
    Raises NotFound, Stale, and Refused for an action that can't be read, one too many, or a lab that is
    handed in.
    """
    view = known or bench(database, attempt_id=attempt_id, student=student)
    read = _readable(view.variant, action)
    if was_done(view.run, read, expect):
        return view
    if view.handed_in:
        raise Refused("action", HANDED_IN)
    if view.run.number != expect:
        raise Stale("expect", STALE)
    if len(view.run.done) >= MOST_ACTIONS:
        raise Refused("action", TOO_MANY)
    # The work is done before the write: nobody else writes while one does.
    state, observation = reducer.apply(view.variant, view.run.state, read)
    number = _keep(database, attempt_id, student, reducer.written(read), expect, now)
    after = Run(state, (*view.run.done, Done(number, read, observation, now)))
    _kept.put(attempt_id, after)
    return replace(view, run=after)


def _readable(variant: Variant, action: Mapping[str, Any]) -> Action:
    try:
        read = reducer.read_action(action)
        reducer.check(variant, read)
    except BadAction as fault:
        raise Refused(fault.field, fault.message) from fault
    return read


def was_done(run: Run, action: Action, expect: int) -> bool:
    """Whether the newest action is this one, done from the same place."""
    before = run.done[-2].number if len(run.done) > 1 else 0
    return bool(run.done) and before == expect and run.done[-1].action == action


def _keep(
    database: Database, attempt_id: str, student: Person, body: dict[str, Any], expect: int, now: datetime
) -> int:
    with database.write() as session:
        row = own_attempt(session, attempt_id, student)
        if row.state is not AttemptState.OPEN:
            raise Refused("action", HANDED_IN)
        refuse_when_put_away(row.assignment, "action")
        refuse_when_over(row, "action", now)
        if attempt_events.last_event_number(session, row.id, ACTION) != expect:
            raise Stale("expect", STALE)
        return attempt_events.add_event(session, attempt_key=row.id, kind=ACTION, body=body, now=now)


def _read(session: Any, attempt_id: str, student: Person) -> tuple[Any, Sequence[Any], datetime | None]:
    """The attempt, its events, and when it is over."""
    row = own_attempt(session, attempt_id, student)
    if variant_of_attempt(row).scenario.bench is None:
        raise NotFound("This lab has no bench.")
    ends_at = rules_of_attempt(row).ends_at(row.started_at)
    return row, attempt_events.events_of(session, row.id), ends_at


def _actions(events: Sequence[Any]) -> list[Any]:
    return [event for event in events if event.kind == ACTION]


def _view(row: Any, ends_at: datetime | None, run: Run) -> BenchView:
    assignment, is_open = row.assignment, row.state is AttemptState.OPEN
    return BenchView(
        attempt_id=row.public_id,
        assignment_id=assignment.public_id,
        title=assignment.title,
        class_name=assignment.school_class.name,
        time_zone=assignment.school_class.time_zone,
        handed_in=not is_open,
        put_away=is_put_away(assignment),
        ends_at=ends_at if is_open else None,
        variant=variant_of_attempt(row),
        run=run,
    )


def left_by(row: Any, events: Sequence[Any]) -> BenchState | None:
    """Where an attempt's events leave its bench, for the marks; None for a lab without one."""
    if variant_of_attempt(row).scenario.bench is None:
        return None
    return _run(row, events).state


_kept: Kept[Run] = Kept(MOST_KEPT)


def _run(row: Any, events: Sequence[Any]) -> Run:
    """Where the events leave the bench: what is kept and still true, and the actions after it."""
    actions, variant = _actions(events), variant_of_attempt(row)
    run = _kept.get(row.public_id)
    if run is None or not _is_beginning(run, actions):
        run = Run(reducer.start(variant))
    if len(run.done) < len(actions):
        run = _continued(run, variant, actions[len(run.done) :])
        _kept.put(row.public_id, run)
    return run


def _is_beginning(run: Run, actions: Sequence[Any]) -> bool:
    """Whether a kept run is of these very actions; after a restored backup it may not be."""
    if len(run.done) > len(actions):
        return False
    return all(
        (done.number, done.at) == (event.number, event.at)
        for done, event in zip(run.done, actions, strict=False)
    )


def _continued(run: Run, variant: Variant, actions: Sequence[Any]) -> Run:
    state, done = run.state, list(run.done)
    for event in actions:
        action = reducer.read_action(event.body)
        state, observation = reducer.apply(variant, state, action)
        done.append(Done(event.number, action, observation, event.at))
    return Run(state, tuple(done))
