"""Reflection sheets as their instructor reads, returns and prints them."""

import re
from html import unescape
from io import BytesIO

import pytest
from pypdf import PdfReader

from app.services import classes, reflection_workflow, reflections
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.web.conftest import signed_in
from tests.web.given import give, hand_in
from tests.web.reflecting import OWN_WORDS, all_of, own, write, written

LETTER, A4 = (612, 792), (595, 842)
"""Points of 1/72 inch: ANSI Y14.1 and ISO 216, from memory."""


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


@pytest.fixture
def other_pupil(database: Database, class_id: str, teacher: Person) -> Person:
    return factories.student(database, class_id=class_id, instructor=teacher, name="Bo Abel")


def pages(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


@pytest.fixture
def two_sheets(database: Database, assignment_id: str, pupil: Person, other_pupil: Person, now) -> str:
    """Sam wrote and handed in; Bo did neither."""
    write(database, assignment_id, pupil, OWN_WORDS, now=now)
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now, instead={"static-angle": "12"})
    assert written(database, assignment_id, other_pupil)["senses"] == ""
    return assignment_id


def test_the_list_says_who_wrote_and_who_did_not(teacher_client, two_sheets, pupil, other_pupil):
    page = teacher_client.get(all_of(two_sheets)).text
    assert "1 of 2" in page
    rows = page.split("<tr>")[2:]
    assert len(rows) == 2
    for row, name, words in zip(
        rows,
        ("Bo Abel", "Sam Okafor"),
        (("not written", "not handed in"), ("1 of 3", "13 of 15")),
        strict=True,
    ):
        assert name in row
        assert all(word in row for word in words)
    for student in (pupil, other_pupil):
        assert all_of(two_sheets, f"/{student.public_id}") in page


def test_what_everybody_wrote_under_one_question_is_read_on_one_page(teacher_client, two_sheets):
    first = unescape(teacher_client.get(all_of(two_sheets, "/all")).text)
    assert OWN_WORDS in first
    assert "Question 2 →" in first
    assert re.search(r"Nothing written.*Bo Abel", first, re.DOTALL)
    second = unescape(teacher_client.get(all_of(two_sheets, "/all?question=check")).text)
    assert OWN_WORDS not in second
    assert "← Question 1" in second
    assert teacher_client.get(all_of(two_sheets, "/all?question=none")).status_code == 404


def test_an_instructor_goes_from_sheet_to_sheet_and_on_to_the_next_to_read(
    teacher_client, database, two_sheets, pupil, other_pupil, now
):
    page = teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text
    assert "Sam Okafor →" in page
    assert "Next to read" not in page
    reflection_workflow.hand_in(database, assignment_id=two_sheets, student=pupil, now=now)
    page = teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text
    assert "Next to read: Sam Okafor" in page
    assert "Read the next one handed in" in teacher_client.get(all_of(two_sheets)).text


def test_a_sheet_is_returned_with_a_comment_that_the_student_reads(app, teacher_client, two_sheets, pupil):
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    teacher_client.send(all_of(two_sheets, "/points"), page=all_of(two_sheets, "/questions"), out_of="4")
    refused = teacher_client.send(sheet, comment="Kept words.", points="5", seen="0")
    assert refused.status_code == 422
    assert "Kept words." in refused.text
    assert teacher_client.send(sheet, comment="Well <b>seen</b>.", points="3.5", seen="0").status_code == 303
    own_page = signed_in(app, pupil).get(own(two_sheets)).text
    assert "Well &lt;b&gt;seen&lt;/b&gt;." in own_page
    assert "3.5 of 4 points" in own_page
    assert "<textarea" not in own_page


def test_a_sheet_that_went_on_meanwhile_is_not_returned_and_the_comment_is_kept(
    teacher_client, database, two_sheets, pupil, now
):
    reflection_workflow.hand_in(database, assignment_id=two_sheets, student=pupil, now=now)
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    refused = teacher_client.send(sheet, comment="Long thoughts.", seen="0")
    assert refused.status_code == 422
    assert "went on since" in refused.text
    assert "Long thoughts." in refused.text
    assert teacher_client.send(sheet, comment="Long thoughts.", seen="1").status_code == 303


def test_a_sheet_is_asked_for_again_by_its_button(app, teacher_client, two_sheets, pupil):
    sheet = all_of(two_sheets, f"/{pupil.public_id}")
    assert "Say what is to be written again" in teacher_client.send(sheet, seen="0", again="1").text
    assert teacher_client.send(sheet, comment="Say why.", seen="0", again="1").status_code == 303
    own_page = signed_in(app, pupil).get(own(two_sheets)).text
    assert "to be written again" in own_page
    assert "<textarea" in own_page


def test_questions_are_added_closed_removed_and_asked_again(teacher_client, database, two_sheets, pupil):
    questions = all_of(two_sheets, "/questions")
    assert teacher_client.send(questions, text="").status_code == 422
    assert teacher_client.send(questions, text="What would you tell the *driver*?").status_code == 303
    assert "What would you tell the *driver*?" in teacher_client.get(questions).text
    [added] = set(re.findall(r"questions/([a-z2-7]{20})/close", teacher_client.get(questions).text))
    own_words = reflections.sheet(database, assignment_id=two_sheets, student=pupil)
    assert own_words.prompts[-1].id == added
    for prompt_id, act in ((added, "close"), ("senses", "close"), ("senses", "reopen")):
        done = teacher_client.send(f"{questions}/{prompt_id}/{act}", page=questions)
        assert done.status_code == 303
    assert "driver" not in teacher_client.get(questions).text
    assert written(database, two_sheets, pupil)["senses"] == OWN_WORDS
    assert teacher_client.send(f"{questions}/none/close", page=questions).status_code == 404


