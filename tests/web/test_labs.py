"""What is due, what a lab is about, and starting it."""

from datetime import datetime, timedelta

import pytest
from flask import Flask

from app.services import classes, hand_grades
from app.store.db import Database
from tests import factories
from tests.services.lessons import Lesson, lesson
from tests.web.conftest import CheckedClient, Clock, signed_in
from tests.web.labs import Pupil, pupil_of


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


@pytest.fixture
def student(app: Flask, given: Lesson, database: Database) -> Pupil:
    return pupil_of(app, given, database)


def test_a_student_without_labs_is_told_that_they_will_appear(pupil_client: CheckedClient) -> None:
    assert "No lab has been assigned to you yet" in pupil_client.get("/labs").text


def test_the_list_says_when_it_is_due_in_the_class_s_time_zone(student: Pupil) -> None:
    """The request comes on March 4, 2030, 15:00 UTC; Chicago is six hours behind."""
    page = student.client.get("/labs").text
    assert "tomorrow, 9:00 AM" in page
    assert "to do" in page
    assert "0 used of 2" in page
    assert "15 to earn" in page


def test_the_list_follows_the_work(student: Pupil) -> None:
    address = student.start()
    page = student.client.get("/labs").text
    assert "in progress" in page
    assert f'href="{address}"' in page
    student.hand_in(address, student.right(address))
    page = student.client.get("/labs").text
    assert "handed in" in page
    assert f'href="{address}/result"' in page
    assert "<b>15</b> of 15" in page


def test_the_list_has_the_grade_that_was_set_by_hand(
    student: Pupil, given: Lesson, database: Database, now: datetime
) -> None:
    address = student.start()
    student.hand_in(address, student.right(address))
    hand_grades.set_by_hand(
        database,
        assignment_id=given.assignment_id,
        student_id=given.student.public_id,
        instructor=given.instructor,
        points=7.5,
        reason="shown at the machine",
        comment="",
        now=now,
    )
    page = student.client.get("/labs").text
    assert 'set by hand <span class="score"><b>7.5</b> of 15' in page
    assert "<b>15</b> of 15" not in page


def test_a_lab_that_is_overdue_can_still_be_started(
    app: Flask, database: Database, now: datetime, clock: Clock
) -> None:
    student = pupil_of(app, lesson(database, now=now, due_in=timedelta(hours=1)), database)
    clock.advance(hours=2)
    page = student.client.get("/labs").text
    assert "overdue" in page
    assert "it will be called late" in page
    assert student.start()


def test_the_rules_are_told_before_the_lab_is_started(student: Pupil) -> None:
    page = student.client.get(student.about).text
    for told in (
        "about 40 min",
        "what a wrongly entered rim width leaves behind",  # its file wraps within these words
        "2, each with numbers of its own; the best one counts.",
        "0 attempts used so far",
        "Tue, Mar 5, 9:00 AM.",
        "Chicago time",
        "called late",
        "Spinning",
        "Start the lab",
    ):
        assert told in page, told


def test_the_page_before_the_start_shows_no_measurement(student: Pupil) -> None:
    page = student.client.get(student.about).text
    assert "<svg" not in page
    assert "measured-body" not in page


def test_starting_twice_leads_to_the_same_lab(student: Pupil) -> None:
    assert student.start() == student.start()
    assert "Go on with the lab" in student.client.get(student.about).text


def test_a_lab_that_is_not_open_yet_says_when_it_opens(app: Flask, database: Database, now: datetime) -> None:
    given = lesson(database, now=now, opens_in=timedelta(hours=26), due_in=timedelta(days=5))
    student = pupil_of(app, given, database)
    page = student.client.get(student.about).text
    assert "This lab opens Tue, Mar 5, 11:00 AM." in page
    assert "Start the lab" not in page
    refused = student.client.send(f"{student.about}/attempts", page=student.about)
    assert refused.status_code == 422
    assert "This lab opens Tue, Mar 5, 11:00 AM." in refused.text


def test_when_every_attempt_is_used_the_page_says_so(app: Flask, database: Database, now: datetime) -> None:
    student = pupil_of(app, lesson(database, now=now, attempts_allowed=1), database)
    address = student.start()
    student.hand_in(address)
    page = student.client.get(student.about).text
    assert "Every attempt is used." in page
    assert "new numbers</button>" not in page
    refused = student.client.send(f"{student.about}/attempts", page=student.about)
    assert refused.status_code == 422
    assert refused.text.count("Every attempt is used.") == 2, "as a fault, and where the button would stand"


def test_a_stale_page_starts_nothing_and_says_what_to_do(student: Pupil) -> None:
    refused = student.client.post(f"{student.about}/attempts", data={"csrf_token": "old"})
    assert refused.status_code == 422
    assert "press the button again" in refused.text
    assert "0 attempts used" in student.client.get(student.about).text


ADDRESSES = ["{about}", "{about}/attempts", "{lab}", "{lab}/answer", "{lab}/hand-in", "{lab}/result"]


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("whose", ["of another class", "dropped", "who teaches the class"])
def test_nobody_else_reaches_a_student_s_lab(
    app: Flask, student: Pupil, database: Database, now: datetime, address: str, whose: str
) -> None:
    place = address.format(about=student.about, lab=student.start())
    if whose == "who teaches the class":
        client, status = signed_in(app, student.lesson.instructor), 403
    elif whose == "of another class":
        other_class = factories.school_class(database, instructor=student.lesson.instructor, name="Auto 3")
        stranger = factories.student(database, class_id=other_class, instructor=student.lesson.instructor)
        client, status = signed_in(app, stranger), 404
    else:
        client, status = student.client, 404
        classes.drop_student(
            database,
            class_id=student.lesson.class_id,
            instructor=student.lesson.instructor,
            student_id=student.lesson.student.public_id,
            now=now,
        )
    client.get("/", follow_redirects=True)
    if address.endswith(("attempts", "answer")):
        response = client.post(
            place,
            json={"task": "static-size", "answer": "1"},
            headers={"X-CSRF-Token": client.csrf_token},
        )
    else:
        response = client.get(place)
    assert response.status_code == status


@pytest.mark.parametrize("made_up", ["a" * 20, "1", "../etc"])
@pytest.mark.parametrize("place", ["assignments", "attempts"])
def test_a_lab_that_is_not_there_is_no_page(student: Pupil, place: str, made_up: str) -> None:
    assert student.client.get(f"/labs/{place}/{made_up}").status_code == 404


@pytest.mark.parametrize(
    ("method", "address"),
    [("post", "{about}"), ("get", "{about}/attempts"), ("get", "{lab}/answer"), ("post", "{lab}/result")],
)
def test_a_wrong_method_is_refused(student: Pupil, method: str, address: str) -> None:
    place = address.format(about=student.about, lab=student.start())
    assert getattr(student.client, method)(place).status_code == 405
