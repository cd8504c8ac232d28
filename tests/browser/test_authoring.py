"""An instructor who has never seen a file writes a scenario in the browser, and a student works it."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser import lab_page
from tests.browser.keyboard import Keyboard
from tests.browser.lab_page import touch
from tests.browser.school import Classroom
from tests.browser.watch import Windows, flash_of
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

TITLE = "One weight for a small car"


def fill(page: Page, label: str, text: str) -> None:
    page.get_by_label(label, exact=True).fill(text)


def saved(page: Page) -> None:
    expect(page.locator("[data-save-state]")).to_have_text("Saved")


def open_sheet(page: Page, name: str) -> None:
    touch(page.get_by_role("link", name=name, exact=True))
    expect(page.get_by_role("button", name="Save", exact=True)).to_be_visible()


def to_the_outline(page: Page) -> None:
    touch(page.get_by_role("button", name="Save and go to the outline"))
    expect(page.get_by_role("heading", name="Parts and tasks")).to_be_visible()


def drawn(page: Page, legend: str) -> Locator:
    return page.get_by_role("group", name=re.compile(rf"^{legend}"))


def new_task(page: Page, gives: str, title: str, question: str) -> None:
    offered = page.get_by_role("button", name=gives, exact=True)
    if not offered.is_visible():
        touch(page.get_by_text("Add a task to part 1"))
    touch(offered)
    expect(page.get_by_text(f"The student gives {gives}.")).to_be_visible()
    fill(page, "Title", title)
    fill(page, "Question", question)


def test_a_scenario_of_four_tasks_from_blank_to_full_marks(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.instructor_card)
    begin(page)
    write_what_it_is_about(page)
    write_the_assembly(page)
    write_the_part(page)
    write_four_tasks(page)
    check_and_publish(page)
    give_it_to_the_class(page)
    work_it_with_full_marks(windows, classroom)


def begin(page: Page) -> None:
    page.goto("/teaching/scenarios")
    touch(page.get_by_role("link", name="Write a scenario"))
    fill(page, "Title", TITLE)
    touch(page.get_by_role("button", name="Begin the draft"))
    expect(page.get_by_role("heading", level=1)).to_have_text(TITLE)


def write_what_it_is_about(page: Page) -> None:
    open_sheet(page, "What it is about")
    fill(page, "Summary", "One heavy spot, one weight.")
    page.get_by_label("Level").select_option("first steps")
    fill(page, "Skills", "opposite to the heavy spot\nreading a shelf")
    page.get_by_role("group", name="Cautions").get_by_role("checkbox").first.check()
    saved(page)
    to_the_outline(page)
    open_sheet(page, "Teacher’s page")
    fill(page, "Aim", "Students put a weight opposite to the heavy spot.")
    fill(page, "What students know before", "The clock face.")
    fill(page, "Common mistakes", "The weight at the heavy spot.")
    fill(page, "To discuss", "Why half a turn?")
    saved(page)
    to_the_outline(page)


def write_the_assembly(page: Page) -> None:
    """The drawing beside the form follows what is typed; what can't be read is told at its field and kept."""
    open_sheet(page, "Assembly A")
    preview = page.get_by_role("complementary", name="What students get")
    expect(preview.get_by_text("Tread", exact=False).first).to_be_visible()
    fill(page, "Name", "Sidewall label")
    expect(preview.get_by_text("Sidewall label", exact=False).first).to_be_visible()
    mass = drawn(page, "Mass")
    mass.get_by_label("From", exact=False).fill("a lot")
    expect(mass.get_by_text("From: Enter a number, like 12.5.")).to_be_visible()
    page.reload()
    expect(mass.get_by_label("From", exact=False)).to_have_value("a lot")
    mass.get_by_label("From", exact=False).fill("20")
    expect(mass.get_by_text("Enter a number")).to_have_count(0)
    saved(page)
    to_the_outline(page)


def write_the_part(page: Page) -> None:
    open_sheet(page, "Part 1: What is heavy")
    fill(page, "Text", "One place is **heavier** than the rest.")
    saved(page)
    to_the_outline(page)


def write_four_tasks(page: Page) -> None:
    new_task(page, "a value", "What is heavy", "Toward which angle does the static unbalance pull?")
    choose_the_key(page, "Direction of the static unbalance")
    fill(page, "Plus or minus", "6")
    key = page.get_by_role("complementary", name="What students get")
    expect(key.get_by_role("definition")).to_contain_text("°")
    to_the_outline(page)

    new_task(page, "a value", "One weight", "Which mass at the inboard plane takes it away?")
    choose_the_key(page, "One weight at the inboard radius that takes away the static unbalance")
    fill(page, "Or as a share of the right value", "0.06")
    to_the_outline(page)

    new_task(page, "a value", "Where it goes", "At which angle does the weight go?")
    choose_the_key(page, "Where that one weight goes")
    fill(page, "Plus or minus", "5")
    page.get_by_label("1.1 What is heavy").check()
    to_the_outline(page)

    new_task(page, "one of several", "Why there", "Why does the weight go there?")
    first, second = (drawn(page, f"Option {place}") for place in (1, 2))
    first.get_by_label("Text").fill("Opposite to what is heavy, both pulls cancel")
    second.get_by_label("Text").fill("It looks better there")
    touch(page.get_by_role("button", name="Save", exact=True))
    page.get_by_label("The right option").select_option("Opposite to what is heavy, both pulls cancel")
    to_the_outline(page)


