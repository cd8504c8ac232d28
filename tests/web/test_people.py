"""Pages of class lists, instructors, one-time codes, devices, records and deletion."""

import io
import json
import re
import zipfile
from datetime import timedelta

import pytest

from app.services import accounts, classes, hands_on
from app.services.devices import devices_of
from tests import factories
from tests.web import given
from tests.web.conftest import signed_in

LIST = "ID,Name\n7,Sam Okafor\n8,Ana Núñez\n"


def send_list(client, class_id, content, name="list.csv"):
    path = f"/teaching/classes/{class_id}/class-list"
    client.get(path)
    content = content if isinstance(content, bytes) else content.encode()
    return client.post(
        path,
        data={"csrf_token": client.csrf_token, "file": (io.BytesIO(content), name)},
        content_type="multipart/form-data",
    )


CHOSEN = {"name": "1", "given": "", "family": "", "number": "0", "sign_in": "", "has_heads": "y"}


def test_a_list_is_looked_at_and_then_taken(teacher_client, class_id):
    sent = send_list(teacher_client, class_id, LIST)
    assert sent.status_code == 303
    page = teacher_client.get(sent.location)
    assert "2 new students" in page.text
    assert "UTF-8" in page.text
    cards = teacher_client.send(sent.location, take="1", **CHOSEN)
    assert cards.status_code == 200
    assert "Ana Núñez" in cards.text
    assert "Okafor" in teacher_client.get(f"/teaching/classes/{class_id}").text


def test_the_same_list_again_says_that_nothing_changes(teacher_client, class_id):
    for _ in range(2):
        sent = send_list(teacher_client, class_id, LIST)
        answer = teacher_client.send(sent.location, take="1", **CHOSEN)
    assert answer.status_code == 303
    assert "Nothing has changed" in teacher_client.get(answer.location).text


def test_other_columns_can_be_tried_without_changing_anything(teacher_client, class_id, database, teacher):
    sent = send_list(teacher_client, class_id, "A,B\nSam Okafor,Bo Diaz\n")
    other = teacher_client.send(sent.location, **(CHOSEN | {"name": "1", "number": ""}))
    assert other.status_code == 200
    assert "Diaz, Bo" in other.text
    assert classes.class_page(database, class_id=class_id, instructor=teacher).students == ()


def test_a_list_with_a_fault_is_taken_only_without_its_faulty_lines(teacher_client, class_id):
    sent = send_list(teacher_client, class_id, LIST + "9,=1+1\n")
    page = teacher_client.get(sent.location)
    assert "formula" in page.text
    refused = teacher_client.send(sent.location, take="1", **CHOSEN)
    assert refused.status_code == 422
    assert "1 line has a fault" in refused.text
    assert "Ana Núñez" in teacher_client.send(sent.location, take="1", leave_out="y", **CHOSEN).text


def test_windows_1252_is_told(teacher_client, class_id):
    sent = send_list(teacher_client, class_id, LIST.encode("cp1252"))
    page = teacher_client.get(sent.location).text
    assert "Windows-1252" in page
    assert "Núñez" in page


@pytest.mark.parametrize(
    ("content", "message"),
    [(b"", "Choose the file"), (b"PK\x03\x04\0", "Save as"), (b"Name\n" + b"," * 100_000, "columns")],
    ids=lambda value: repr(value[:8]),
)
def test_what_is_no_list_is_refused_beside_the_field(teacher_client, class_id, content, message):
    answer = send_list(teacher_client, class_id, content)
    assert answer.status_code == 422
    assert message in answer.text


def test_a_column_that_is_not_there_is_refused(teacher_client, class_id):
    sent = send_list(teacher_client, class_id, LIST)
    answer = teacher_client.send(sent.location, take="1", **(CHOSEN | {"number": "99"}))
    assert answer.status_code == 422


def test_markup_in_a_list_is_shown_as_text(teacher_client, class_id):
    sent = send_list(teacher_client, class_id, "Name\n<script>alert(1)</script>\n")
    assert "<script>alert" not in teacher_client.get(sent.location).text


def test_another_s_list_is_not_found(teacher_client, app, class_id, database):
    sent = send_list(teacher_client, class_id, LIST)
    other = factories.instructor(database)
    own = factories.school_class(database, instructor=other)
    file_id = sent.location.rsplit("/", 1)[1]
    assert signed_in(app, other).get(f"/teaching/classes/{own}/class-list/{file_id}").status_code == 404


