"""Each shipped scenario, worked by a student to full marks in a browser."""

import math
import re

import pytest
from playwright.sync_api import expect

from app.domain.tasks import TextTask
from tests.browser import lab_page
from tests.browser.school import Classroom
from tests.browser.watch import PHONE, Windows
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

SLUGS = ["two-plane-balance", "runout-and-match-mounting", "four-assemblies"]


@pytest.mark.parametrize("slug", SLUGS)
def test_a_shipped_scenario_is_worked_to_full_marks(
    windows: Windows, classroom: Classroom, slug: str
) -> None:
    attempt_id = classroom.start(classroom.assign(slug))
    variant = classroom.lab(attempt_id).variant
    answers = right_answers(variant)
    page = windows.open(classroom.card, size=PHONE, touch=True)
    page.goto(f"/labs/attempts/{attempt_id}")
    lab_page.give_all(page, variant, answers)
    assert classroom.lab(attempt_id).answers == answers
    expect(page.locator("[data-answered]")).to_have_text(str(len(answers)))
    lab_page.hand_in(page)

    written = [task for task in variant.scenario.tasks if isinstance(task, TextTask)]
    out_of = math.fsum(task.points for task in variant.scenario.tasks)
    waiting = math.fsum(task.points for task in written)
    score = f"{out_of - waiting:g} of {out_of:g} points"
    expect(page.get_by_text(score + (f", {len(written)} to be marked" if written else ""))).to_be_visible()
    for task in variant.scenario.tasks:
        mark = lab_page.marked(page, task, variant)
        word = "waiting" if task in written else "right"
        expect(mark.get_by_text(re.compile(rf"\b{word}$")).first).to_be_visible()

    if written:
        teacher = windows.open(classroom.instructor_card)
        teacher.goto(f"/teaching/attempts/{attempt_id}")
        for task in written:
            teacher.get_by_label("Points", exact=True).fill(f"{task.points:g}")
            teacher.get_by_role("button", name="Save this mark").click()
        page.reload()
    expect(page.get_by_text(f"{out_of:g} of {out_of:g} points", exact=True)).to_be_visible()
