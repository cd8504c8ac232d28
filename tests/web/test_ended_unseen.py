"""An attempt that ended while nobody looked counts wherever its points are told, whoever looks first."""

from datetime import datetime

import pytest
from flask import Flask

from app.services import practice
from app.services.accounts import Person
from app.store.db import Database
from tests.services.lessons import right_answers
from tests.web.conftest import CheckedClient, Clock, signed_in
from tests.web.given import begin, give

OF_THE_LAB, OF_THE_CLASS = "/teaching/assignments/{lab}", "/teaching/classes/{school_class}"
OF_THE_STUDENT = f"{OF_THE_CLASS}/students/{{student}}"


@pytest.fixture
def left_open(
    database: Database, class_id: str, teacher: Person, pupil: Person, now: datetime
) -> dict[str, str]:
    """A lab of half an hour in which one right answer was saved, by the names that addresses have."""
    lab = give(database, class_id=class_id, instructor=teacher, now=now, minutes=30)
    begun = begin(database, assignment_id=lab, student=pupil, now=now)
    right = right_answers(begun.variant)["static-angle"]
    own = {"attempt_id": begun.attempt_id, "student": pupil}
    practice.save_answer(database, **own, task_id="static-angle", answer=right, now=now)
    return {"lab": lab, "school_class": class_id, "student": pupil.public_id, "attempt": begun.attempt_id}


@pytest.mark.parametrize(
    "address",
    [
        f"{OF_THE_LAB}/reflections",
        f"{OF_THE_LAB}/reflections/{{student}}",
        f"{OF_THE_LAB}/reflections.xlsx",
        f"{OF_THE_LAB}/reflections/{{student}}.pdf",
        f"{OF_THE_CLASS}/reflections.docx",
        f"{OF_THE_STUDENT}/reflections.csv",
        f"{OF_THE_CLASS}/results-oneroster.zip",
        f"{OF_THE_CLASS}/records.zip",
        f"{OF_THE_STUDENT}/record",
        f"{OF_THE_STUDENT}/record.zip",
        f"{OF_THE_CLASS}/gradebook.csv",
    ],
)
def test_the_instructor_finds_it_handed_in(
    teacher_client: CheckedClient,
    database: Database,
    pupil: Person,
    clock: Clock,
    left_open: dict[str, str],
    address: str,
) -> None:
    clock.advance(minutes=31)
    assert teacher_client.get(address.format(**left_open)).status_code == 200
    assert points_of(database, pupil, left_open) == 2


@pytest.mark.parametrize("address", ["/labs/assignments/{lab}/reflection", "/labs/record", "/labs/grades"])
def test_so_does_its_student(
    app: Flask, database: Database, pupil: Person, clock: Clock, left_open: dict[str, str], address: str
) -> None:
    clock.advance(minutes=31)
    assert signed_in(app, pupil).get(address.format(**left_open)).status_code == 200
    assert points_of(database, pupil, left_open) == 2


def points_of(database: Database, pupil: Person, left_open: dict[str, str]) -> float | None:
    result = practice.result(database, attempt_id=left_open["attempt"], student=pupil)
    return result.points if result else None
