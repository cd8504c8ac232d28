"""Without JavaScript every page still works: labs are saved and handed in, and given to a class."""

import re

import pytest
from playwright.sync_api import Page, expect

from app.domain.tasks import ChoiceTask, PlacementTask
from tests.browser import lab_page
from tests.browser.school import Classroom, scenario_id
from tests.browser.watch import DESK, Windows, flash_of
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("slug", ["two-plane-balance", "four-assemblies"])
def test_a_student_saves_and_hands_in(windows: Windows, classroom: Classroom, slug: str) -> None:
    attempt_id = classroom.start(classroom.assign(slug))
    variant = classroom.lab(attempt_id).variant
    answers = right_answers(variant)
    page = windows.open(classroom.card, javascript=False)
    page.goto(f"/labs/attempts/{attempt_id}")
    for task in variant.scenario.tasks:
        lab_page.give(page, task, variant, answers[task.id])
    save(page)
    assert classroom.lab(attempt_id).answers == answers
    for task in variant.scenario.tasks:
        if isinstance(task, ChoiceTask):
            expect(lab_page.option(page, task, str(answers[task.id]))).to_be_checked()
        elif not isinstance(task, PlacementTask):
            expect(lab_page.field(page, task, variant)).to_have_value(str(answers[task.id]))
    lab_page.hand_in(page)
    waiting = ", 1 to be marked" if slug == "four-assemblies" else ""
    out_of = variant.scenario.out_of
    earned = out_of - 4 if waiting else out_of
    expect(page.get_by_text(f"{earned:g} of {out_of:g} points{waiting}", exact=True)).to_be_visible()


def save(page: Page) -> None:
    page.get_by_role("button", name="Save").click()
    expect(flash_of(page)).to_contain_text("Your answers are saved.")


def test_an_unreadable_answer_is_kept_and_shown_with_its_fault(
    windows: Windows, classroom: Classroom
) -> None:
    attempt_id = classroom.start(classroom.assign())
    variant = classroom.lab(attempt_id).variant
    task = variant.scenario.tasks[0]
    page = windows.open(classroom.card, javascript=False)
    page.goto(f"/labs/attempts/{attempt_id}")
    box = lab_page.field(page, task, variant)
    box.fill("a lot")
    with windows.watch.refusing(422):
        page.get_by_role("button", name="Save").click()
        page.get_by_role("alert").get_by_role("link", name=re.compile(task.title)).click()
    expect(box).to_be_focused()
    expect(box).to_have_value("a lot")
    expect(page.get_by_text("“a lot” is not a number. Type it like 8.9 oz.in.", exact=True)).to_be_visible()
    assert classroom.lab(attempt_id).answers == {task.id: "a lot"}


def test_an_instructor_gives_a_lab_to_a_class(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.instructor_card, size=DESK, javascript=False)
    page.goto(f"/teaching/scenarios/{scenario_id(classroom.database, 'two-plane-balance')}")
    page.get_by_role("link", name="Give to a class").click()
    page.get_by_label("Title").fill("Lab by hand")
    page.get_by_role("button", name="Give to the class").click()
    expect(flash_of(page)).to_contain_text("Lab by hand is given to the class.")
    student = windows.open(classroom.card, javascript=False)
    student.goto("/labs")
    expect(student.get_by_role("heading", name="Lab by hand")).to_be_visible()


def test_a_student_writes_the_reflection_sheet(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.card, javascript=False)
    page.goto(f"/labs/assignments/{classroom.assign()}/reflection")
    box = page.get_by_label("what does the balancer feel")
    box.fill("It feels the pull.\n\nOnly that.")
    page.get_by_role("button", name="Save").click()
    expect(flash_of(page)).to_contain_text("Your reflection sheet is saved.")
    expect(box).to_have_value("It feels the pull.\n\nOnly that.")
