"""`heavyspot demo` as someone who looks around starts it."""

import re
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.commands.demo import DEMO_FOLDER, demo_settings
from app.domain.hands_on import Level
from app.domain.standing import State
from app.services import accounts, classes, exceptions, gradebook, hands_on, heats, live, reflections
from app.services.accounts import Person
from app.services.live import Doing
from app.store.choices import ReflectionState, Role
from app.store.db import Database
from tests.commands.program import LONGEST_WAIT_SECONDS, PROGRAM, HeavySpot


def cards(said: str) -> list[tuple[str, str]]:
    """The sign-in names and pass phrases that were printed."""
    return re.findall(r"sign-in name +(\S+)\s+pass phrase +(\S.*)", said)


@pytest.mark.slow
def test_the_demo_is_made_once_its_two_cards_sign_in_and_it_shows_what_an_instructor_does(
    heavyspot: HeavySpot,
) -> None:
    with heavyspot.serving("demo", "--port", "0") as first:
        printed = cards(first.said)
    with heavyspot.serving("demo", "--port", "0") as second:
        assert cards(second.said) == printed
    database = Database(f"sqlite:///{heavyspot.database_file}")
    instructor, student = (
        accounts.sign_in(database, sign_in_name=name, pass_phrase=phrase, now=datetime.now(UTC)).person
        for name, phrase in printed
    )
    assert (instructor.role, student.role) == (Role.INSTRUCTOR, Role.STUDENT)
    shows_grades_of_every_kind(database, instructor)
    shows_sheets_checks_a_heat_and_a_running_lab(database, instructor)
    database.close()


def shows_grades_of_every_kind(database: Database, instructor: Person) -> None:
    [row] = classes.classes_of(database, instructor=instructor)
    book = gradebook.gradebook(database, class_id=row.public_id, instructor=instructor, now=datetime.now(UTC))
    cells = [cell for each in book.rows for cell in each.cells]
    assert len(book.rows) == 24
    assert {cell.state for cell in cells} >= {State.EXCUSED, State.LATE, State.HANDED_IN, State.IN_PROGRESS}
    assert sum(cell.by_hand for cell in cells) == 1
    assert [each.name for each in book.categories] == ["Labs", "Whole jobs"]
    assert all(column.category for column in book.columns)
    longer = [
        each
        for column in book.columns
        for each in exceptions.exceptions_of(
            database, assignment_id=column.assignment_id, instructor=instructor
        )
        if each.exception.due_at is not None
    ]
    assert len(longer) == 1


def shows_sheets_checks_a_heat_and_a_running_lab(database: Database, instructor: Person) -> None:
    [row] = classes.classes_of(database, instructor=instructor)
    of_class = {"class_id": row.public_id, "instructor": instructor}
    now = datetime.now(UTC)
    book = gradebook.gradebook(database, now=now, **of_class)
    first, last = book.columns[0].assignment_id, book.columns[-1].assignment_id
    sheets = reflections.sheets(database, assignment_id=first, instructor=instructor, results=False)
    assert {each.sheet.state for each in sheets} == set(ReflectionState)
    checks = hands_on.grid(database, now=now, **of_class)
    levels = {each.level for student in checks.rows for each in student.standings}
    assert levels >= {Level.SEEN, Level.WITH_HELP, Level.ALONE}
    [contest] = heats.contests_of(database, **of_class)
    seen = heats.contest(database, contest_id=contest.contest_id, now=now, **of_class)
    assert [each.place for each in seen.ranking] == [1, 2]
    room = live.room(database, assignment_id=last, instructor=instructor, now=now)
    assert room.count(Doing.WORKING) + room.count(Doing.STUCK) > 3


@pytest.mark.skipif(sys.platform == "win32", reason="Windows ends a process without a signal it can catch")
def test_a_demo_that_is_cut_short_leaves_no_half_of_a_class(heavyspot: HeavySpot) -> None:
    process = subprocess.Popen(
        [PROGRAM, "demo", "--port", "0"], env=heavyspot.environ, stderr=subprocess.PIPE
    )
    until = time.monotonic() + LONGEST_WAIT_SECONDS
    while not heavyspot.database_file.exists() and time.monotonic() < until:
        time.sleep(0.005)
    process.send_signal(signal.SIGINT)
    _, error = process.communicate(timeout=LONGEST_WAIT_SECONDS)
    assert process.returncode != 0
    assert b"Traceback" not in error
    assert not heavyspot.database_file.exists()


def test_a_folder_with_a_real_class_is_refused(heavyspot: HeavySpot) -> None:
    heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera")
    before = heavyspot.database_file.read_bytes()
    ended = heavyspot.run("demo", "--port", "0")
    assert ended.status == 1
    assert "holds another class" in ended.error
    assert heavyspot.database_file.read_bytes() == before


def test_the_demo_is_kept_apart_from_a_real_class(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert demo_settings({}).data_folder == tmp_path / DEMO_FOLDER
    assert demo_settings({"HEAVYSPOT_DATA": "elsewhere"}).data_folder == tmp_path / "elsewhere"
    on_a_server = demo_settings({"HEAVYSPOT_DATABASE_URL": "postgresql://school/heavyspot"})
    assert on_a_server.database_url.startswith("sqlite:///")
