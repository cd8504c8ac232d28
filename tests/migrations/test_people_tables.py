"""The migration of people: sign-ins that were there stay as they were, and guards of frozen rows too."""

import pytest
from sqlalchemy import text

from app.store import migrating
from app.store.errors import Immutable
from app.store.models import Event
from tests.store.rows import an_attempt

SIGN_IN = (
    "INSERT INTO sign_in (id, person_id, token_hash, created_at, last_seen_at, expires_at) "
    "VALUES (7, 1, 'a hash', '2030-03-04', '2030-03-04', '2030-03-05')"
)


def test_a_sign_in_from_before_is_kept_without_a_device_and_comes_back_down(database, now):
    with database.write() as session:
        attempt = an_attempt(session, now)
        session.add(Event(attempt_id=attempt.id, number=1, kind="answer", body={"text": "1 oz"}, at=now))
    with database.migration() as connection:
        migrating.downgrade(connection, "0005")
        connection.execute(text(SIGN_IN))
    database.upgrade()
    with database.read() as session:
        assert session.execute(text("SELECT id, token_hash, device FROM sign_in")).all() == [
            (7, "a hash", None)
        ]
    with pytest.raises(Immutable), database.write() as session:
        session.execute(text("DELETE FROM event"))
    with database.migration() as connection:
        migrating.downgrade(connection, "0005")
        assert connection.execute(text("SELECT id, token_hash FROM sign_in")).all() == [(7, "a hash")]
