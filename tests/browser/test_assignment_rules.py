"""The rules of an assignment in a browser: the clock, what late costs, an exception, what comes first."""

import re
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import expect

from app.services import assignments, practice
from tests.browser.lab_page import SAVED, field, hand_in, save_state
from tests.browser.looks import require_no_fault
from tests.browser.school import Classroom, scenario_id
from tests.browser.watch import PHONE, Windows, flash_of
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

DAY = timedelta(days=1)


def assign(classroom: Classroom, **rules: Any) -> str:
    """An assignment that opened five days ago and is due in two."""
    now = datetime.now(UTC)
    return assignments.assign(
        classroom.database,
        class_id=classroom.class_id,
        instructor=classroom.instructor,
        scenario_id=scenario_id(classroom.database, "two-plane-balance"),
        now=now,
        **(
            {"title": "Lab 1", "opens_at": now - 5 * DAY, "due_at": now + 2 * DAY, "attempts_allowed": None}
            | rules
        ),
    )


def test_a_timed_lab_counts_down_and_is_handed_in_with_what_is_saved(
    windows: Windows, classroom: Classroom
) -> None:
    """It was begun 50 seconds ago and lasts a minute."""
    assignment_id = assign(classroom, minutes=1)
    attempt_id = practice.start_attempt(
        classroom.database,
        assignment_id=assignment_id,
        student=classroom.student,
        now=datetime.now(UTC) - timedelta(seconds=50),
    )
    lab = classroom.lab(attempt_id)
    right = right_answers(lab.variant)
    page = windows.open(classroom.card, size=PHONE, touch=True)
    page.goto(f"/labs/attempts/{attempt_id}")
    clock = page.get_by_role("timer")
    expect(clock).to_have_text(re.compile(r"^0:0\d left$"))
    [angle, size] = [
        task for task in lab.variant.scenario.tasks if task.id in ("static-angle", "static-size")
    ]
    field(page, angle, lab.variant).fill(str(right[angle.id]))
    expect(save_state(page)).to_have_text(SAVED)
    field(page, size, lab.variant).fill(str(right[size.id]))
    expect(clock).to_have_text("Time is up. Handing in…", timeout=20_000)
    page.wait_for_url("**/result", timeout=30_000)
    expect(page.get_by_text("The time limit ended")).to_be_visible()
    result = classroom.result(attempt_id)
    assert {mark.task_id: mark.points for mark in result.marks if mark.points} == {
        "static-size": 2,
        "static-angle": 2,
    }, "what was typed last was saved within the time"
    require_no_fault(page)


def test_what_being_late_costs_is_said_before_and_explained_after(
    windows: Windows, classroom: Classroom
) -> None:
    """A day and an hour late is two days begun: 15 points less 20 % are 12."""
    late = DAY + timedelta(hours=1)
    assignment_id = assign(classroom, due_at=datetime.now(UTC) - late, late_percent_per_day=10.0)
    page = windows.open(classroom.card)
    page.goto(f"/labs/assignments/{assignment_id}")
    expect(page.get_by_text("each day begun costs 10 % of its points")).to_be_visible()
    page.get_by_role("button", name="Start the lab").click()
    attempt_id = page.url.rpartition("/")[2]
    practice.save_answers(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers=right_answers(classroom.lab(attempt_id).variant),
        now=datetime.now(UTC),
    )
    page.reload()
    page.get_by_role("button", name="Check and hand in").click()
    expect(page.get_by_text("It keeps 80 % of its points.")).to_be_visible()
    page.go_back()
    hand_in(page)
    expect(page.get_by_text("\N{MINUS SIGN}10 % a day, 2 days late: 15 of 15 → 12")).to_be_visible()
    page.goto("/labs")
    expect(page.get_by_role("listitem").filter(has_text="Lab 1 late")).to_contain_text("12 of 15")
    page.goto(f"/labs/assignments/{assignment_id}")
    require_no_fault(page)


def test_an_exception_lets_one_student_in_after_closing(windows: Windows, classroom: Classroom) -> None:
    closed = datetime.now(UTC) - DAY
    assignment_id = assign(classroom, due_at=closed, closes_at=closed)
    _, other_card = classroom.another_student("Ana Lucia Martinez")
    desk = windows.open(classroom.instructor_card)
    desk.goto(f"/teaching/assignments/{assignment_id}")
    desk.get_by_role("link", name="Exception for a student").click()
    desk.get_by_role("link", name="Okafor, Sam").click()
    tomorrow = (datetime.now(UTC) + DAY).strftime("%Y-%m-%dT12:00")
    desk.get_by_label("Due", exact=True).fill(tomorrow)
    desk.get_by_label("Reason").fill("was away")
    require_no_fault(desk)
    desk.get_by_role("button", name="Save the exception").click()
    expect(flash_of(desk)).to_contain_text("The rules for Sam Okafor are changed.")
    expect(desk.get_by_role("row").filter(has_text="Okafor, Sam")).to_contain_text("was away")
    require_no_fault(desk)

    shut_out = windows.open(other_card)
    shut_out.goto(f"/labs/assignments/{assignment_id}")
    expect(shut_out.get_by_text("nothing can be started or handed in any more")).to_be_visible()
    expect(shut_out.get_by_role("button", name="Start the lab")).to_have_count(0)
    let_in = windows.open(classroom.card)
    let_in.goto(f"/labs/assignments/{assignment_id}")
    let_in.get_by_role("button", name="Start the lab").click()
    expect(let_in.get_by_role("button", name="Check and hand in")).to_be_visible()


def test_a_lab_opens_after_the_one_before_it(windows: Windows, classroom: Classroom) -> None:
    first = assign(classroom, title="Lab 1")
    second = assign(classroom, title="Lab 2", unlock_after=first)
    page = windows.open(classroom.card)
    page.goto("/labs")
    locked = page.get_by_role("listitem").filter(has_text="Lab 2")
    expect(locked).to_contain_text("once you have handed in “Lab 1”")
    require_no_fault(page)
    attempt_id = classroom.start(first)
    practice.hand_in(
        classroom.database, attempt_id=attempt_id, student=classroom.student, now=datetime.now(UTC)
    )
    page.goto(f"/labs/assignments/{second}")
    page.get_by_role("button", name="Start the lab").click()
    expect(page.get_by_role("button", name="Check and hand in")).to_be_visible()
