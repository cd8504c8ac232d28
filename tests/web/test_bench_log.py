"""What was done at a bench, to be read by its student after handing in and by the instructor at any time."""

from datetime import datetime
from html import unescape

import pytest
from flask import Flask

from app.services import bench as service
from app.services import practice
from app.store.db import Database
from tests import factories
from tests.services.lessons import Lesson, lesson
from tests.web.conftest import signed_in

ACTIONS = (
    {"do": "write-number", "assembly": "A", "number": 4, "side": "outboard"},
    {"do": "bring", "assembly": "A", "to": "balancer"},
    {"do": "spin", "hood_down": False},
    {"do": "clean", "what": "rim"},
)


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now, slug="bench-one-assembly")


@pytest.fixture
def attempt_id(database: Database, given: Lesson, now: datetime) -> str:
    begun = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    number = 0
    for action in ACTIONS:
        view = service.act(
            database, attempt_id=begun, student=given.student, action=action, expect=number, now=now
        )
        number = view.run.number
    return begun


def test_the_instructor_reads_each_action_with_its_time_and_what_it_led_to(
    app: Flask, given: Lesson, attempt_id: str
) -> None:
    page = unescape(signed_in(app, given.instructor).get(f"/teaching/attempts/{attempt_id}").text)
    table = page[page.index('id="bench"') : page.index("Other attempts")]
    assert "4 actions, 2.5 minutes of shop time" in table
    rows = table.split("<tr>")[2:]
    assert "Write 4 on the outboard sidewall of A" in rows[0]
    assert "Rule broken:</b> The number was written on the outboard sidewall" in rows[0]
    assert "Assembly A is now on the balancer." in rows[1]
    assert "Not done.</b> Stop: the hood is up" in rows[2]
    assert "Caution: Spinning wheel" in rows[2]
    assert ">1.5<" in rows[2]  # the clock stands while work is stopped
    saved = page[page.index("as they came in") :]
    assert "At the bench" in saved
    assert "Spin, hood up" in saved


def test_another_instructor_finds_nothing(app: Flask, database: Database, attempt_id: str) -> None:
    other = factories.instructor(database)
    assert signed_in(app, other).get(f"/teaching/attempts/{attempt_id}").status_code == 404


def test_the_student_reads_the_log_once_the_lab_is_handed_in_and_can_change_nothing(
    app: Flask, database: Database, given: Lesson, attempt_id: str, now: datetime
) -> None:
    client = signed_in(app, given.student)
    for working in ("bench", "bench/log"):
        assert "Rule broken" not in client.get(f"/labs/attempts/{attempt_id}/{working}").text
    practice.hand_in(database, attempt_id=attempt_id, student=given.student, now=now)
    assert client.get(f"/labs/attempts/{attempt_id}/bench").location.endswith("/bench/log")
    log = unescape(client.get(f"/labs/attempts/{attempt_id}/bench/log").text)
    assert "Rule broken:</b> The number was written on the outboard sidewall" in log
    assert log.index("Wipe the inside of the rim") < log.index("Carry A to the balancer")
    assert "<form" not in log[log.index("<main") : log.index("</main")]
    result = client.get(f"/labs/attempts/{attempt_id}/result").text
    assert f'href="/labs/attempts/{attempt_id}/bench/log"' in result


def test_a_lab_without_a_bench_has_no_log(app: Flask, database: Database, now: datetime) -> None:
    given = lesson(database, now=now)
    begun = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    assert 'id="bench"' not in signed_in(app, given.instructor).get(f"/teaching/attempts/{begun}").text
    client = signed_in(app, given.student)
    practice.hand_in(database, attempt_id=begun, student=given.student, now=now)
    assert f"/labs/attempts/{begun}/bench" not in client.get(f"/labs/attempts/{begun}/result").text
