"""Transactions, as SQLite really does them: two connections on one file."""

import sqlite3
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta, timezone
from itertools import count

import pytest
from sqlalchemy import select, text
from sqlalchemy.exc import StatementError

from app.domain.measures import UnitSystem
from app.store import audit
from app.store.choices import Role
from app.store.errors import BrokenReference, Conflict, ReadOnly, Unavailable
from app.store.models import Enrolment, Person, SchoolClass


def person(sign_in_name: str, now: datetime) -> Person:
    return Person(
        role=Role.STUDENT,
        display_name="Ana Ruiz",
        sort_name="Ruiz, Ana",
        sign_in_name=sign_in_name,
        pass_phrase_hash="none",
        created_at=now,
    )


def names(database) -> list[str]:
    with database.read() as session:
        return list(session.scalars(select(Person.sign_in_name).order_by(Person.id)))


def other_connection(database) -> sqlite3.Connection:
    """Another program on the same file, that doesn't wait."""
    return sqlite3.connect(database.file, timeout=0, isolation_level=None)


@pytest.mark.only_sqlite
@pytest.mark.parametrize(
    ("pragma", "value"),
    [("foreign_keys", 1), ("journal_mode", "wal"), ("synchronous", 2), ("busy_timeout", 10_000)],
)
def test_every_connection_is_set_up(database, pragma, value):
    with database.read() as first, database.read() as second, database.write() as third:
        for session in (first, second, third):
            assert session.scalar(text(f"PRAGMA {pragma}")) == value


def test_a_write_is_kept_when_the_block_ends(database, now):
    with database.write() as session:
        session.add(person("ana", now))
    assert names(database) == ["ana"]


def test_a_write_is_undone_as_a_whole_when_the_block_raises(database, now):
    with pytest.raises(ZeroDivisionError), database.write() as session:  # noqa: PT012
        session.add(person("ana", now))
        session.flush()
        _ = 1 / 0
    assert names(database) == []


@pytest.mark.only_sqlite
def test_a_write_holds_the_lock_from_its_first_moment(database):
    """BEGIN IMMEDIATE: another writer is refused although nothing has been written yet."""
    other = other_connection(database)
    with database.write(), pytest.raises(sqlite3.OperationalError, match="locked"):
        other.execute("BEGIN IMMEDIATE")
    other.execute("BEGIN IMMEDIATE")  # free again
    other.close()


