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
from app.services import accounts
from app.store.choices import Role
from app.store.db import Database
from tests.commands.program import LONGEST_WAIT_SECONDS, PROGRAM, HeavySpot


def cards(said: str) -> list[tuple[str, str]]:
    """The sign-in names and pass phrases that were printed."""
    return re.findall(r"sign-in name +(\S+)\s+pass phrase +(\S.*)", said)


@pytest.mark.slow
def test_the_demo_is_made_once_and_its_two_cards_sign_in(heavyspot: HeavySpot) -> None:
    with heavyspot.serving("demo", "--port", "0") as first:
        printed = cards(first.said)
    with heavyspot.serving("demo", "--port", "0") as second:
        assert cards(second.said) == printed
    database = Database(f"sqlite:///{heavyspot.database_file}")
    roles = [
        accounts.sign_in(database, sign_in_name=name, pass_phrase=phrase, now=datetime.now(UTC)).person.role
        for name, phrase in printed
    ]
    database.close()
    assert roles == [Role.INSTRUCTOR, Role.STUDENT]


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
