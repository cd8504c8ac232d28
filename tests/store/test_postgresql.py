"""What a database server does otherwise than a file does. The tests of the store and of the use cases run on
both (tests/conftest.py)."""

import threading
import time

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import func, select, text

from app.services import accounts, classes, upkeep
from app.services.errors import Refused
from app.settings import Settings
from app.store import audit, migrating
from app.store.db import Database
from app.store.errors import BrokenReference, Conflict, ReadOnly, Unavailable
from app.store.models import Audit, Base, Enrolment, Teaching
from tests import factories


@pytest.fixture
def server(postgresql):
    with postgresql.new_database() as database:
        yield database


@pytest.fixture
def robin(server):
    return factories.instructor(server, sign_in_name="robin")


def test_the_migrated_tables_are_those_of_the_models(server):
    assert server.is_current()
    with server.migration() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_errors_are_the_same_as_those_of_a_file(server, robin, now):
    class_id = factories.school_class(server, instructor=robin)
    with pytest.raises(Refused) as taken:
        accounts.add_instructor(server, display_name="Robin Lang", sign_in_name="robin", now=now)
    assert taken.value.field == "sign_in_name"
    with server.read() as session:
        row = classes.classes.class_taught_by(session, class_id, robin.id)
    with pytest.raises(Conflict) as conflict, server.write() as session:
        session.add(Teaching(class_id=row.id, person_id=robin.id))
    assert (conflict.value.table, conflict.value.columns) == ("teaching", ("class_id", "person_id"))
    with pytest.raises(BrokenReference), server.write() as session:
        session.add(Enrolment(class_id=99, person_id=99, enrolled_at=now))
    with pytest.raises(BrokenReference), server.write() as session:
        session.execute(text("UPDATE person SET role = 'owner'"))
    with pytest.raises(ReadOnly), server.read() as session:
        session.execute(text("DELETE FROM sign_in"))


def test_down_then_up_makes_the_same_tables_again(server):
    with server.migration() as connection:
        migrating.downgrade(connection, "base")
    assert not server.is_current()
    server.upgrade()
    test_the_migrated_tables_are_those_of_the_models(server)


def test_writers_wait_for_each_other_and_lose_nothing(server, now):
    failures = []

    def add_one():
        try:
            with server.write() as session:
                seen = session.scalar(select(func.count(Audit.id)))
                time.sleep(0.002)
                audit.record(session, at=now, person_key=None, action="write", subject=f"number:{seen}")
        except Exception as error:
            failures.append(error)

    threads = [threading.Thread(target=add_one) for _ in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    with server.read() as session:
        subjects = session.scalars(select(Audit.subject).order_by(Audit.id)).all()
    assert subjects == [f"number:{number}" for number in range(12)]


def test_a_reader_keeps_one_picture_while_another_writes(server, now):
    with server.read() as reader:
        assert reader.scalar(select(func.count(Audit.id))) == 0
        with server.write() as writer:
            audit.record(writer, at=now, person_key=None, action="write", subject="x")
        assert reader.scalar(select(func.count(Audit.id))) == 0


def test_backup_and_restore_name_the_servers_own_tools(server, tmp_path, now):
    with pytest.raises(Refused, match="pg_dump"):
        upkeep.backup(server, file=tmp_path / "monday.db", now=now)
    settings = Settings(
        data_folder=tmp_path,
        database_url=server.url.render_as_string(hide_password=False),
        secret_key="k" * 40,
    )
    with pytest.raises(Refused, match="pg_restore"):
        upkeep.restore(settings, file=tmp_path / "monday.db", now=now)


def test_a_server_that_is_not_there_is_said_to_be_unreachable(tmp_path):
    nowhere = Database(f"postgresql+psycopg:///school?host={tmp_path}")
    with pytest.raises(Unavailable, match="can't be reached"):
        nowhere.is_current()
