"""Marking by the criteria of a rubric on an attempt's page, and what its student reads."""

from datetime import datetime
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from app.store.db import Database
from tests.services.lessons import lesson
from tests.web.conftest import CheckedClient, signed_in
from tests.web.labs import Pupil, lesson_of_every_kind, pupil_of


@pytest.fixture
def pupil(app: Flask, database: Database, tmp_path: Path, now: datetime) -> Pupil:
    return pupil_of(app, lesson_of_every_kind(database, lesson(database, now=now), tmp_path, now), database)


@pytest.fixture
def attempt_id(pupil: Pupil) -> str:
    address = pupil.start()
    pupil.hand_in(address, pupil.right(address))
    return address.split("/")[3]


@pytest.fixture
def teacher(app: Flask, pupil: Pupil) -> CheckedClient:
    return signed_in(app, pupil.lesson.instructor)


def mark(teacher: CheckedClient, attempt_id: str, **entries: str) -> Any:
    page = f"/teaching/attempts/{attempt_id}"
    return teacher.send(f"{page}/marks/tell", page=page, comment="", **entries)


def test_each_criterion_is_marked_and_the_student_reads_it(
    teacher: CheckedClient, pupil: Pupil, attempt_id: str
) -> None:
    page = unescape(teacher.get(f"/teaching/attempts/{attempt_id}").text)
    assert "Says what is heavy (1)" in page
    assert "only repeats the rule: 1" in page
    given = {"criterion-what": "0.5", "criterion-why": "1"}
    assert mark(teacher, attempt_id, **given).status_code == 303
    result = unescape(pupil.client.get(f"/labs/attempts/{attempt_id}/result").text)
    assert "Says what is heavy: 0.5 of 1. Says why it shakes: 1 of 2, only repeats the rule." in result
    again = unescape(teacher.get(f"/teaching/attempts/{attempt_id}").text)
    assert 'name="criterion-what" type="text" value="0.5"' in again
    assert 'name="criterion-why" value="1" checked' in again


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"criterion-what": "2", "criterion-why": "1"}, "Enter a number from 0 to 1."),
        ({"criterion-what": "1"}, "Choose one of the levels."),
        ({"criterion-what": "1", "criterion-why": "1.5"}, "Choose one of the levels."),
        ({"criterion-what": "nan", "criterion-why": "1"}, "Enter a number, like 0.5."),
        ({}, "Enter the points, from 0 to 1."),
    ],
)
def test_what_the_rubric_does_not_give_is_said_beside_its_criterion(
    teacher: CheckedClient, attempt_id: str, given: dict[str, str], says: str
) -> None:
    response = mark(teacher, attempt_id, **given)
    assert response.status_code == 422
    assert says in response.text
