"""Every file of reflection sheets, opened and compared with what the database holds."""

import csv
import re
from io import BytesIO, StringIO
from zipfile import ZipFile

import pytest
from docx import Document
from openpyxl import load_workbook
from pypdf import PdfReader

from app.services import reflection_prompts, reflection_workflow, reflections
from app.services.accounts import Person
from app.services.pseudonyms import pseudonym
from app.services.reflections import StudentSheet
from app.store.db import Database
from app.web.teaching.local_times import in_zone
from tests import factories
from tests.exports.examples import claims_pdf_ua, letters
from tests.web.given import give, hand_in

HOSTILE = {
    "senses": '=HYPERLINK("http://example.org")\n#import "x" *not bold* $x^2$ <b>&amp;</b> @sum(1)',
    "check": "שלום עולם: 5 > 3\nمرحبا. 🙂 ½ oz, Größe",
    "next": "I am Sam Okafor (samo); Sam says Bo Abel helped. " + " ".join(f"word{n}" for n in range(510)),
}
KINDS = ["pdf", "docx", "csv", "xlsx"]


@pytest.fixture
def other_pupil(database: Database, class_id: str, teacher: Person) -> Person:
    return factories.student(database, class_id=class_id, instructor=teacher, name="Bo Abel")


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, pupil: Person, other_pupil, now) -> str:  # noqa: ARG001
    """One student wrote everything, handed in and got it back; the other wrote nothing."""
    given = give(database, class_id=class_id, instructor=teacher, now=now, title="Lab 1: Shake & roll")
    as_teacher = {"assignment_id": given, "instructor": teacher, "now": now}
    own = reflection_prompts.add_prompt(database, text="And what of the driver?", **as_teacher)
    reflection_prompts.set_points(database, out_of=4, **as_teacher)
    for prompt_id, text in {**HOSTILE, own: "Sam told the driver."}.items():
        reflections.save(
            database, assignment_id=given, student=pupil, prompt_id=prompt_id, text=text, now=now
        )
    hand_in(database, assignment_id=given, student=pupil, now=now, instead={"static-size": "1234 g.mm"})
    reflection_workflow.hand_in(database, assignment_id=given, student=pupil, now=now)
    reflection_workflow.give_back(
        database,
        student_id=pupil.public_id,
        again=False,
        comment="+ Well done, Sam Okafor.\n- go on",
        points=3.5,
        seen_steps=1,
        **as_teacher,
    )
    return given


@pytest.fixture
def kept(database: Database, assignment_id: str, teacher: Person) -> dict[str, StudentSheet]:
    """What the database holds, by student."""
    sheets = reflections.sheets(database, assignment_id=assignment_id, instructor=teacher)
    return {each.student_name: each for each in sheets}


def files(assignment_id: str, kind: str, query: str = "") -> str:
    return f"/teaching/assignments/{assignment_id}/reflections.{kind}{query}"


def guarded(text: str) -> str:
    return f"'{text}" if text.startswith(tuple("=+-@")) else text


def words_in(content: bytes, kind: str) -> str:
    """All that a file says, its properties too."""
    if kind == "csv":
        return content.decode()
    if kind == "pdf":
        reader = PdfReader(BytesIO(content))
        outline = " ".join(str(mark.title) for mark in reader.outline)
        return " ".join([*(page.extract_text() for page in reader.pages), outline, str(reader.metadata)])
    with ZipFile(BytesIO(content)) as parts:
        return " ".join(parts.read(name).decode("utf-8", "replace") for name in parts.namelist())


def test_the_table_has_every_answer_of_every_student_as_it_was_typed(teacher_client, assignment_id, kept):
    answer = teacher_client.get(files(assignment_id, "csv"))
    heads, *rows = csv.reader(StringIO(answer.data.decode("utf-8-sig"), newline=""))
    assert heads[:4] == ["Student", "Sign-in name", "Class", "Assignment"]
    found = [dict(zip(heads, row, strict=True)) for row in rows]
    expected = [
        {
            "Student": name,
            "Sign-in name": each.sign_in_name,
            "Class": "Auto 2",
            "Assignment": "Lab 1: Shake & roll",
            "Sheet": "returned" if name == "Sam Okafor" else "not written",
            "Question number": str(number),
            "Question": prompt.text,
            "Answer": guarded(prompt.response),
            "Saved (Chicago time)": "2030-03-04 09:00" if prompt.saved_at else "",
        }
        for name, each in kept.items()
        for number, prompt in enumerate(each.sheet.prompts, 1)
    ]
    assert found == expected


