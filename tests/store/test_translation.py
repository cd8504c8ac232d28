"""Database errors that only a broken disk or another program brings about."""

import sqlite3

import pytest

from app.store.db import Database
from app.store.errors import NotADatabase, Unavailable


def test_a_file_that_is_no_database_is_said_to_be_none(tmp_path):
    (tmp_path / "heavyspot.db").write_text("Dear diary " * 1000)
    with pytest.raises(NotADatabase, match="Restore a backup"):
        Database(f"sqlite:///{tmp_path / 'heavyspot.db'}").is_current()


def test_a_file_that_cannot_be_opened_says_where_to_look(tmp_path):
    with pytest.raises(Unavailable, match="folder"):
        Database(f"sqlite:///{tmp_path / 'nowhere' / 'heavyspot.db'}").is_current()


@pytest.mark.only_sqlite
def test_a_database_that_stays_locked_is_said_to_be_busy(database, monkeypatch):
    monkeypatch.setattr("app.store.db.BUSY_TIMEOUT_MS", 50)
    database.close()
    other = sqlite3.connect(database.file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(Unavailable, match="busy"), database.write():
        pass
    other.execute("ROLLBACK")
    other.close()
    with database.write():
        pass


def test_a_write_inside_a_write_is_refused_instead_of_waiting_for_itself(database, monkeypatch):
    monkeypatch.setattr("app.store.db.BUSY_TIMEOUT_MS", 50)
    with database.write(), pytest.raises(Unavailable, match="busy"), database.write():
        pass
    with database.write():
        pass
