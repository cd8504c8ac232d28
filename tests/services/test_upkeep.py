"""Backup while people work, and restore."""

import os
import shutil
import sqlite3
import stat
import threading
from datetime import timedelta

import pytest
from sqlalchemy import func, select

from app.services import upkeep
from app.services.errors import Refused, Unavailable
from app.settings import Settings
from app.store import audit
from app.store.db import Database
from app.store.models import Audit, Person
from tests import factories
from tests.factories import MADE_AT

pytestmark = pytest.mark.only_sqlite  # a server's backups are made by its own tools


@pytest.fixture
def settings(database, tmp_path):
    return Settings(data_folder=tmp_path, database_url=str(database.url), secret_key="k" * 40)


def instructors(database) -> list[str]:
    with database.read() as session:
        return list(session.scalars(select(Person.sign_in_name).order_by(Person.id)))


def restore(settings, file, now):
    return upkeep.restore(settings, file=file, now=now)


def test_a_backup_brings_back_what_was_there(database, settings, tmp_path, now):
    factories.instructor(database, sign_in_name="robin")
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    factories.instructor(database, sign_in_name="later")
    database.close()
    kept = restore(settings, tmp_path / "monday.db", now)
    assert instructors(database) == ["robin"]
    assert kept == tmp_path / "heavyspot-before-20300304T150000Z.db"
    assert instructors(Database(f"sqlite:///{kept}")) == ["robin", "later"]


def test_a_backup_is_one_whole_private_file(database, tmp_path):
    factories.instructor(database, sign_in_name="robin")
    before = set(tmp_path.iterdir())
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    assert set(tmp_path.iterdir()) - before == {tmp_path / "monday.db"}
    assert stat.S_IMODE((tmp_path / "monday.db").stat().st_mode) == 0o600
    connection = sqlite3.connect(f"file:{tmp_path}/monday.db?mode=ro", uri=True)
    assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()


def test_a_backup_holds_what_is_only_in_the_log_yet(database, tmp_path):
    """The trap: the file alone, copied while the log is hot, lacks the last saves."""
    factories.instructor(database, sign_in_name="robin")
    shutil.copy(database.file, tmp_path / "plain-copy.db")
    upkeep.backup(database, file=tmp_path / "backup.db", now=MADE_AT)
    assert instructors(Database(f"sqlite:///{tmp_path / 'plain-copy.db'}")) == []
    assert instructors(Database(f"sqlite:///{tmp_path / 'backup.db'}")) == ["robin"]


def test_backups_under_constant_writing_are_whole_and_hold_a_past_moment(database, settings, tmp_path, now):
    """A writer adds two rows in each transaction: every backup holds an even number, never fewer than the one
    before it, and nobody's write fails."""
    stop, failures, written = threading.Event(), [], []

    def keep_writing():
        try:
            while not stop.is_set():
                with database.write() as session:
                    for half in (1, 2):
                        audit.record(session, at=now, person_key=None, action="write", subject="x", half=half)
                        session.flush()
                written.append(2)
        except Exception as error:
            failures.append(error)

    writer = threading.Thread(target=keep_writing)
    writer.start()
    counts, known = [], []
    try:
        for number in range(5):
            known.append(sum(written))
            file = tmp_path / f"backup{number}.db"
            upkeep.backup(database, file=file, now=MADE_AT)
            counts.append(audit_rows(Database(f"sqlite:///{file}")))
    finally:
        stop.set()
        writer.join()
    assert failures == []
    assert all(count % 2 == 0 for count in counts)
    assert all(count >= at_least for count, at_least in zip(counts, known, strict=True))
    assert counts == sorted(counts)
    database.close()
    restore(settings, tmp_path / "backup4.db", now)
    assert audit_rows(database) == counts[-1]


def audit_rows(database) -> int:
    """Of the writer alone: each backup is noted too."""
    with database.read() as session:
        count = session.scalar(select(func.count(Audit.id)).where(Audit.action == "write"))
    database.close()
    return count


def test_a_backup_replaces_no_file(database, tmp_path):
    (tmp_path / "monday.db").write_text("precious")
    with pytest.raises(Refused, match="new file"):
        upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    assert (tmp_path / "monday.db").read_text() == "precious"


def test_a_backup_into_a_missing_folder_says_so(database, tmp_path):
    with pytest.raises(Refused, match="doesn't exist"):
        upkeep.backup(database, file=tmp_path / "nowhere" / "monday.db", now=MADE_AT)


def test_a_restore_where_nothing_was_makes_the_database(database, tmp_path, now):
    factories.instructor(database, sign_in_name="robin")
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    fresh = Settings(data_folder=tmp_path, database_url=f"sqlite:///{tmp_path}/new.db", secret_key="k" * 40)
    assert restore(fresh, tmp_path / "monday.db", now) is None
    assert instructors(Database(fresh.database_url)) == ["robin"]