def test_the_workbook_has_typed_points_and_times_and_every_answer(teacher_client, assignment_id, kept):
    book = load_workbook(BytesIO(teacher_client.get(files(assignment_id, "xlsx")).data))
    heads, *rows = ([cell.value for cell in row] for row in book["Sheets"].iter_rows())
    by_name = {row[0]: dict(zip(heads, row, strict=True)) for row in rows}
    sam, sheet = by_name["Sam Okafor"], kept["Sam Okafor"].sheet
    assert sheet.result is not None
    assert sheet.handed_in_at is not None
    assert (sam["Points"], sam["Out of"], sam["Comment"]) == (3.5, 4, sheet.comment)
    assert (sam["Lab points"], sam["Lab out of"]) == (sheet.result.points, sheet.result.out_of)
    assert sam["Handed in (Chicago time)"] == in_zone(sheet.handed_in_at, sheet.time_zone)
    assert (by_name["Bo Abel"]["Points"], by_name["Bo Abel"]["Answers written"]) == (None, 0)

    heads, *rows = ([cell.value for cell in row] for row in book["Answers"].iter_rows())
    answers = {(row[0], row[heads.index("Question")]): row[heads.index("Answer")] for row in rows}
    assert answers == {
        (name, prompt.text): prompt.response or None
        for name, each in kept.items()
        for prompt in each.sheet.prompts
    }
    assert "<f>" not in words_in(teacher_client.get(files(assignment_id, "xlsx")).data, "xlsx")


def test_the_document_has_every_answer_under_its_question(teacher_client, assignment_id, kept):
    document = Document(BytesIO(teacher_client.get(files(assignment_id, "docx")).data))
    lines = [paragraph.text for paragraph in document.paragraphs]
    place = lines.index("Sam Okafor")
    for prompt in kept["Sam Okafor"].sheet.prompts:
        place = lines.index(prompt.text, place) + 1
        typed = prompt.response.split("\n")
        assert lines[place : place + len(typed)] == typed
    assert "The instructor’s comment" in lines
    assert any("3.5 of 4 points" in line for line in lines)
    result = kept["Sam Okafor"].sheet.result
    assert result is not None
    cells = [cell.text for row in document.tables[0].rows for cell in row.cells]
    for mark in result.marks:
        assert mark.right_answer in cells


def test_the_packet_has_every_answer_literally_and_is_accessible(teacher_client, assignment_id, kept):
    reader = PdfReader(BytesIO(teacher_client.get(files(assignment_id, "pdf")).data))
    printed = letters("".join(page.extract_text() for page in reader.pages))
    text = re.sub(r"STUDENT.*?PACKETPAGE\dof\d", "", printed)  # the title block of each page
    for prompt in kept["Sam Okafor"].sheet.prompts:
        if prompt.id != "check":  # an extractor turns the words of Hebrew and Arabic round
            assert [word for word in prompt.response.split() if letters(word) not in text] == []
    assert letters(HOSTILE["senses"]) in text
    assert letters("+ Well done, Sam Okafor.") in text
    assert claims_pdf_ua(reader)
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.metadata.title == "Reflection sheets: Lab 1: Shake & roll"


@pytest.mark.parametrize("kind", KINDS)
def test_hidden_names_stand_nowhere_in_a_file(
    teacher_client, assignment_id, class_id, pupil, other_pupil, kind
):
    answer = teacher_client.get(files(assignment_id, kind, "?names=hidden"))
    words = words_in(answer.data, kind)
    for name in (
        "Okafor",
        "Sam ",
        "samo",
        "Abel",
        pupil.public_id,
        other_pupil.public_id,
        pupil.sign_in_name,
    ):
        assert name not in words, name
    for student in (pupil, other_pupil):
        assert pseudonym(class_id, student.public_id) in words


