"""Hints of a lab: shown one after the other when a student asks, and kept as events before their text is."""

from datetime import datetime

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.labs import hints_in, own_attempt, refuse_when_put_away
from app.services.rules import refuse_when_over
from app.services.versions import scenario_of
from app.store import attempt_events
from app.store.choices import AttemptState, EventKind
from app.store.db import Database


def show_hint(
    database: Database, *, attempt_id: str, student: Person, task_id: str, number: int, now: datetime
) -> None:
    """Let a student see a task's hint of this number, from 1 on; seen already, nothing changes.

    The event that this keeps is what lets the page show the text, so no text is seen that is not reckoned
    with. Raises NotFound, and Refused once the lab is handed in, is over or its class is put away.
    """
    with database.write() as session:
        row = own_attempt(session, attempt_id, student)
        task = scenario_of(row.scenario_version).task(task_id)
        if task is None or not 1 <= number <= len(task.hints):
            raise NotFound("There is no such hint in this lab.")
        if row.state is not AttemptState.OPEN:
            raise Refused("answers", "This lab is handed in; it shows no more hints.")
        refuse_when_put_away(row.assignment, "answers")
        refuse_when_over(row, "answers", now)
        shown = hints_in(attempt_events.events_of(session, row.id)).get(task_id, 0)
        if number > shown + 1:
            raise Refused("answers", "Hints are shown one after the other.")
        if number == shown + 1:
            body = {"task": task_id, "number": number, "cost": task.hints[number - 1].cost}
            attempt_events.add_event(session, attempt_key=row.id, kind=EventKind.HINT, body=body, now=now)
