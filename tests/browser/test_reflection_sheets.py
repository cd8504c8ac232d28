"""A reflection sheet in two windows at once, and its way to the instructor and back."""

import re

import pytest
from playwright.sync_api import expect

from app.services import reflections
from tests.browser import lab_page
from tests.browser.school import Classroom
from tests.browser.watch import Windows

pytestmark = pytest.mark.browser


def kept(classroom: Classroom, assignment_id: str) -> str:
    sheet = reflections.sheet(classroom.database, assignment_id=assignment_id, student=classroom.student)
    return sheet.prompts[0].response


def test_the_window_that_is_out_of_date_is_told_while_typing_and_both_texts_are_there_to_choose(
    windows: Windows, classroom: Classroom
) -> None:
    assignment_id = classroom.assign()
    address = f"/labs/assignments/{assignment_id}/reflection"
    first = windows.open(classroom.card)
    first.goto(address)
    second = first.context.new_page()
    second.goto(address)
    first.get_by_role("textbox").first.fill("Written in the first window.")
    expect(lab_page.save_state(first)).to_have_text(lab_page.SAVED)
    second.get_by_role("textbox").first.fill("Written in the second window.")
    expect(second.get_by_text("changed in another window")).to_be_visible()
    assert kept(classroom, assignment_id) == "Written in the first window."

    second.reload()
    beside = second.get_by_role("complementary", name="Kept beside your sheet")
    expect(beside).to_contain_text("Written in the second window.")
    beside.get_by_role("button", name="Use this text instead").click()
    expect(second.get_by_role("textbox").first).to_have_value("Written in the second window.")
    assert kept(classroom, assignment_id) == "Written in the second window."
    expect(beside).to_contain_text("Written in the first window.")
    beside.get_by_role("button", name="Throw this text away").click()
    expect(beside).to_have_count(0)


def test_a_sheet_goes_to_the_instructor_and_comes_back_to_be_written_again(
    windows: Windows, classroom: Classroom
) -> None:
    assignment_id = classroom.assign()
    student = windows.open(classroom.card)
    student.goto(f"/labs/assignments/{assignment_id}/reflection")
    student.get_by_role("textbox").first.fill("It feels the pull.")
    student.get_by_role("button", name="Hand in").click()
    expect(student.get_by_text("Your reflection sheet is handed in.")).to_be_visible()

    instructor = windows.open(classroom.instructor_card)
    instructor.goto(f"/teaching/assignments/{assignment_id}/reflections")
    instructor.get_by_role("link", name="Read the next one handed in").click()
    expect(instructor.get_by_text("It feels the pull.")).to_be_visible()
    instructor.get_by_label("Comment").fill("Say what it can't feel.")
    instructor.get_by_role("button", name="Ask to write again").click()
    expect(instructor.get_by_text(re.compile("is asked to write again"))).to_be_visible()

    student.reload()
    expect(student.get_by_text("Say what it can't feel.").first).to_be_visible()
    student.get_by_role("textbox").first.fill("It feels the pull, not the width.")
    student.get_by_role("button", name="Hand in").click()
    expect(student.get_by_role("textbox")).to_have_count(0)
    assert kept(classroom, assignment_id) == "It feels the pull, not the width."