@pytest.mark.parametrize("kind", KINDS)
def test_students_without_names_stand_in_the_order_of_their_numbers(
    teacher_client, assignment_id, class_id, pupil, other_pupil, kind
):
    words = words_in(teacher_client.get(files(assignment_id, kind, "?names=hidden")).data, kind)
    numbers = sorted(pseudonym(class_id, each.public_id) for each in (pupil, other_pupil))
    if kind == "xlsx":  # its texts stand once each, in the order of their first use
        words = words[words.index("sharedStrings") if "sharedStrings" in words else 0 :]
    assert words.index(numbers[0]) < words.index(numbers[1])


@pytest.mark.parametrize("kind", KINDS)
def test_a_file_of_one_student_holds_no_other(teacher_client, assignment_id, class_id, pupil, kind):
    for address in (
        f"/teaching/assignments/{assignment_id}/reflections/{pupil.public_id}.{kind}",
        f"/teaching/classes/{class_id}/students/{pupil.public_id}/reflections.{kind}",
    ):
        answer = teacher_client.get(address)
        words = words_in(answer.data, kind)
        assert "Sam Okafor" in words
        assert "samo" in words.casefold()
        name = answer.headers["Content-Disposition"]
        assert re.fullmatch(
            rf'attachment; filename="reflection-[a-z0-9-]+sam-okafor-2030-03-04\.{kind}"', name
        )
        hidden = teacher_client.get(f"{address}?names=hidden").headers["Content-Disposition"]
        assert "okafor" not in hidden


@pytest.mark.usefixtures("assignment_id")
@pytest.mark.parametrize("kind", KINDS)
def test_a_file_of_the_class_holds_every_lab(teacher_client, database, class_id, teacher, now, kind):
    give(database, class_id=class_id, instructor=teacher, now=now, slug="one-plane", title="Lab 2: Planes")
    answer = teacher_client.get(f"/teaching/classes/{class_id}/reflections.{kind}")
    words = letters(words_in(answer.data, kind))
    for title in ("Lab 1: Shake", "Lab 2: Planes"):
        assert letters(title) in words
    assert answer.headers["Content-Disposition"].startswith('attachment; filename="reflection-auto-2-')


def test_blank_sheets_carry_names_or_none_and_no_answer(teacher_client, assignment_id):
    address = f"/teaching/assignments/{assignment_id}/reflections/blank.pdf"
    for query, pages, named in (("", 2, True), ("?names=hidden", 1, False)):
        reader = PdfReader(BytesIO(teacher_client.get(address + query).data))
        text = "".join(page.extract_text() for page in reader.pages)
        assert ("Sam Okafor" in text) is named
        assert "HYPERLINK" not in text
        assert text.count("Write here:") == 4 * (2 if named else 1)
        assert len(reader.pages) >= pages


@pytest.mark.usefixtures("assignment_id")
def test_the_page_of_files_leads_to_every_one_of_them(teacher_client, class_id):
    page = teacher_client.get(f"/teaching/classes/{class_id}/reflections").text
    links = set(re.findall(r'href="(/teaching/[^"]+)"', page))
    wanted = [link.replace("&amp;", "&") for link in links if re.search(r"\.(pdf|docx|csv|xlsx)", link)]
    assert len(wanted) == 4 * 2 * 2 + 2 + 2 + 4 * 2 * 2  # by lab, blank, worksheets and key, by student
    for link in wanted:
        assert teacher_client.get(link).status_code == 200, link


@pytest.mark.parametrize("kind", KINDS)
def test_only_the_class_s_instructor_gets_its_files(
    stranger_client, pupil_client, assignment_id, class_id, kind
):
    for address in (files(assignment_id, kind), f"/teaching/classes/{class_id}/reflections.{kind}"):
        assert stranger_client.get(address).status_code == 404
        assert pupil_client.get(address).status_code == 403
    assert stranger_client.get(f"/teaching/classes/{class_id}/reflections").status_code == 404


def test_names_that_no_font_can_print_are_told_on_the_page_of_files(
    teacher_client, database, class_id, teacher, assignment_id
):
    address = f"/teaching/classes/{class_id}/reflections"
    assert "No font of this server" not in teacher_client.get(address).text
    factories.student(database, class_id=class_id, instructor=teacher, name="Ria \U00016ac0\U00016ac1")
    page = teacher_client.get(address).text
    assert "No font of this server" in page
    content = teacher_client.get(f"/teaching/assignments/{assignment_id}/worksheets.pdf").data
    assert "[U+16AC0]" in "".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