def test_a_restore_waits_for_nobody_while_the_database_is_open(database, settings, tmp_path, now):
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    factories.instructor(database, sign_in_name="robin")
    with pytest.raises(Unavailable, match="Stop the server"):
        restore(settings, tmp_path / "monday.db", now)
    assert instructors(database) == ["robin"]
    assert not list(tmp_path.glob("*before*"))
    assert not list(tmp_path.glob("*restoring*"))


def damaged(file):
    """Pages in the middle overwritten, as by a bad disk."""
    with file.open("r+b") as stream:
        stream.seek(4096 * 3)
        stream.write(os.urandom(4096 * 4))


def newer(file):
    run(file, "UPDATE alembic_version SET version_num = '9999'")


def of_another_program(file):
    file.unlink()
    run(file, "CREATE TABLE song (title)")


def pointing_to_nothing(file):
    run(file, "INSERT INTO teaching (class_id, person_id) VALUES (7, 7)")


def run(file, statement):
    connection = sqlite3.connect(file)
    connection.execute(statement)
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (damaged, "damaged"),
        (lambda file: file.write_bytes(file.read_bytes()[:5000]), "damaged"),
        (lambda file: file.write_text("Dear diary " * 1000), "no database"),
        (lambda file: file.write_text(""), "not one of Heavy Spot"),
        (newer, "newer release"),
        (of_another_program, "not one of Heavy Spot"),
        (pointing_to_nothing, "point to nothing"),
        (lambda file: file.unlink(), "There is no file"),
    ],
)
def test_a_file_that_is_no_good_backup_replaces_nothing(database, settings, tmp_path, now, spoil, message):
    factories.instructor(database, sign_in_name="robin")
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    database.close()
    spoil(tmp_path / "monday.db")
    before = {file.name for file in tmp_path.iterdir()}
    with pytest.raises(Refused, match=message):
        restore(settings, tmp_path / "monday.db", now)
    assert {file.name for file in tmp_path.iterdir()} == before
    assert instructors(database) == ["robin"]


def test_a_damaged_database_can_be_replaced_and_is_kept_too(database, settings, tmp_path, now):
    factories.instructor(database, sign_in_name="robin")
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    database.close()
    database.file.write_text("Dear diary " * 1000)
    kept = restore(settings, tmp_path / "monday.db", now)
    assert kept.read_text().startswith("Dear diary")
    assert instructors(database) == ["robin"]


def test_a_log_that_was_left_behind_is_not_replayed_into_the_restored_database(database, tmp_path, now):
    """A killed server leaves its log; it belongs to the database that is replaced."""
    upkeep.backup(database, file=tmp_path / "monday.db", now=MADE_AT)
    factories.instructor(database, sign_in_name="robin")
    with database.read():  # keep the log: copy the files as a kill would leave them
        for file in (database.file, *tmp_path.glob("heavyspot.db-*")):
            shutil.copy(file, tmp_path / file.name.replace("heavyspot", "killed"))
    killed = Settings(
        data_folder=tmp_path, database_url=f"sqlite:///{tmp_path}/killed.db", secret_key="k" * 40
    )
    assert (tmp_path / "killed.db-wal").stat().st_size > 0
    kept = restore(killed, tmp_path / "monday.db", now)
    assert instructors(Database(killed.database_url)) == []
    assert instructors(Database(f"sqlite:///{kept}")) == ["robin"]


def test_a_day_has_one_copy_and_only_the_newest_are_kept(database, tmp_path, now):
    folder = tmp_path / "copies"
    folder.mkdir()
    (folder / "precious.db").touch()
    for day in range(5):
        moment = now + timedelta(days=day)
        made = upkeep.copy_of_the_day(database, folder=folder, keep=3, now=moment)
        assert made == folder / f"heavyspot-2030-03-0{4 + day}.db"
        assert upkeep.copy_of_the_day(database, folder=folder, keep=3, now=moment) is None
    names = ["heavyspot-2030-03-06.db", "heavyspot-2030-03-07.db", "heavyspot-2030-03-08.db", "precious.db"]
    assert sorted(file.name for file in folder.iterdir()) == names


def test_days_without_a_backup_are_counted_from_the_last_one_or_from_the_first_act(database, tmp_path, now):
    assert upkeep.days_without_backup(database, now=now) is None
    factories.instructor(database, now=now)
    assert upkeep.days_without_backup(database, now=now + timedelta(days=8)) == 8
    upkeep.backup(database, file=tmp_path / "monday.db", now=now + timedelta(days=5))
    assert upkeep.days_without_backup(database, now=now + timedelta(days=8)) == 3
