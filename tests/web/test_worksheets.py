"""Paper worksheets and their key as files: own numbers, no answer on a student's sheet, a code to the lab."""

import re
from io import BytesIO, StringIO

import pytest
import segno
from pypdf import PdfReader

from app.domain.cautions import ALWAYS, CAUTION_WORDS
from app.domain.marking import right_answer_text
from app.exports.qr_codes import qr_code
from app.services import worksheets
from app.services.accounts import Person
from app.store.db import Database
from app.web.lab_sheet import parts_of
from tests import factories
from tests.exports.examples import claims_pdf_ua, letters, tags
from tests.web.given import give


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, pupil: Person, now) -> str:  # noqa: ARG001
    factories.student(database, class_id=class_id, instructor=teacher, name="Bo Abel")
    return give(database, class_id=class_id, instructor=teacher, now=now)


def sheets(assignment_id: str) -> str:
    return f"/teaching/assignments/{assignment_id}/worksheets.pdf"


def key(assignment_id: str) -> str:
    return f"/teaching/assignments/{assignment_id}/worksheets/key.pdf"


def text_by_student(content: bytes, names: list[str]) -> dict[str, str]:
    """The letters of all pages that carry a student's name in their title block."""
    pages = [letters(page.extract_text()) for page in PdfReader(BytesIO(content)).pages]
    return {name: "".join(page for page in pages if letters(name) in page) for name in names}


def test_each_sheet_has_its_students_own_numbers_questions_cautions_and_units(
    teacher_client, database, assignment_id, teacher
):
    answer = teacher_client.get(sheets(assignment_id))
    assert answer.headers["Content-Disposition"] == 'attachment; filename="worksheets-lab-1-2030-03-04.pdf"'
    rows = worksheets.worksheets(database, assignment_id=assignment_id, instructor=teacher)
    texts = text_by_student(answer.data, [row.student_name for row in rows])
    for row in rows:
        text = texts[row.student_name]
        for part in parts_of(row.variant):
            for measured in part.measurements:
                for table in measured.tables:
                    assert [cell for line in table.rows for cell in line if letters(cell) not in text] == []
            for question in part.questions:
                assert letters(question.prompt) in text
                if question.kind in ("choice", "choices", "order"):
                    assert all(letters(words) in text for _, words in question.options)
        for caution in row.variant.scenario.cautions:
            assert letters(CAUTION_WORDS[caution].text) in text
        assert letters(ALWAYS) in text
        assert "SHEET1of" in text


def test_the_students_file_holds_no_answer(teacher_client, database, assignment_id, teacher):
    content = teacher_client.get(sheets(assignment_id)).data
    [row] = [
        each
        for each in worksheets.worksheets(database, assignment_id=assignment_id, instructor=teacher)
        if each.student_name == "Sam Okafor"
    ]
    text = text_by_student(content, ["Sam Okafor"])["Sam Okafor"]
    # This size stands nowhere else on the sheet; an angle might, on a scale.
    answers = [
        right_answer_text(task, row.variant)
        for task in row.variant.scenario.tasks
        if task.id == "static-size"
    ]
    assert answers
    assert [answer for answer in answers if letters(answer) in text] == []
    assert "Rightanswer" not in text


def test_the_key_has_every_right_answer_of_every_student_in_a_file_of_its_own(
    teacher_client, database, assignment_id, teacher
):
    answer = teacher_client.get(key(assignment_id))
    assert 'filename="answer-key-lab-1-2030-03-04.pdf"' in answer.headers["Content-Disposition"]
    reader = PdfReader(BytesIO(answer.data))
    text = letters("".join(page.extract_text() for page in reader.pages))
    for row in worksheets.worksheets(database, assignment_id=assignment_id, instructor=teacher):
        for task in row.variant.scenario.tasks:
            assert letters(right_answer_text(task, row.variant)) in text
    assert claims_pdf_ua(reader)


def test_the_packet_is_accessible_and_has_a_bookmark_a_student(teacher_client, assignment_id):
    reader = PdfReader(BytesIO(teacher_client.get(sheets(assignment_id)).data))
    assert claims_pdf_ua(reader)
    assert [mark.title for mark in reader.outline] == ["Bo Abel", "Sam Okafor"]
    figures = [tag for tag in tags(reader) if tag.get("/S") == "/Figure"]
    assert figures
    assert all(tag.get("/Alt") for tag in figures)


def test_the_code_leads_to_the_lab_by_the_host_that_the_instructor_uses_and_tells_no_secret(
    teacher_client, assignment_id
):
    cookie = teacher_client.get_cookie("heavyspot")
    teacher_client.set_cookie("heavyspot", cookie.value, domain="192.168.1.20")
    content = teacher_client.get(sheets(assignment_id), base_url="http://192.168.1.20:8000").data
    address = f"http://192.168.1.20:8000/labs/assignments/{assignment_id}"
    assert letters(address) in letters(
        "".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    )
    [alternative] = {
        str(tag["/Alt"]) for tag in tags(PdfReader(BytesIO(content))) if "QR code" in str(tag.get("/Alt"))
    }
    assert alternative == f"QR code of the address {address}"


def test_the_code_is_that_of_the_address():
    drawn = StringIO(qr_code("http://192.168.1.20:8000/labs")).read()
    size = segno.make_qr("http://192.168.1.20:8000/labs").symbol_size()[0]
    assert re.search(rf'viewBox="0 0 {size} {size}"', drawn)


@pytest.mark.parametrize(
    "slug", ["four-assemblies", "runout-and-match-mounting", "bench-one-assembly", "mounting-in-order"]
)
def test_every_kind_of_lab_has_worksheets_and_a_key(
    teacher_client, database, class_id, teacher, pupil, now, slug
):
    given = give(database, class_id=class_id, instructor=teacher, now=now, slug=slug)
    for address in (sheets(given), key(given)):
        reader = PdfReader(BytesIO(teacher_client.get(address).data))
        assert claims_pdf_ua(reader)
        assert pupil.display_name in "".join(page.extract_text() for page in reader.pages)


def test_a_class_without_students_has_no_worksheets(teacher_client, database, class_id, teacher, now):
    given = give(database, class_id=class_id, instructor=teacher, now=now)
    assert teacher_client.get(sheets(given)).status_code == 404
    assert teacher_client.get(key(given)).status_code == 404


def test_only_the_class_s_instructor_gets_worksheets_and_key(stranger_client, pupil_client, assignment_id):
    for address in (sheets(assignment_id), key(assignment_id)):
        assert stranger_client.get(address).status_code == 404
        assert pupil_client.get(address).status_code == 403
