"""What was typed while nothing could be saved waits in the browser for the student who typed it, and for
nobody else on the same tablet."""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect

from app.services import practice, reflections
from app.services.accounts import Person
from app.services.cards import Card
from tests.browser import lab_page
from tests.browser.school import Classroom, new_classroom
from tests.browser.server import Server
from tests.browser.watch import Windows, sign_in_quietly

pytestmark = pytest.mark.browser

NOT_SAVED = re.compile("Not saved yet")
STOPPED = re.compile("signed out; what you type is not saved")
TYPED = "It shook at 60, and no more now."


def another(page: Page, card: Card) -> None:
    """The tablet goes to another student: all that stays is what the browser keeps."""
    page.context.clear_cookies()
    sign_in_quietly(page.context, card)


def box_of_first_prompt(page: Page, assignment_id: str):  # type: ignore[no-untyped-def]
    page.goto(f"/labs/assignments/{assignment_id}/reflection")
    return page.locator("[data-answer] textarea").first


def written(classroom: Classroom, assignment_id: str, student: Person) -> str:
    sheet = reflections.sheet(classroom.database, assignment_id=assignment_id, student=student)
    return sheet.prompts[0].response


def test_a_page_that_was_closed_while_the_server_was_away_sends_its_answers_when_it_is_opened_again(
    own_server: Server, own_windows: Windows
) -> None:
    classroom = new_classroom(own_server.database)
    attempt_id = classroom.start(classroom.assign())
    page = own_windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt_id}")
    lab = classroom.lab(attempt_id)
    size, choice = (lab.variant.scenario.task(name) for name in ("static-size", "why-two"))
    assert size
    assert choice
    page.wait_for_load_state("networkidle")  # the page is whole, with its scripts, before the server goes
    with own_windows.watch.server_away():
        own_server.kill()
        lab_page.field(page, size, lab.variant).fill("7.5 oz.in")
        lab_page.option(page, choice, "couple").check()
        expect(lab_page.save_state(page)).to_have_text(NOT_SAVED)
        page.close(run_before_unload=False)
        own_server.start()
    again = page.context.new_page()
    again.goto(f"/labs/attempts/{attempt_id}")
    expect(lab_page.field(again, size, lab.variant)).to_have_value("7.5 oz.in")
    expect(lab_page.option(again, choice, "couple")).to_be_checked()
    expect(lab_page.save_state(again)).to_have_text(lab_page.SAVED)
    assert classroom.lab(attempt_id).answers == {"static-size": "7.5 oz.in", "why-two": "couple"}
    again.reload()
    assert again.evaluate("Object.keys(localStorage)") == []


def test_what_was_typed_after_a_sign_in_was_over_is_sent_later_and_never_under_another_name(
    windows: Windows, classroom: Classroom
) -> None:
    assignment_id = classroom.assign()
    other, other_card = classroom.another_student("Bo Diaz")
    for student in (classroom.student, other):
        practice.start_attempt(
            classroom.database, assignment_id=assignment_id, student=student, now=datetime.now(UTC)
        )
    page = windows.open(classroom.card)
    box = box_of_first_prompt(page, assignment_id)
    page.context.clear_cookies()
    with windows.watch.refusing(401):
        box.fill(TYPED)
        expect(lab_page.save_state(page)).to_have_text(STOPPED)

    another(page, other_card)
    page.on("dialog", lambda dialog: dialog.accept())
    box = box_of_first_prompt(page, assignment_id)
    expect(box).to_have_value("")
    assert written(classroom, assignment_id, other) == ""

    another(page, classroom.card)
    box = box_of_first_prompt(page, assignment_id)
    expect(box).to_have_value(TYPED)
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    assert written(classroom, assignment_id, classroom.student) == TYPED
    assert written(classroom, assignment_id, other) == ""


def test_a_draft_does_not_replace_what_another_device_has_saved_since(
    windows: Windows, classroom: Classroom
) -> None:
    attempt_id = classroom.start(classroom.assign())
    lab = classroom.lab(attempt_id)
    task = lab.variant.scenario.task("static-size")
    assert task
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt_id}")
    page.context.clear_cookies()
    with windows.watch.refusing(401):
        lab_page.field(page, task, lab.variant).fill("1 oz.in")
        expect(lab_page.save_state(page)).to_have_text(STOPPED)
    practice.save_answers(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers={task.id: "2 oz.in"},
        now=datetime.now(UTC),
    )
    another(page, classroom.card)
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto(f"/labs/attempts/{attempt_id}")
    expect(lab_page.field(page, task, lab.variant)).to_have_value("2 oz.in")
    expect(page.get_by_text("Here you had typed")).to_contain_text("1 oz.in")
    assert classroom.lab(attempt_id).answers == {task.id: "2 oz.in"}


def test_who_types_without_a_stop_is_saved_meanwhile(windows: Windows, classroom: Classroom) -> None:
    attempt_id = classroom.start(classroom.assign())
    lab = classroom.lab(attempt_id)
    task = lab.variant.scenario.task("static-size")
    assert task
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt_id}")
    with page.expect_request("**/answer", timeout=2_000):
        lab_page.field(page, task, lab.variant).press_sequentially("1.25 oz.in " * 2, delay=100)
