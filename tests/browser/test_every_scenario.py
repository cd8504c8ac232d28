"""Each shipped scenario, worked by a student to full marks in a browser."""

import math
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import expect

from app.domain.tasks import TextTask
from app.services import scenarios
from app.settings import SCENARIOS
from tests.browser import lab_page
from tests.browser.school import Classroom
from tests.browser.watch import PHONE, Windows
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

SLUGS = [
    "two-plane-balance",  # sizes and angles
    "dots-and-marks",  # turns of a tire
    "which-way-it-pulls",  # numbers below zero
    "four-assemblies",  # placements, and words by a plain rubric
    "mail-van-on-the-right",  # ticks, a placement that is not free, and words by criteria
    "mounting-in-order",  # steps
]
"""Each way of answering; tests/drawings/test_measured.py answers every lab from its pages."""

TICKING = """
[[parts.tasks]]
id = "over-limit"
kind = "several"
title = "Over the limit"
prompt = "Which assemblies are above the limit as measured?"
key = "car.over_limit"
points = 2

[[parts.tasks]]
id = "decision"
"""
"""Boxes to tick, put into a lab whose right ticks may be none at all."""


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
            points = {f"{each.text} ({each.points:g})": each.points for each in task.criteria}
            for label, most in (points or {"Points": task.points}).items():
                teacher.get_by_label(label, exact=True).fill(f"{most:g}")
            teacher.get_by_role("button", name="Save this mark").click()
        page.reload()
    expect(page.get_by_text(f"{out_of:g} of {out_of:g} points", exact=True)).to_be_visible()


def test_boxes_are_ticked_saved_and_marked(windows: Windows, classroom: Classroom, tmp_path: Path) -> None:
    shipped = (SCENARIOS / "four-assemblies" / "scenario.toml").read_text(encoding="utf-8")
    with_boxes = shipped.replace('id = "four-assemblies"', 'id = "with-boxes"').replace(
        '\n[[parts.tasks]]\nid = "decision"\n', TICKING
    )
    folder = tmp_path / "with-boxes"
    folder.mkdir()
    (folder / "scenario.toml").write_text(with_boxes, encoding="utf-8")
    scenarios.load_shipped(classroom.database, folder=tmp_path, now=datetime.now(UTC))
    attempt_id = classroom.start(classroom.assign("with-boxes"))
    variant = classroom.lab(attempt_id).variant
    task = variant.scenario.task("over-limit")
    assert task
    right = right_answers(variant)["over-limit"]
    page = windows.open(classroom.card, size=PHONE, touch=True)
    page.goto(f"/labs/attempts/{attempt_id}")
    for value in ("A", "none"):
        lab_page.touch(lab_page.option(page, task, value))
    expect(page.get_by_text("Tick either assemblies or “none of them”, not both.")).to_be_visible()
    for value in ("A", "none"):
        lab_page.touch(lab_page.option(page, task, value))
    lab_page.give_all(page, variant, {"over-limit": right})
    page.reload()
    for letter in variant.scenario.assembly_ids:
        expect(lab_page.option(page, task, letter)).to_be_checked(checked=letter in (right or []))
    lab_page.hand_in(page)
    expect(lab_page.marked(page, task, variant)).to_contain_text("2 of 2")
