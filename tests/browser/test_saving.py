"""Saving while a student types: the page says how things stand, and the newest answer is what is kept."""

import contextlib
import re
import time

import pytest
from playwright.sync_api import Error, Page, Route, expect

from app.domain.tasks import AnyTask
from app.services.labs import Lab
from tests.browser import lab_page
from tests.browser.school import Classroom, new_classroom
from tests.browser.server import Server
from tests.browser.watch import Windows, flash_of, sign_in_quietly

pytestmark = pytest.mark.browser

LONGEST_WAY_SECONDS = 10
NOT_SAVED = re.compile("Not saved yet")


def open_lab(windows: Windows, classroom: Classroom) -> tuple[Page, Lab]:
    attempt_id = classroom.start(classroom.assign())
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt_id}")
    return page, classroom.lab(attempt_id)


def task_of(lab: Lab, task_id: str = "static-size") -> AnyTask:
    task = lab.variant.scenario.task(task_id)
    assert task
    return task


def test_while_the_server_is_away_the_page_says_so_and_then_saves_the_newest_answer(
    own_server: Server, own_windows: Windows
) -> None:
    classroom = new_classroom(own_server.database)
    page, lab = open_lab(own_windows, classroom)
    box = lab_page.field(page, task_of(lab), lab.variant)
    other = lab_page.field(page, task_of(lab, "single-mass"), lab.variant)
    box.fill("1 oz.in")
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    with own_windows.watch.server_away():
        own_server.kill()
        box.fill("2 oz.in")
        expect(lab_page.save_state(page)).to_have_text(NOT_SAVED)
        box.fill("3 oz.in")
        other.fill("1.5 oz")
        expect(lab_page.save_state(page)).not_to_have_text(lab_page.SAVED)
        own_server.start()
        expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED, timeout=30_000)
    assert classroom.lab(lab.attempt_id).answers == {"static-size": "3 oz.in", "single-mass": "1.5 oz"}
    page.reload()
    expect(box).to_have_value("3 oz.in")


def test_leaving_with_an_unsaved_answer_asks_first(own_server: Server, own_windows: Windows) -> None:
    classroom = new_classroom(own_server.database)
    page, lab = open_lab(own_windows, classroom)
    asked: list[str] = []

    def stay(dialog: object) -> None:
        asked.append(dialog.type)  # type: ignore[attr-defined]
        dialog.dismiss()  # type: ignore[attr-defined]

    page.on("dialog", stay)
    box = lab_page.field(page, task_of(lab), lab.variant)
    box.press_sequentially("1")  # a browser asks only where somebody has typed
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    with own_windows.watch.server_away():
        own_server.kill()
        box.press_sequentially("2 oz.in")
        expect(lab_page.save_state(page)).to_have_text(NOT_SAVED)
        page.get_by_role("link", name="About this lab").click(no_wait_after=True)
        expect(box).to_have_value("12 oz.in")
        assert asked == ["beforeunload"]
        own_server.start()
        expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED, timeout=30_000)
    assert classroom.lab(lab.attempt_id).answers["static-size"] == "12 oz.in"


def test_an_answer_typed_just_before_the_page_is_left_is_kept(windows: Windows, classroom: Classroom) -> None:
    page, lab = open_lab(windows, classroom)
    lab_page.field(page, task_of(lab), lab.variant).fill("7.5 oz.in")
    page.goto("/labs")  # at once: before the pause after which an answer is saved
    until = time.monotonic() + LONGEST_WAY_SECONDS
    while not classroom.lab(lab.attempt_id).answers and time.monotonic() < until:
        time.sleep(0.02)
    page.goto(f"/labs/attempts/{lab.attempt_id}")
    expect(lab_page.field(page, task_of(lab), lab.variant)).to_have_value("7.5 oz.in")


def test_what_is_typed_before_the_script_has_come_is_saved_with_it(
    windows: Windows, classroom: Classroom
) -> None:
    attempt_id = classroom.start(classroom.assign())
    page = windows.open(classroom.card)
    held: list[Route] = []
    page.route("**/autosave*.js", lambda route: held.append(route))
    with page.expect_request("**/autosave*.js"):
        page.goto(f"/labs/attempts/{attempt_id}", wait_until="commit")
    lab = classroom.lab(attempt_id)
    lab_page.field(page, task_of(lab), lab.variant).fill("7.5 oz.in")
    for route in held:
        route.continue_()
    assert held
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    assert classroom.lab(attempt_id).answers == {"static-size": "7.5 oz.in"}