def test_students_of_another_class_join_by_ticking(teacher_client, pupil, database, teacher):
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    path = f"/teaching/classes/{second}/class-list"
    assert "Okafor, Sam" in teacher_client.get(path).text
    nobody = teacher_client.send(path + "/join", path)
    assert nobody.status_code == 422
    joined = teacher_client.send(path + "/join", path, students=pupil.public_id)
    assert joined.status_code == 303
    assert "1 student joined" in teacher_client.get(joined.location).text


def test_instructors_are_added_and_taken_off(teacher_client, class_id, database, teacher):
    other = factories.instructor(database, sign_in_name="k.wood")
    path = f"/teaching/classes/{class_id}/instructors"
    assert "the last one stays" in teacher_client.get(path).text
    assert "No instructor" in teacher_client.send(path, sign_in_name="nobody").text
    assert teacher_client.send(path, sign_in_name="k.wood").status_code == 303
    assert "k.wood" in teacher_client.get(path).text
    off = teacher_client.send(f"{path}/{teacher.public_id}/remove", path)
    assert off.location.endswith("/teaching")
    assert teacher_client.get(path).status_code == 404
    assert classes.class_page(database, class_id=class_id, instructor=other)


def test_everyone_of_a_class_is_signed_out(teacher_client, class_id, pupil_client):
    assert pupil_client.get("/labs").status_code == 200
    answer = teacher_client.send(
        f"/teaching/classes/{class_id}/sign-out", f"/teaching/classes/{class_id}/settings"
    )
    assert "1 device signed out" in teacher_client.get(answer.location).text
    assert pupil_client.get("/labs").status_code == 303


def code_for(teacher_client, class_id, pupil):
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}"
    page = teacher_client.send(f"{path}/code", f"{path}/settings")
    return re.search(r'class="shown-once">(\d{3} \d{3})<', page.text)[1]


def test_a_code_lets_a_student_in_with_a_phrase_of_their_own(teacher_client, client, class_id, pupil):
    code = code_for(teacher_client, class_id, pupil)
    entries = {"sign_in_name": "samo", "code": code}
    differing = {"pass_phrase": "maple river cat", "pass_phrase_again": "maple river dog"}
    assert client.send("/sign-in/code", **entries, **differing).status_code == 422
    same = dict.fromkeys(differing, "maple river cat")
    answer = client.send("/sign-in/code", **entries, **same)
    assert answer.status_code == 303
    assert client.get("/labs").status_code == 200


def test_a_code_without_a_phrase_gives_one_that_is_shown_once(teacher_client, client, class_id, pupil):
    code = code_for(teacher_client, class_id, pupil)
    page = client.send("/sign-in/code", sign_in_name="samo", code=code)
    assert page.status_code == 200
    phrase = re.search(r'class="shown-once">([a-z ]+)<', page.text)[1]
    assert len(phrase.split()) == 3


def test_a_wrong_code_is_refused_and_soon_waits(teacher_client, client, class_id, pupil):
    code = code_for(teacher_client, class_id, pupil)
    wrong = "000 000" if code != "000 000" else "111 111"
    for _ in range(5):
        assert client.send("/sign-in/code", sign_in_name="samo", code=wrong).status_code == 422
    waiting = client.send("/sign-in/code", sign_in_name="samo", code=code)
    assert waiting.status_code == 429
    assert "Too many wrong tries" in waiting.text


def test_a_code_is_over_after_ten_minutes(teacher_client, client, class_id, pupil, clock):
    code = code_for(teacher_client, class_id, pupil)
    clock.advance(minutes=10)
    assert client.send("/sign-in/code", sign_in_name="samo", code=code).status_code == 422


def test_one_s_own_devices_are_listed_and_ended(app, database, pupil, clock):
    phrase = accounts.reset_pass_phrase(database, sign_in_name="samo", now=clock())
    here, there = app.test_client(), app.test_client()
    for client, browser in ((here, "Mozilla/5.0 (Mobile)"), (there, "Mozilla/5.0 (Windows)")):
        client.environ_base["HTTP_USER_AGENT"] = browser
        client.send("/sign-in", sign_in_name="samo", pass_phrase=phrase)
    page = here.get("/pass-phrase").text
    assert page.count("this one") == 1
    assert "Phone" in page
    assert "Computer" in page
    own = devices_of(database, person=pupil, token="", now=clock())
    number = next(each.number for each in own if each.kind == "computer")
    assert here.send(f"/devices/{number}/end", "/pass-phrase").status_code == 303
    assert there.get("/labs").status_code == 303
    assert here.send(f"/devices/{number}/end", "/pass-phrase").status_code == 404


