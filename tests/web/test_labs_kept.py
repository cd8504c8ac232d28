"""What a lab's page keeps from one visit to the next: never a stale answer, and never another's numbers."""

from datetime import datetime

import pytest
from flask import Flask

from app.services import classes
from app.store.db import Database
from tests.services.lessons import Lesson, lesson
from tests.web.labs import Pupil, another_student, pupil_of


@pytest.fixture
def given(database: Database, now: datetime) -> Lesson:
    return lesson(database, now=now)


@pytest.fixture
def student(app: Flask, given: Lesson, database: Database) -> Pupil:
    return pupil_of(app, given, database)


def shown(pupil: Pupil, address: str) -> str:
    return str(pupil.client.get(address).get_data(as_text=True))


def sheet(html: str) -> str:
    """The page from its job card on, without the tokens of its forms."""
    return html.partition('<section class="lab-part">')[2]


def test_a_lab_opened_again_is_the_same_sheet(student: Pupil) -> None:
    address = student.start()
    assert sheet(shown(student, address)) == sheet(shown(student, address)) != ""


def test_a_saved_answer_stands_on_the_page_that_is_opened_next(student: Pupil) -> None:
    address = student.start()
    shown(student, address)
    for typed in ("31 gmm", "47 gmm"):
        student.save(address, "static-size", typed)
        page = shown(student, address)
        assert f'value="{typed}"' in page
        assert "<b data-answered>1</b>" in page
    assert "31 gmm" not in page


def test_an_answer_taken_back_is_gone(student: Pupil) -> None:
    address = student.start()
    student.save(address, "static-size", "31 gmm")
    assert "31 gmm" in shown(student, address)
    student.save(address, "static-size", "")
    page = shown(student, address)
    assert "31 gmm" not in page
    assert "<b data-answered>0</b>" in page


def test_an_answer_that_can_not_be_read_is_told_beside_its_control_until_it_is_mended(student: Pupil) -> None:
    address = student.start()
    student.save(address, "static-size", "much")
    assert 'aria-invalid="true"' in shown(student, address)
    student.save(address, "static-size", "31 gmm")
    assert 'aria-invalid="true"' not in shown(student, address)


def test_two_students_have_their_own_measurements_and_answers(
    app: Flask, database: Database, student: Pupil
) -> None:
    other = pupil_of(app, another_student(database, student.lesson), database)
    address, address_of_other = student.start(), other.start()
    student.save(address, "static-size", "31 gmm")
    own, others = shown(student, address), shown(other, address_of_other)
    assert "31 gmm" in own
    assert "31 gmm" not in others
    assert measured(own) != measured(others)
    assert address not in others


def test_a_new_attempt_has_measurements_of_its_own(student: Pupil) -> None:
    first = student.start()
    before = shown(student, first)
    student.hand_in(first)
    second = student.start()
    assert measured(shown(student, second)) != measured(before)


def test_a_class_that_is_put_away_can_only_be_read(database: Database, student: Pupil, now: datetime) -> None:
    address = student.start()
    assert "<fieldset disabled" not in shown(student, address)
    classes.archive_class(
        database,
        class_id=student.lesson.class_id,
        instructor=student.lesson.instructor,
        archived=True,
        now=now,
    )
    page = shown(student, address)
    assert "<fieldset disabled" in page
    assert ">Hint" not in page


def measured(html: str) -> list[str]:
    """The pieces of a page that hold measurements."""
    return [piece.partition('class="questions"')[0] for piece in html.split('class="measured-body')[1:]]
