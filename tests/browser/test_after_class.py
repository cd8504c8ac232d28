"""What an instructor takes home: the gradebook as a table, reflection sheets on paper, marks by hand."""

import csv
import io
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from app.services import practice, reflections
from app.services.accounts import Person
from app.services.gradebook import gradebook
from app.services.labs import Result
from tests.browser.school import Classroom
from tests.browser.watch import Windows
from tests.services import lessons
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

WRITTEN = "The balancer feels the pull. Brackets [like these] and *stars* are only signs; so is #1."


@pytest.fixture
def second_student(classroom: Classroom) -> Person:
    return classroom.another_student("Ana Lucia Martinez")[0]


def work(classroom: Classroom, assignment_id: str, student: Person, *, wrong: int) -> Result:
    """The student answers all but the first `wrong` tasks rightly and hands in."""
    database, now = classroom.database, datetime.now(UTC)
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=student, now=now)
    variant = practice.lab(database, attempt_id=attempt_id, student=student).variant
    right = right_answers(variant)
    answers = {task_id: right[task_id] for task_id in list(right)[wrong:]}
    lessons.hand_in(database, attempt_id=attempt_id, student=student, answers=answers, now=now)
    return classroom.result(attempt_id, student=student)


def downloaded(page: Page, link: Locator) -> tuple[str, bytes]:
    with page.expect_download() as download:
        link.click()
    return download.value.suggested_filename, Path(download.value.path()).read_bytes()


def test_the_gradebook_as_a_table_is_cell_by_cell_what_is_stored(
    windows: Windows, classroom: Classroom, second_student: Person
) -> None:
    titles = ['=HYPERLINK("x"), a title that is no formula', "Lab 2"]
    first, second = (classroom.assign(title=title, attempts_allowed=None) for title in titles)
    results = [
        work(classroom, first, classroom.student, wrong=3),
        work(classroom, first, classroom.student, wrong=1),
        work(classroom, second, second_student, wrong=0),
    ]
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/classes/{classroom.class_id}/gradebook")
    name, content = downloaded(page, page.get_by_role("link", name=re.compile("CSV")))
    assert re.fullmatch(r"gradebook-auto-2-period-3-\d{4}-\d\d-\d\d\.csv", name)

    heads, *rows = csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""))
    assert heads == [
        *("Student", "Sign-in name"),
        *(f"'{titles[0]} (out of 15)", f"'{titles[0]}: state"),
        *("Lab 2 (out of 15)", "Lab 2: state", "Total (percent)", "Total points", "Total out of"),
    ]
    book = gradebook(
        classroom.database,
        class_id=classroom.class_id,
        instructor=classroom.instructor,
        now=datetime.now(UTC),
    )
    assert [row[:2] for row in rows] == [[row.sort_name, row.sign_in_name] for row in book.rows]
    for shown, stored in zip(rows, book.rows, strict=True):
        points = [float(cell) if cell else None for cell in (shown[2], shown[4])]
        assert points == [cell.points for cell in stored.cells]
        assert [shown[3], shown[5]] == [cell.state.value for cell in stored.cells]
        assert float(shown[7]) == sum(cell.points or 0 for cell in stored.cells)
    by_student = {row[0]: row for row in rows}
    assert float(by_student["Okafor, Sam"][2]) == max(results[0].points, results[1].points)
    assert float(by_student["Martinez, Ana Lucia"][4]) == 15
    assert by_student["Martinez, Ana Lucia"][2] == ""


def test_the_reflection_packet_holds_each_students_words_beside_the_own_results(
    windows: Windows, classroom: Classroom, second_student: Person
) -> None:
    assignment_id = classroom.assign()
    result = work(classroom, assignment_id, classroom.student, wrong=1)
    reflections.save(
        classroom.database,
        assignment_id=assignment_id,
        student=classroom.student,
        prompt_id="senses",
        text=WRITTEN,
        now=datetime.now(UTC),
    )
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/assignments/{assignment_id}/reflections")
    expect(page.get_by_role("row").filter(has_text=second_student.display_name)).to_contain_text(
        "not written"
    )
    name, content = downloaded(page, page.get_by_role("link", name=re.compile("Packet")))
    assert name.startswith("reflection-lab-1-")
    check_the_packet(content, result, names=["Ana Lucia Martinez", "Sam Okafor"])

    page.get_by_role("link", name="Sam Okafor", exact=True).click()
    expect(page.get_by_text(WRITTEN)).to_be_visible()
    name, content = downloaded(page, page.get_by_role("link", name=re.compile("PDF")))
    assert "sam-okafor" in name
    check_the_packet(content, result, names=["Sam Okafor"])


def check_the_packet(content: bytes, result: Result, *, names: list[str]) -> None:
    reader = PdfReader(io.BytesIO(content))
    sheets = {
        str(mark["/Title"]): reader.get_destination_page_number(mark)
        for mark in reader.outline
        if isinstance(mark, dict)
    }
    assert [name for name in sheets if name in names] == names
    words = " ".join("".join(page.extract_text() for page in reader.pages[sheets["Sam Okafor"] :]).split())
    assert WRITTEN in words
    assert f"{result.points:g} of 15 points" in words
    for mark in result.marks:
        for text in (mark.your_answer, mark.right_answer):
            assert " ".join(text.split()) in words


def test_an_answer_in_words_is_marked_by_hand_and_the_student_reads_the_comment(
    windows: Windows, classroom: Classroom
) -> None:
    result = work(classroom, classroom.assign("four-assemblies"), classroom.student, wrong=0)
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/classes/{classroom.class_id}/gradebook")
    expect(page.get_by_role("row").filter(has_text="Okafor, Sam")).to_contain_text("1 to mark")
    page.goto(f"/teaching/attempts/{result.lab.attempt_id}")
    points = page.get_by_label("Points", exact=True)
    points.fill("nan")
    with windows.watch.refusing(422):
        page.get_by_role("button", name="Save this mark").click()
        expect(page.get_by_role("alert")).to_contain_text("Points: Enter a number")
    expect(points).to_have_value("nan")
    points.fill("3.5")
    page.get_by_label("Comment").fill("Say what to check after 50 miles.")
    page.get_by_role("button", name="Save this mark").click()
    expect(
        page.get_by_text(f"{result.points + 3.5:g} of {result.out_of:g} points", exact=True)
    ).to_be_visible()

    student = windows.open(classroom.card)
    student.goto(f"/labs/attempts/{result.lab.attempt_id}/result")
    expect(student.get_by_text("Say what to check after 50 miles.")).to_be_visible()
    expect(student.get_by_text("3.5 of 4", exact=True)).to_be_visible()
