"""A disk that fills up: the use case says that nothing was saved, and that is true; nothing is torn."""

import resource
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from app.services import bench, practice
from app.services.errors import Unavailable
from app.services.labs import Lab
from app.store.db import Database
from tests.faults import failing_at
from tests.services.lessons import Lesson, lesson

POSITIONS = 50
PAGE_BYTES = 4096
LOG_FRAME_BYTES, LOG_HEAD_BYTES = PAGE_BYTES + 24, 32  # SQLite, "WAL-mode File Format"
MOST_WRITES = 60
TASK = "static-size"


def started(database: Database, given: Lesson, now: datetime) -> str:
    return practice.start_attempt(database, assignment_id=given.assignment_id, student=given.student, now=now)


def read(database: Database, given: Lesson, attempt_id: str) -> Lab:
    return practice.lab(database, attempt_id=attempt_id, student=given.student)


@pytest.mark.slow
def test_a_fault_at_any_write_of_a_hand_in_leaves_the_lab_open_and_whole(database: Database, now: datetime):
    given = lesson(database, now=now)
    attempt_id = started(database, given, now)
    who: dict[str, Any] = {"attempt_id": attempt_id, "student": given.student, "now": now}
    practice.save_answers(database, answers={TASK: "1 oz.in"}, **who)
    before = read(database, given, attempt_id)
    for at in range(1, MOST_WRITES):
        with failing_at(database, at) as failing:
            if not refused(lambda: practice.hand_in(database, **who)):
                break
        assert failing.reached
        assert read(database, given, attempt_id) == before
        assert practice.result(database, attempt_id=attempt_id, student=given.student) is None
    assert at > 3
    result = practice.result(database, attempt_id=attempt_id, student=given.student)
    assert len(result.marks) == len(before.variant.scenario.tasks)


@pytest.mark.slow
def test_a_fault_at_any_write_of_an_action_leaves_the_bench_as_it_was(database: Database, now: datetime):
    given = lesson(database, now=now, slug="bench-one-assembly")
    attempt_id = started(database, given, now)
    who: dict[str, Any] = {"attempt_id": attempt_id, "student": given.student}
    action = {"do": "bring", "assembly": "A", "to": "balancer"}
    for at in range(1, MOST_WRITES):
        with failing_at(database, at):
            if not refused(lambda: bench.act(database, action=action, expect=0, now=now, **who)):
                break
        assert read(database, given, attempt_id).actions == 0
    assert at > 2
    assert read(database, given, attempt_id).actions == 1


def refused(act: Callable[[], object]) -> bool:
    try:
        act()
    except Unavailable:
        return True
    return False


@contextmanager
def no_room_for_pages(database: Database, pages: int) -> Iterator[None]:
    """The database may grow by so many pages."""

    def limit(connection: Any, *_: Any) -> None:
        now = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {now + pages}")

    database.close()
    event.listen(database._engine, "connect", limit)  # noqa: SLF001 -- below the store
    try:
        yield
    finally:
        event.remove(database._engine, "connect", limit)  # noqa: SLF001
        database.close()


@contextmanager
def no_file_grows(database: Database, pages: int) -> Iterator[None]:
    """As with a quota: the log, which is empty now, takes so many pages and no more."""
    database.close()
    usual = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (LOG_HEAD_BYTES + pages * LOG_FRAME_BYTES, usual[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, usual)
        database.close()


@pytest.mark.slow
@pytest.mark.only_sqlite
@pytest.mark.parametrize("full", [no_room_for_pages, no_file_grows])
def test_wherever_the_disk_is_full_what_was_saved_is_there_and_the_rest_is_refused(
    database: Database, now: datetime, full: Callable[[Database, int], Any]
):
    """At fifty positions: after one more page, after two and so on."""
    given = lesson(database, now=now)
    newest = ""
    for pages in range(1, POSITIONS + 1):
        attempt_id = started(database, given, now)
        with full(database, pages):
            for number in range(2 * POSITIONS):
                typed = f"{pages} {number} " + "x" * 5900
                save = {"attempt_id": attempt_id, "student": given.student, "answers": {TASK: typed}}
                if refused(lambda save=save: practice.save_answers(database, now=now, **save)):
                    break
                newest = typed
            else:
                pytest.fail("The disk was never full.")
        assert newest in ("", newest_answer(database.file))
        assert faults(database.file) == []
    practice.save_answers(
        database, attempt_id=attempt_id, student=given.student, answers={TASK: "2 oz.in"}, now=now
    )
    assert newest_answer(database.file) == "2 oz.in"  # with room again, it goes on


def newest_answer(file: Path) -> str:
    with closing(sqlite3.connect(file)) as connection:
        newest = "SELECT body ->> 'answer' FROM event WHERE kind = 'answer' ORDER BY id DESC LIMIT 1"
        row = connection.execute(newest).fetchone()
    return row[0] if row else ""


def faults(file: Path) -> list[str]:
    with closing(sqlite3.connect(file)) as connection:
        checked = [row[0] for row in connection.execute("PRAGMA integrity_check") if row[0] != "ok"]
        return checked + list(connection.execute("PRAGMA foreign_key_check"))
