"""Pages of OneRoster zips."""

import io
import zipfile

import pytest

from app.services import classes
from tests import factories
from tests.services.roster_zips import STUDENTS, roster_zip, user
from tests.web import given

NEW = {"time_zone": "America/Chicago", "units": "us"}


def send(client, content):
    client.get("/teaching/roster")
    return client.post(
        "/teaching/roster",
        data={"csrf_token": client.csrf_token, "file": (io.BytesIO(content), "roster.zip")},
        content_type="multipart/form-data",
    )


def test_classes_are_chosen_looked_at_and_taken(teacher_client, database, teacher):
    sent = send(teacher_client, roster_zip())
    assert sent.status_code == 303
    assert "Auto 3" in teacher_client.get(sent.location).text
    choice = {"class-0": "new", "class-1": "new"} | NEW
    looked = teacher_client.send(sent.location, **choice)
    assert looked.status_code == 200
    assert "3 new students" in looked.text
    assert classes.classes_of(database, instructor=teacher) == []
    cards = teacher_client.send(sent.location, take="1", **choice)
    assert "Ana Lucia Núñez" in cards.text
    assert {row.name: row.students for row in classes.classes_of(database, instructor=teacher)} == {
        "Auto 2": 2,
        "Auto 3": 2,
    }


def test_the_second_time_the_classes_are_chosen_already(teacher_client):
    choice = {"class-0": "new", "class-1": "new"} | NEW
    teacher_client.send(send(teacher_client, roster_zip()).location, take="1", **choice)
    again = send(teacher_client, roster_zip()).location
    page = teacher_client.get(again).text
    assert page.count("selected>Into Auto") == 2


def test_nothing_chosen_and_no_time_zone_are_refused(teacher_client):
    sent = send(teacher_client, roster_zip()).location
    assert teacher_client.send(sent, **NEW).status_code == 422
    assert teacher_client.send(sent, **{"class-0": "new", "units": "us", "time_zone": ""}).status_code == 422


def test_a_faulty_student_is_left_out_on_request_only(teacher_client):
    sent = send(teacher_client, roster_zip(users=[user("u1", "=1", "X"), *STUDENTS[1:]])).location
    choice = {"class-0": "new"} | NEW
    assert teacher_client.send(sent, take="1", **choice).status_code == 422
    assert "Núñez" in teacher_client.send(sent, take="1", leave_out="y", **choice).text


@pytest.mark.parametrize("content", [b"", b"no zip", roster_zip(instead={"users.csv": None})], ids=len)
def test_what_is_no_roster_is_refused_beside_the_field(teacher_client, content):
    assert send(teacher_client, content).status_code == 422


def test_results_are_a_zip_and_without_an_assignment_a_sentence(
    teacher_client, class_id, pupil, database, teacher, clock
):
    path = f"/teaching/classes/{class_id}/results-oneroster.zip"
    assert teacher_client.get(path).status_code == 303
    assignment_id = given.give(database, class_id=class_id, instructor=teacher, now=clock())
    given.hand_in(database, assignment_id=assignment_id, student=pupil, now=clock())
    answer = teacher_client.get(path)
    assert answer.mimetype == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.data)) as archive:
        results = archive.read("results.csv").decode()
    assert pupil.public_id in results
    assert "Okafor" not in results


def test_another_s_zip_is_not_found(teacher_client, app, database):
    from tests.web.conftest import signed_in

    sent = send(teacher_client, roster_zip()).location
    assert signed_in(app, factories.instructor(database)).get(sent).status_code == 404
