"""Revision 0002: an event may be a hint, its rows stay frozen, and no shown hint is lost on the way back."""

import pytest
from sqlalchemy import text

from app.store import migrating
from app.store.choices import EventKind
from app.store.errors import Immutable
from app.store.models import Event
from tests.store.rows import an_attempt


def test_a_shown_hint_can_be_kept_and_not_changed_or_erased(database, now):
    with database.write() as session:
        attempt = an_attempt(session, now)
        session.add(Event(attempt_id=attempt.id, number=1, kind=EventKind.HINT, body={"task": "a"}, at=now))
    for change in ("UPDATE event SET kind = 'answer'", "DELETE FROM event"):
        with pytest.raises(Immutable), database.migration() as connection:
            connection.execute(text(change))


def test_the_release_before_hints_is_not_gone_back_to_once_one_was_shown(database, now):
    with database.migration() as connection:
        migrating.downgrade(connection, "0001")
        migrating.upgrade(connection)
    with database.write() as session:
        attempt = an_attempt(session, now)
        session.add(Event(attempt_id=attempt.id, number=1, kind=EventKind.HINT, body={"task": "a"}, at=now))
    with pytest.raises(RuntimeError, match="1 hints were shown"), database.migration() as connection:
        migrating.downgrade(connection, "0001")
