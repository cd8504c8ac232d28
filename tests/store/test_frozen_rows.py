"""Rows that are written once stay as they are, whichever way a change is tried."""

import sqlite3

import pytest
from sqlalchemy import delete, select, text, update

from app.store import audit
from app.store.errors import Immutable
from app.store.models import Audit, Event, ScenarioVersion
from tests.store.rows import an_attempt


@pytest.fixture
def filled(database, now):
    with database.write() as session:
        attempt = an_attempt(session, now)
        session.add(
            Event(attempt_id=attempt.id, number=1, kind="answer", body={"task": "a", "text": "15"}, at=now)
        )
        audit.record(session, at=now, person_key=None, action="try", subject="attempt:x", grams=15)
    return database


FROZEN = [(Event, "kind"), (ScenarioVersion, "content"), (Audit, "action")]


@pytest.mark.parametrize(("model", "column"), FROZEN)
def test_a_session_refuses_to_change_it(filled, model, column):
    with pytest.raises(Immutable), filled.write() as session:
        setattr(session.scalars(select(model)).one(), column, "changed")


@pytest.mark.parametrize(("model", "column"), FROZEN)
def test_a_session_refuses_to_delete_it(filled, model, column):  # noqa: ARG001
    with pytest.raises(Immutable), filled.write() as session:
        session.delete(session.scalars(select(model)).one())


@pytest.mark.parametrize(("model", "column"), FROZEN)
def test_the_database_refuses_statements_that_pass_the_session(filled, model, column):
    with pytest.raises(Immutable), filled.write() as session:
        session.execute(update(model).values({column: "changed"}))
    with pytest.raises(Immutable), filled.write() as session:
        session.execute(delete(model))
    with pytest.raises(Immutable), filled.write() as session:
        session.execute(text(f"DELETE FROM {model.__tablename__}"))  # noqa: S608


@pytest.mark.only_sqlite
def test_another_program_is_refused_as_well(filled):
    other = sqlite3.connect(filled.file)
    with pytest.raises(sqlite3.IntegrityError, match="event is written once"):
        other.execute("UPDATE event SET kind = 'changed'")
    other.close()


def test_setting_the_same_value_again_is_no_change(filled):
    with filled.write() as session:
        event = session.scalars(select(Event)).one()
        event.kind = "answer"
    with filled.read() as session:
        assert session.scalars(select(Event)).one().body == {"task": "a", "text": "15"}


def test_more_events_can_always_be_added(filled, now):
    with filled.write() as session:
        attempt_id = session.scalars(select(Event.attempt_id)).one()
        session.add(Event(attempt_id=attempt_id, number=2, kind="answer", body={}, at=now))
