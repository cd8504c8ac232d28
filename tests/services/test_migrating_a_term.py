"""Migrations with a term of data in the tables: up, down and up again keeps every row that the older tables
can hold, on both databases."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, MetaData, select

from app.store import migrating
from app.store.db import Database
from tests.term import a_term

Rows = Mapping[str, list[Mapping[str, Any]]]


def revisions() -> list[str]:
    """From the newest to the first."""
    directory = ScriptDirectory.from_config(migrating.configuration())
    return [script.revision for script in directory.walk_revisions()]


def everything(connection: Connection) -> Rows:
    """Every row of every table, in the order in which they were made."""
    tables = MetaData()
    tables.reflect(connection)
    return {
        table.name: [
            dict(row) for row in connection.execute(select(table).order_by(*table.primary_key)).mappings()
        ]
        for table in tables.sorted_tables
        if table.name != "alembic_version"
    }


def of_the_same_columns(rows: Rows, shape: Rows) -> Rows:
    """`rows` of the tables and columns that `shape` has."""
    return {
        name: [{column: row[column] for column in row if column in shape[name][0]} for row in rows[name]]
        for name in shape
        if shape[name]
    }


@pytest.mark.slow
@pytest.mark.parametrize("revision", revisions()[1:])
def test_a_term_of_data_goes_down_and_up_again_without_losing_a_row(
    database: Database, now: datetime, revision: str
):
    a_term(database, now, hinted=False)
    with database.migration() as connection:
        before = everything(connection)
        migrating.downgrade(connection, revision)
    with database.migration() as connection:
        down = everything(connection)
        migrating.upgrade(connection)
    with database.migration() as connection:
        after = everything(connection)
    assert set(after) == set(before)
    assert of_the_same_columns(after, down) == of_the_same_columns(down, down)
    assert {name: len(rows) for name, rows in down.items()} == {name: len(before[name]) for name in down}
    assert len(down["event"]) >= 20
    assert sum(row["points"] for row in after["mark"]) == sum(row["points"] for row in before["mark"]) > 0