def test_an_older_answer_that_is_slow_on_its_way_does_not_come_after_the_newer_one(
    windows: Windows, classroom: Classroom
) -> None:
    page, lab = open_lab(windows, classroom)
    slow: list[Route] = []
    page.context.route("**/answer", lambda route: route.continue_() if slow else slow.append(route))
    box = lab_page.field(page, task_of(lab), lab.variant)
    with page.expect_request("**/answer"):
        box.fill("1 oz.in")
    box.fill("2 oz.in")
    with windows.watch.server_away():
        page.goto("/labs")
        with contextlib.suppress(Error):  # the browser may have given it up by itself
            slow[0].continue_()
    page.goto(f"/labs/attempts/{lab.attempt_id}")
    page.wait_for_load_state("networkidle")
    assert classroom.lab(lab.attempt_id).answers == {"static-size": "2 oz.in"}


def test_an_answer_typed_just_before_handing_in_is_marked(windows: Windows, classroom: Classroom) -> None:
    page, lab = open_lab(windows, classroom)
    lab_page.option(page, task_of(lab, "why-two"), "couple").check()
    box = lab_page.field(page, task_of(lab), lab.variant)
    box.fill("7.5 oz.in")
    box.press("Enter")  # as good as the button
    page.wait_for_url("**/hand-in")
    expect(page.get_by_text("2 of 11 answered")).to_be_visible()
    page.get_by_role("button", name="Hand in with 9 blank").click()
    shown = lab_page.marked(page, task_of(lab), lab.variant)
    expect(shown.get_by_role("definition").first).to_contain_text("7.5")


def test_after_a_sign_out_in_another_tab_the_page_says_so_and_nothing_typed_is_lost(
    windows: Windows, classroom: Classroom
) -> None:
    page, lab = open_lab(windows, classroom)
    page.on("dialog", lambda dialog: dialog.dismiss())  # where it asks, the page is not left
    other_tab = page.context.new_page()
    other_tab.goto("/labs")
    other_tab.get_by_role("button", name="Sign out").click()
    expect(other_tab.get_by_role("heading", name="Sign in")).to_be_visible()
    with windows.watch.refusing(401):
        lab_page.field(page, task_of(lab), lab.variant).press_sequentially("7.5 oz.in")
        expect(lab_page.save_state(page)).to_contain_text("signed out; what you type is not saved")
    assert classroom.lab(lab.attempt_id).answers == {}

    lab_page.option(page, task_of(lab, "why-two"), "couple").check()
    sign_in_quietly(page.context, classroom.card)
    save = page.get_by_role("button", name="Save")
    with windows.watch.refusing(422):  # the page's token was that of the earlier sign-in
        save.click()
        expect(page.get_by_role("alert")).to_contain_text("Your entries are kept; press the button again")
    save.click()
    expect(flash_of(page)).to_contain_text("Your answers are saved.")
    assert classroom.lab(lab.attempt_id).answers == {"static-size": "7.5 oz.in", "why-two": "couple"}


def test_a_lab_handed_in_from_another_tab_takes_no_more_answers(
    windows: Windows, classroom: Classroom
) -> None:
    page, lab = open_lab(windows, classroom)
    other_tab = page.context.new_page()
    other_tab.goto(page.url)
    lab_page.hand_in(other_tab)
    with windows.watch.refusing(422):
        lab_page.field(page, task_of(lab), lab.variant).fill("7.5 oz.in")
        expect(lab_page.save_state(page)).to_contain_text("This lab is handed in")
    assert classroom.lab(lab.attempt_id).answers == {}


def test_what_cannot_be_undone_is_asked_first(windows: Windows, classroom: Classroom) -> None:
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/classes/{classroom.class_id}")
    press = page.get_by_role("button", name="New cards for everyone")
    dialog = page.get_by_role("dialog", name="New cards for everyone?")
    press.click()
    expect(dialog).to_contain_text("Every card of this class stops working")
    expect(dialog.get_by_role("button", name="Keep it")).to_be_focused()
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(press).to_be_focused()
    press.click()
    dialog.get_by_role("button", name="Keep it").click()
    expect(dialog).to_be_hidden()
    student = windows.open(classroom.card)  # the old card still works
    press.click()
    dialog.get_by_role("button", name="Make new cards").click()
    expect(page.get_by_role("heading", name="Sign-in cards")).to_be_visible()
    student.goto("/labs")
    expect(student.get_by_role("heading", name="Sign in")).to_be_visible()
