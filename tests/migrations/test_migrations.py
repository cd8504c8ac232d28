"""Migrations make the tables that the models describe, forward and back, and lose no row."""

import re

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import select, text

from app.store import migrating
from app.store.db import Database
from app.store.models import Attempt, Base, Event
from tests.store.rows import an_attempt


@pytest.fixture
def empty(tmp_path):
    database = Database(f"sqlite:///{tmp_path / 'empty.db'}")
    yield database
    database.close()


def schema(database) -> dict[tuple[str, str], list[str]]:
    """Every table, index and trigger by kind and name: its parts, without the order and quotes that don't
    matter."""
    with database.read() as session:
        rows = session.execute(
            text("SELECT type, name, sql FROM sqlite_master WHERE sql <> '' AND name <> 'alembic_version'")
        ).all()
    return {
        (kind, name): sorted(re.sub(r"[\"\s]+", " ", part).strip(" ,") for part in sql.split("\n"))
        for kind, name, sql in rows
    }


def test_the_migrated_tables_are_those_of_the_models(database):
    with database.migration() as connection:
        context = MigrationContext.configure(
            connection, opts={"compare_type": True, "compare_server_default": True}
        )
        assert compare_metadata(context, Base.metadata) == []


def test_the_migrated_tables_have_the_models_checks_and_names_too(database, empty):
    """The comparison above sees no check constraints: compare what SQLite keeps."""
    with empty.migration() as connection:
        Base.metadata.create_all(connection)
    made, migrated = schema(empty), schema(database)
    assert {key: value for key, value in migrated.items() if key[0] != "trigger"} == made
    assert any("CHECK" in part for parts in made.values() for part in parts)


def test_down_then_up_restores_every_table_index_and_trigger(database):
    before = schema(database)
    revisions = [
        script.revision for script in ScriptDirectory.from_config(migrating.configuration()).walk_revisions()
    ]
    for revision in [*revisions[1:], "base"]:
        with database.migration() as connection:
            migrating.downgrade(connection, revision)
    assert schema(database) == {}
    assert not database.is_current()
    database.upgrade()
    assert schema(database) == before


def test_there_is_one_head_and_numbers_come_first():
    directory = ScriptDirectory.from_config(migrating.configuration())
    assert len(directory.get_heads()) == 1
    for number, script in enumerate(reversed(list(directory.walk_revisions())), start=1):
        assert script.revision == f"{number:04}"
        assert script.module.__file__.rpartition("/")[2].startswith(f"{number:04}_")


def test_upgrading_again_changes_nothing_and_rows_survive(database, now):
    with database.write() as session:
        attempt = an_attempt(session, now)
        session.add(Event(attempt_id=attempt.id, number=1, kind="answer", body={"text": "½ oz"}, at=now))
    before = schema(database)
    database.upgrade()
    assert schema(database) == before
    with database.read() as session:
        assert session.scalars(select(Attempt)).one().seed == "18446744073709551615"
        assert session.scalars(select(Event)).one().body == {"text": "½ oz"}


def test_an_empty_file_is_not_current_until_it_is_upgraded(empty):
    assert not empty.is_current()
    empty.upgrade()
    assert empty.is_current()


def test_an_upgrade_that_fails_half_way_leaves_the_tables_as_they_were(database):
    before = schema(database)
    with pytest.raises(ZeroDivisionError), database.migration() as connection:  # noqa: PT012
        migrating.downgrade(connection, "base")
        _ = 1 / 0
    assert schema(database) == before
    assert database.is_current()


def test_foreign_keys_are_on_again_after_an_upgrade(empty):
    empty.upgrade()
    with empty.write() as session:
        assert session.scalar(text("PRAGMA foreign_keys")) == 1