def test_reading_then_writing_in_one_write_never_meets_a_stale_picture(database, now):
    """The trap: a deferred transaction that has read can't write once another has written. Many threads that
    read a count and add one to it must neither fail nor lose one."""
    failures = []

    def add_one(number: int) -> None:
        try:
            with database.write() as session:
                seen = len(session.scalars(select(Person.id)).all())
                time.sleep(0.002)
                session.add(person(f"student{seen}", now))
        except Exception as error:
            failures.append((number, error))

    threads = [threading.Thread(target=add_one, args=(number,)) for number in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert names(database) == [f"student{number}" for number in range(20)]


def test_in_a_rush_writers_come_in_turn(database, now):
    """Without a queue nearly all of these 200 writes overtake one of the eight threads. Counted and not
    timed, so that a busy machine says the same."""
    written = count()
    newest = [0]

    def overtaken(_) -> int:
        asked = newest[0]
        with database.write() as session:
            audit.record(session, at=now, person_key=None, action="save", subject="x")
            newest[0] = next(written)
            return newest[0] - asked

    with ThreadPoolExecutor(8) as threads:
        worst = max(threads.map(overtaken, range(200)))
    assert worst < 200 / 2


@pytest.mark.only_sqlite
def test_sqlite_itself_refuses_what_begin_immediate_avoids(database):
    """The reason for the rule, shown on two plain connections: SQLITE_BUSY_SNAPSHOT, at once, whatever the
    time-out."""
    reader, writer = sqlite3.connect(database.file, isolation_level=None), other_connection(database)
    reader.execute("PRAGMA busy_timeout = 60000")
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM person").fetchone()
    writer.execute("UPDATE alembic_version SET version_num = version_num")
    started = time.monotonic()
    with pytest.raises(sqlite3.OperationalError) as caught:
        reader.execute("UPDATE alembic_version SET version_num = version_num")
    assert caught.value.sqlite_errorname == "SQLITE_BUSY_SNAPSHOT"
    assert time.monotonic() - started < 5
    reader.close()
    writer.close()


def test_a_reader_keeps_one_picture_while_another_writes(database, now):
    with database.read() as reader:
        assert reader.scalars(select(Person.id)).all() == []
        with database.write() as writer:
            writer.add(person("ana", now))
        assert reader.scalars(select(Person.id)).all() == []
    assert names(database) == ["ana"]


@pytest.mark.only_sqlite
def test_a_busy_database_is_said_to_be_busy(database):
    other = other_connection(database)
    other.execute("BEGIN IMMEDIATE")
    with database.read() as session:
        session.connection()
    with pytest.raises(Unavailable, match="busy"):  # noqa: PT012
        with database.read() as session:
            session.execute(text("PRAGMA busy_timeout = 0"))
        with database.write():
            pass
    other.execute("ROLLBACK")
    other.close()


def test_a_reading_session_refuses_new_rows(database, now):
    with pytest.raises(ReadOnly), database.read() as session:
        session.add(person("ana", now))
    assert names(database) == []


def test_a_reading_session_refuses_changed_and_deleted_rows(database, now):
    with database.write() as session:
        session.add(person("ana", now))
    with pytest.raises(ReadOnly), database.read() as session:
        session.scalars(select(Person)).one().display_name = "Someone else"
    with pytest.raises(ReadOnly), database.read() as session:
        session.delete(session.scalars(select(Person)).one())


def test_a_reading_session_refuses_plain_statements_too(database):
    with pytest.raises(ReadOnly), database.read() as session:
        session.execute(text("DELETE FROM person"))


def test_a_connection_that_has_read_can_write_afterwards(database, now):
    for number in range(3):
        names(database)
        with database.write() as session:
            session.add(person(f"ana{number}", now))
    assert len(names(database)) == 3


def test_rows_stay_readable_after_their_transaction(database, now):
    with database.write() as session:
        row = person("ana", now)
        session.add(row)
    assert (row.id, row.sign_in_name, len(row.public_id)) == (1, "ana", 20)
    with database.read() as session:
        row = session.scalars(select(Person)).one()
    assert row.display_name == "Ana Ruiz"


def test_a_foreign_key_that_points_to_nothing_is_refused(database, now):
    with pytest.raises(BrokenReference), database.write() as session:
        session.add(Enrolment(class_id=99, person_id=99, enrolled_at=now))


def test_a_value_outside_its_check_is_refused(database, now):
    with database.write() as session:
        a_class = SchoolClass(name="Auto 2", time_zone="UTC", units=UnitSystem.US, created_at=now)
        ana = person("ana", now)
        session.add_all([a_class, ana])
    with pytest.raises(BrokenReference), database.write() as session:
        session.add(Enrolment(class_id=a_class.id, person_id=ana.id, extra_time_factor=0.5, enrolled_at=now))
    with pytest.raises(BrokenReference), database.write() as session:
        session.execute(text("UPDATE person SET role = 'owner'"))


def test_a_value_that_is_taken_names_its_columns(database, now):
    with database.write() as session:
        session.add(person("ana", now))
    with pytest.raises(Conflict) as caught, database.write() as session:
        session.add(person("ana", now))
    assert (caught.value.table, caught.value.columns) == ("person", ("sign_in_name",))


def test_a_conflict_over_two_columns_names_both(database, now):
    with database.write() as session:
        a_class = SchoolClass(name="Auto 2", time_zone="UTC", units=UnitSystem.US, created_at=now)
        ana = person("ana", now)
        session.add_all([a_class, ana])
    with pytest.raises(Conflict) as caught, database.write() as session:
        session.add_all(Enrolment(class_id=a_class.id, person_id=ana.id, enrolled_at=now) for _ in range(2))
    assert caught.value.columns == ("class_id", "person_id")


def test_a_datetime_without_a_zone_is_refused(database):
    with pytest.raises(StatementError, match="no time zone"), database.write() as session:
        session.add(person("ana", datetime(2030, 3, 4, 9)))  # noqa: DTZ001 that is the point


def test_a_datetime_comes_back_as_the_same_moment_in_utc(database):
    central = timezone(timedelta(hours=-6))
    with database.write() as session:
        session.add(person("ana", datetime(2030, 3, 4, 9, 0, 0, 123456, tzinfo=central)))
    with database.read() as session:
        created_at = session.scalars(select(Person.created_at)).one()
    assert created_at == datetime(2030, 3, 4, 15, 0, 0, 123456, tzinfo=UTC)
    assert created_at.tzinfo is UTC


def test_datetimes_compare_in_queries_whatever_zone_they_are_given_in(database, now):
    with database.write() as session:
        session.add(person("ana", now))
    an_hour_east = timezone(timedelta(hours=1))
    with database.read() as session:
        earlier = select(Person).where(
            Person.created_at < (now + timedelta(seconds=1)).astimezone(an_hour_east)
        )
        assert len(session.scalars(earlier).all()) == 1


def test_public_ids_are_twenty_letters_and_digits_that_never_repeat(database, now):
    with database.write() as session:
        rows = [person(f"ana{number}", now) for number in range(200)]
        session.add_all(rows)
    ids = {row.public_id for row in rows}
    assert len(ids) == 200
    assert all(len(one) == 20 and set(one) <= set("abcdefghijklmnopqrstuvwxyz234567") for one in ids)
