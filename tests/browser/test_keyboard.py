"""Everything with the keyboard alone: Tab, Enter, Space, arrows and typing; no mouse, no finger."""

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from app.services import assignments, classes
from tests.browser import lab_page
from tests.browser.keyboard import Keyboard
from tests.browser.school import Classroom
from tests.browser.watch import Windows, flash_of
from tests.services import lessons
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser


def test_a_student_works_a_whole_lab(windows: Windows, classroom: Classroom) -> None:
    classroom.assign("four-assemblies", title="Lab 3: A set of four")
    page = windows.open()
    keys = Keyboard(page)
    page.goto("/sign-in")
    keys.to(page.get_by_label("Sign-in name")).type(classroom.card.sign_in_name)
    keys.to(page.get_by_label("Pass phrase", exact=True)).type(classroom.card.pass_phrase).press("Enter")
    expect(page.get_by_role("heading", name="Your labs")).to_be_visible()
    keys.open(page.get_by_role("link", name="Skip to the sheet"))
    keys.open(page.get_by_role("main").get_by_role("link", name="Open"))
    expect(page.get_by_role("heading", name="Before you start")).to_be_visible()
    keys.open(page.get_by_role("button", name="Start the lab"))
    expect(page.get_by_role("heading", name="Job card")).to_be_visible()

    lab = classroom.lab(lab_page.attempt_id_of(page))
    answers = right_answers(lab.variant)
    for task in lab.variant.scenario.tasks:
        keys.give(task, lab.variant, answers[task.id])
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    assert classroom.lab(lab.attempt_id).answers == answers

    keys.to(lab_page.field(page, lab.variant.scenario.tasks[0], lab.variant), "Shift+Tab")
    keys.open(page.get_by_role("button", name="Check and hand in"))
    page.wait_for_url("**/hand-in")
    keys.open(page.get_by_role("button", name="Hand in", exact=True))
    page.wait_for_url("**/result")
    expect(page.get_by_text(re.compile(r"points, 1 to be marked"))).to_be_visible()
    result = classroom.result(lab.attempt_id)
    assert result.points == result.out_of - 4
    keys.open(page.get_by_role("link", name="Write the reflection sheet"))
    box = page.get_by_label("You read ages first")
    keys.to(box).type("The order matters.\nBalancing comes last.")
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    keys.open(page.get_by_role("button", name="Save"))
    expect(flash_of(page)).to_contain_text("Your reflection sheet is saved.")
    expect(box).to_have_value("The order matters.\nBalancing comes last.")


def test_an_instructor_makes_a_class_and_gives_it_a_lab(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.instructor_card)
    keys = Keyboard(page)
    page.goto("/teaching")
    keys.open(page.get_by_role("link", name="Make a class"))
    keys.to(page.get_by_label("Name of the class")).type("Auto 4")
    keys.to(page.get_by_label("Time zone")).type("Mountain (D")
    keys.into(page.get_by_role("group", name="Units on the screen")).press("ArrowDown")
    keys.open(page.get_by_role("button", name="Make the class"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Auto 4")

    keys.open(page.get_by_role("link", name="Add students"))
    keys.to(page.get_by_label("Students, one a line")).type("Bo Diaz\nAnn Lee")
    keys.open(page.get_by_role("button", name="Check the list"))
    keys.open(page.get_by_role("button", name="Add 2 students and show the cards"))
    expect(page.get_by_role("heading", name="Bo Diaz")).to_be_visible()
    keys.open(page.get_by_role("link", name="Done: back to the class"))
    keys.open(page.get_by_role("main").get_by_role("link", name="Scenarios"))
    keys.open(page.get_by_role("link", name="One assembly on the balancer"))
    keys.open(page.get_by_role("link", name="Draw another"))
    expect(page.get_by_role("heading", name="Sample 2")).to_be_visible()
    keys.open(page.get_by_role("link", name="Give to a class"))
    keys.to(page.get_by_label("Class", exact=True)).type("Auto 4")
    keys.to(page.get_by_label("Title")).replace("Lab by keys")
    type_a_time(keys.to(page.get_by_label("Opens")), "12", "01", "2031", "08", "05", "A")
    type_a_time(keys.to(page.get_by_label("Due")), "12", "31", "2031", "11", "30", "P")
    keys.to(page.get_by_label("Attempts allowed")).replace("3")
    keys.open(page.get_by_role("button", name="Give to the class"))
    expect(flash_of(page)).to_contain_text("Lab by keys is given to the class.")

    rows = classes.classes_of(classroom.database, instructor=classroom.instructor)
    made = next(row for row in rows if row.name == "Auto 4")
    assert (made.time_zone, made.units, made.students) == ("America/Denver", "metric", 2)
    (given,) = assignments.of_class(
        classroom.database, class_id=made.public_id, instructor=classroom.instructor
    )
    assert given.attempts_allowed == 3
    assert given.opens_at == datetime(2031, 12, 1, 8, 5, tzinfo=ZoneInfo("America/Denver"))
    assert given.due_at == datetime(2031, 12, 31, 23, 30, tzinfo=ZoneInfo("America/Denver"))


def type_a_time(keys: Keyboard, month: str, day: str, year: str, hour: str, minute: str, half: str) -> None:
    """Into the parts of a browser's own field for a day and time, in the order of the United States."""
    keys.type(month + day + year)
    keys.press("ArrowRight")
    keys.type(hour + minute + half)


def test_an_instructor_marks_an_answer_in_words(windows: Windows, classroom: Classroom) -> None:
    attempt_id = classroom.start(classroom.assign("four-assemblies"))
    lessons.hand_in(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers={"customer": "I balanced all four."},
        now=datetime.now(UTC),
    )
    page = windows.open(classroom.instructor_card)
    keys = Keyboard(page)
    page.goto(f"/teaching/classes/{classroom.class_id}/gradebook")
    keys.to(page.get_by_role("gridcell").nth(1))
    page.keyboard.press("End")
    page.keyboard.press("Enter")
    keys.open(page.get_by_role("link", name="Look at the attempt"))
    expect(page.get_by_role("heading", name="Sam Okafor")).to_be_visible()
    keys.to(page.get_by_label("Points", exact=True)).replace("9")
    with windows.watch.refusing(422):
        keys.open(page.get_by_role("button", name="Save this mark"))
        expect(page.get_by_role("alert")).to_be_focused()
    keys.open(page.get_by_role("alert").get_by_role("link"))
    expect(page.get_by_label("Points", exact=True)).to_be_focused()
    keys.replace("2.5")
    keys.to(page.get_by_label("Comment")).type("Say why.")
    keys.open(page.get_by_role("button", name="Save this mark"))
    expect(page.get_by_text("2.5 of 4", exact=True)).to_be_visible()