def test_signs_that_no_font_has_are_named_before_anything_is_printed(
    teacher_client, database, two_sheets, other_pupil, now
):
    unassigned = "\U0001f6db"
    assert "No font of this server" not in teacher_client.get(all_of(two_sheets)).text
    write(database, two_sheets, other_pupil, f"A sign {unassigned} that nobody drew.", now=now)
    page = teacher_client.get(all_of(two_sheets)).text
    assert "No font of this server" in page
    assert unassigned in page


def test_one_sheet_is_read_alone(teacher_client, two_sheets, pupil, other_pupil):
    page = unescape(teacher_client.get(all_of(two_sheets, f"/{pupil.public_id}")).text)
    assert OWN_WORDS in page
    assert "13 of 15 points" in page
    assert OWN_WORDS not in unescape(teacher_client.get(all_of(two_sheets, f"/{other_pupil.public_id}")).text)


def test_the_packet_holds_each_student_s_own_words_and_results(teacher_client, database, two_sheets, pupil):
    response = teacher_client.get(all_of(two_sheets, ".pdf"))
    assert response.mimetype == "application/pdf"
    name = 'attachment; filename="reflection-lab-1-2030-03-04.pdf"'
    assert response.headers["Content-Disposition"] == name
    texts = pages(response.data)
    of_sam = " ".join(text for text in texts if "Sam Okafor" in text)
    of_bo = " ".join(text for text in texts if "Bo Abel" in text)
    assert OWN_WORDS in of_sam
    assert OWN_WORDS not in of_bo
    assert "13 of 15 points" in of_sam
    assert "no attempt handed in" in of_bo
    result = reflections.sheet(database, assignment_id=two_sheets, student=pupil).result
    assert result is not None
    for mark in result.marks:
        assert mark.right_answer in of_sam
        assert mark.your_answer in of_sam
    assert "Mon, Mar 4 2030, 9:00 AM" in of_sam, "Chicago's time of 15:00 UTC"


def test_the_packet_draws_only_what_the_student_got_differently(
    teacher_client, database, assignment_id, pupil, other_pupil, now
):
    hand_in(database, assignment_id=assignment_id, student=pupil, now=now, instead={"inboard-angle": "12"})
    hand_in(database, assignment_id=assignment_id, student=other_pupil, now=now)
    texts = pages(teacher_client.get(all_of(assignment_id, ".pdf")).data)
    drawn = [
        name for name in ("Sam Okafor", "Bo Abel") for text in texts if name in text and "Drawings" in text
    ]
    assert set(drawn) == {"Sam Okafor"}


def test_one_student_s_sheet_prints_alone(teacher_client, two_sheets, pupil):
    response = teacher_client.get(all_of(two_sheets, f"/{pupil.public_id}.pdf"))
    assert 'filename="reflection-lab-1-sam-okafor-2030-03-04.pdf"' in response.headers["Content-Disposition"]
    assert all("Bo Abel" not in text for text in pages(response.data))


@pytest.mark.parametrize(("units", "size"), [("us", LETTER), ("metric", A4)])
def test_the_paper_is_that_of_the_class(
    teacher_client, database, class_id, teacher, two_sheets, now, units, size
):
    classes.update_class(
        database,
        class_id=class_id,
        instructor=teacher,
        name="Auto 2",
        time_zone="America/Chicago",
        units=units,
        calculators_on=True,
        now=now,
    )
    reader = PdfReader(BytesIO(teacher_client.get(all_of(two_sheets, ".pdf")).data))
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in reader.pages} == {size}


def test_a_class_without_students_has_nothing_to_print(teacher_client, assignment_id):
    assert "Nobody is in this class yet" in teacher_client.get(all_of(assignment_id)).text
    assert teacher_client.get(all_of(assignment_id, ".pdf")).status_code == 404


@pytest.mark.parametrize(
    "more",
    [
        "",
        "/all",
        "/questions",
        ".pdf",
        ".xlsx",
        "/blank.pdf",
        "/{student}",
        "/{student}.pdf",
        "/{student}.docx",
    ],
)
def test_only_the_class_s_instructor_reads_its_sheets(
    stranger_client, pupil_client, teacher_client, two_sheets, pupil, more
):
    path = all_of(two_sheets, more.format(student=pupil.public_id))
    assert teacher_client.get(path).status_code == 200
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403


@pytest.mark.parametrize("more", ["/{student}", "/{student}.pdf"])
def test_a_student_of_another_class_has_no_sheet_here(teacher_client, database, teacher, two_sheets, more):
    elsewhere = factories.school_class(database, instructor=teacher, name="Auto 3")
    student = factories.student(database, class_id=elsewhere, instructor=teacher)
    assert teacher_client.get(all_of(two_sheets, more.format(student=student.public_id))).status_code == 404
    assert teacher_client.get(all_of("a" * 20, more.format(student=student.public_id))).status_code == 404