def test_a_student_moves_and_the_page_says_where_the_work_stays(
    teacher_client, class_id, pupil, database, teacher
):
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}"
    assert "no other class" in teacher_client.get(f"{path}/settings").text
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    assert "stays with this class" in teacher_client.get(f"{path}/settings").text
    assert teacher_client.send(f"{path}/move", f"{path}/settings").status_code == 422
    moved = teacher_client.send(f"{path}/move", f"{path}/settings", to_class=second)
    assert moved.location.endswith(second)
    assert "Sam Okafor is in Auto 3 now" in teacher_client.get(moved.location).text


def test_the_record_is_a_page_and_a_zip_of_all_that_is_held(
    teacher_client, class_id, pupil, database, teacher, clock
):
    assignment_id = given.give(database, class_id=class_id, instructor=teacher, now=clock())
    given.hand_in(database, assignment_id=assignment_id, student=pupil, now=clock())
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}/record"
    assert "Lab 1" in teacher_client.get(path).text
    answer = teacher_client.get(path + ".zip")
    assert answer.mimetype == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.data)) as archive:
        [page, data] = sorted(archive.namelist())
        record = json.loads(archive.read(data))
        text = archive.read(page).decode()
    assert page.startswith("samo-")
    assert {"attempt", "event", "mark", "person", "enrolment"} <= set(record["tables"])
    assert record["tables"]["person"][0]["display_name"] == "Sam Okafor"
    assert "pass_phrase_hash" not in str(record)
    assert "token_hash" not in str(record)
    assert "<h1>Record of Sam Okafor</h1>" in text
    assert record["labs"][0]["points"] == record["labs"][0]["out_of"]


def test_what_a_student_typed_is_text_in_the_record(teacher_client, class_id, database, teacher):
    student = factories.student(database, class_id=class_id, instructor=teacher, name="<b>Bo</b> Diaz")
    path = f"/teaching/classes/{class_id}/students/{student.public_id}/record.zip"
    with zipfile.ZipFile(io.BytesIO(teacher_client.get(path).data)) as archive:
        page = next(name for name in archive.namelist() if name.endswith(".html"))
        assert b"<b>Bo" not in archive.read(page)


@pytest.mark.usefixtures("pupil")
def test_the_records_of_a_class_are_one_file(teacher_client, class_id, database, teacher):
    factories.student(database, class_id=class_id, instructor=teacher, name="Bo Diaz")
    answer = teacher_client.get(f"/teaching/classes/{class_id}/records.zip")
    with zipfile.ZipFile(io.BytesIO(answer.data)) as archive:
        assert len(archive.namelist()) == 4


def test_a_student_is_deleted_with_a_receipt(teacher_client, class_id, pupil, database):
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}/delete"
    assert "Backups" in teacher_client.get(path).text
    assert teacher_client.send(path, typed_name="Sam").status_code == 422
    receipt = teacher_client.send(path, typed_name="sam okafor")
    assert receipt.status_code == 200
    assert re.search(r"Receipt</dt><dd>[0-9a-f]{12}<", receipt.text)
    assert "no byte" in receipt.text
    assert teacher_client.get(path).status_code == 404
    assert "Okafor" not in teacher_client.get(f"/teaching/classes/{class_id}").text
    everything = b"".join(file.read_bytes() for file in database.file.parent.glob(database.file.name + "*"))
    assert b"Okafor" not in everything


def test_a_deleted_student_is_signed_out(teacher_client, class_id, pupil, pupil_client):
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}/delete"
    teacher_client.send(path, typed_name="Sam Okafor")
    assert pupil_client.get("/labs").status_code == 303


def test_the_file_can_be_written_anew_later(teacher_client, class_id):
    answer = teacher_client.send(
        f"/teaching/classes/{class_id}/write-file-anew", f"/teaching/classes/{class_id}/settings"
    )
    assert "written anew" in teacher_client.get(answer.location).text


def test_hands_on_checks_are_part_of_the_record(teacher_client, class_id, pupil, database, teacher, clock):
    where = {"class_id": class_id, "instructor": teacher, "now": clock() - timedelta(days=1)}
    hands_on.add_skills(database, lines=["Balance"], **where)
    [skill] = hands_on.grid(database, **where).skills
    hands_on.check(
        database,
        student_id=pupil.public_id,
        skill_id=skill.skill_id,
        level=hands_on.Level.ALONE,
        key="tap-number-1",
        **where,
    )
    path = f"/teaching/classes/{class_id}/students/{pupil.public_id}/record"
    assert "Hands-on checks" in teacher_client.get(path).text