def choose_the_key(page: Page, words: str) -> None:
    page.get_by_label("Quantity").select_option(words)
    page.get_by_label("Of", exact=True).select_option("assembly A")


def check_and_publish(page: Page) -> None:
    expect(page.get_by_role("definition")).to_have_text("complete")
    touch(page.get_by_role("link", name="Check and publish"))
    touch(page.get_by_role("button", name="Publish"))
    expect(flash_of(page)).to_contain_text(f"{TITLE} is published as version 1.")


def give_it_to_the_class(page: Page) -> None:
    touch(page.get_by_role("link", name="Give to a class"))
    touch(page.get_by_role("button", name="Give to the class"))
    expect(flash_of(page)).to_contain_text("is given to the class")


def work_it_with_full_marks(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.card)
    page.goto("/labs")
    touch(page.get_by_role("main").get_by_role("link", name="Open"))
    touch(page.get_by_role("button", name="Start the lab"))
    lab = classroom.lab(lab_page.attempt_id_of(page))
    assert len(lab.variant.scenario.tasks) == 4
    lab_page.give_all(page, lab.variant, right_answers(lab.variant))
    lab_page.hand_in(page)
    result = classroom.result(lab.attempt_id)
    assert (result.points, result.out_of) == (4, 4)
    expect(page.get_by_text("4 of 4 points")).to_be_visible()


def test_a_task_is_written_with_the_keyboard_alone(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.instructor_card)
    keys = Keyboard(page)
    page.goto("/teaching/scenarios/drafts")
    keys.to(page.get_by_label("Title", exact=True)).type(TITLE)
    keys.open(page.get_by_role("button", name="Begin the draft"))
    expect(page.get_by_role("heading", name="Parts and tasks")).to_be_visible()

    keys.open(page.get_by_role("button", name="a value", exact=True))
    keys.to(page.get_by_label("Title", exact=True)).type("Where it goes")
    keys.to(page.get_by_label("Question", exact=True)).type("At which angle does one weight go?")
    keys.to(page.get_by_label("Quantity")).type("Where that one")
    keys.to(page.get_by_label("Of", exact=True)).type("assembly A")
    keys.to(page.get_by_label("Plus or minus", exact=True)).replace("5")
    saved(page)
    expect(page.get_by_role("definition")).to_contain_text("°")
    keys.open(page.get_by_role("button", name="Add a hint"))
    keys.to(page.get_by_label("Hint", exact=True)).type("Opposite to what is heavy.")
    saved(page)
    keys.to(page.get_by_role("button", name="Save and go to the outline"), "Shift+Tab").press("Enter")
    expect(page.get_by_role("link", name="Task 1.1: Where it goes")).to_be_visible()

    keys.open(page.get_by_role("button", name=re.compile(r"^Copy ?: Task 1\.1: Where it goes")))
    keys.to(page.get_by_label("Title", exact=True)).replace("And the other")
    saved(page)
    keys.to(page.get_by_role("button", name="Save and go to the outline"), "Shift+Tab").press("Enter")
    keys.open(page.get_by_role("button", name=re.compile(r"^Up ?: Task 1\.2: And the other")))
    expect(page.get_by_role("link", name="Task 1.1: And the other")).to_be_visible()
    keys.open(page.get_by_role("button", name=re.compile(r"^Remove ?: Task 1\.2: Where it goes")))
    expect(page.get_by_role("link", name=re.compile("Where it goes"))).to_have_count(0)


def test_the_window_that_is_out_of_date_is_told_and_loses_nothing(
    windows: Windows, classroom: Classroom
) -> None:
    first = windows.open(classroom.instructor_card)
    begin(first)
    outline, second = first.url, first.context.new_page()
    for page in (first, second):
        page.goto(outline)
        open_sheet(page, "What it is about")
    fill(first, "Summary", "From the first window")
    saved(first)
    with windows.watch.refusing(409):
        fill(second, "Summary", "From the second window")
        expect(second.locator("[data-save-state]")).to_contain_text("another window")
        touch(second.get_by_role("button", name="Save", exact=True))
        expect(second.get_by_role("alert")).to_contain_text("another window")
    expect(second.get_by_label("Summary")).to_have_value("From the second window")
    touch(second.get_by_role("button", name="Save", exact=True))
    second.wait_for_url("**faults=1")
    first.reload()
    expect(first.get_by_label("Summary")).to_have_value("From the second window")
