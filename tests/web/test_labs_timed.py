"""A timed lab on the student's pages: what is said before, the clock, and what comes too late."""

from datetime import datetime

import pytest
from flask import Flask

from app.services import assignments
from app.store.db import Database
from tests.services.lessons import lesson
from tests.web.conftest import Clock
from tests.web.labs import Pupil, pupil_of


@pytest.fixture
def student(app: Flask, database: Database, now: datetime) -> Pupil:
    """A student with a lab of 30 minutes that closes in two days."""
    given = lesson(database, now=now)
    row = assignments.one(database, assignment_id=given.assignment_id, instructor=given.instructor).row
    assignments.change(
        database,
        assignment_id=given.assignment_id,
        instructor=given.instructor,
        now=now,
        title=row.title,
        opens_at=row.opens_at,
        due_at=row.due_at,
        attempts_allowed=2,
        minutes=30,
    )
    return pupil_of(app, given, database)


def test_the_time_is_told_before_the_start_and_on_the_button(student: Pupil) -> None:
    page = student.client.get(student.about).text
    assert "30 min from the start of an attempt." in page
    assert "Start the lab: 30 min from now" in page


def test_the_lab_says_when_it_ends_and_how_many_seconds_are_left_on_the_server_s_clock(
    student: Pupil, clock: Clock
) -> None:
    address = student.start()
    clock.advance(minutes=10)
    for page in (student.client.get(address).text, student.client.get(f"{address}/hand-in").text):
        assert "Ends today, 9:30 AM." in page
        assert 'data-seconds-left="1200"' in page


def test_a_lab_without_an_end_has_no_clock(app: Flask, database: Database, now: datetime) -> None:
    student = pupil_of(app, lesson(database, now=now), database)
    assert 'data-module="timer"' not in student.client.get(student.start()).text


def test_whoever_comes_back_after_the_time_sees_the_result_of_what_was_saved(
    student: Pupil, clock: Clock
) -> None:
    address = student.start()
    assert student.save(address, "static-angle", student.right(address)["static-angle"]).json["saved"]
    clock.advance(minutes=31)
    response = student.client.get(address)
    assert response.location == f"{address}/result"
    page = student.client.get(response.location).text
    assert "2 of 15 points" in page
    assert "The time limit ended today, 9:30 AM; what was saved by then was handed in." in page


def test_an_answer_that_comes_too_late_is_refused_in_words_and_nothing_saved_is_lost(
    student: Pupil, clock: Clock
) -> None:
    address = student.start()
    student.save(address, "static-angle", "10")
    token = student.client.csrf_token
    clock.advance(minutes=31)
    late = student.client.post(
        f"{address}/answer",
        json={"task": "static-angle", "answer": "20"},
        headers={"X-CSRF-Token": token, "Accept": "application/json"},
    )
    assert late.status_code == 422
    assert "This came too late and is not kept" in late.json["message"]
    assert student.lab(address).answers == {"static-angle": "10"}


def test_a_sheet_sent_too_late_without_javascript_leads_to_the_result_and_says_so(
    student: Pupil, clock: Clock
) -> None:
    address = student.start()
    student.client.get(address)
    token = student.client.csrf_token
    clock.advance(minutes=31)
    late = student.client.post(address, data={"csrf_token": token, "answer-static-angle": "20"})
    assert late.location == f"{address}/result"
    page = student.client.get(late.location).text
    assert "came too late and is not kept" in page
    assert student.lab(address).answers == {}


def test_the_list_says_when_a_running_lab_ends_and_hands_it_in_after(student: Pupil, clock: Clock) -> None:
    student.start()
    assert "It ends today, 9:30 AM; what is saved then is handed in." in student.client.get("/labs").text
    clock.advance(minutes=31)
    assert "handed in" in student.client.get("/labs").text
