"""A student's first lab on a phone, with a finger: from the sign-in card to the reflection sheet."""

import re

import pytest
from playwright.sync_api import Page, expect

from app.domain.tasks import AnyTask
from app.domain.variants import Variant
from app.services import reflections
from tests.browser import lab_page, pencil
from tests.browser.school import Classroom
from tests.browser.watch import PHONE, Windows
from tests.services.lessons import right_answers

pytestmark = pytest.mark.browser

WRITTEN = "  It feels the pull of the heavy side.\n\n\tAnd <b>width</b> is “typed in” – 6½ in.  "


def test_a_student_works_a_lab_on_a_phone(windows: Windows, classroom: Classroom) -> None:
    assignment_id = classroom.assign(title="Lab 1: balance")
    page = windows.open(size=PHONE, touch=True)
    sign_in_from_the_card(page, classroom)
    start_the_lab(page)
    lab = classroom.lab(lab_page.attempt_id_of(page))
    check_what_is_shown(page, lab.variant)
    heavy_spots = lab_page.cells(page, "Heavy spots")

    answers = answer_everything(page, lab.variant)
    page.reload()
    check_answers_are_there(page, lab.variant, answers)
    mend_an_unreadable_answer(page, windows, lab.variant, answers["single-mass"])
    lab_page.touch(page.get_by_role("button", name="Check and hand in"))
    expect(page.get_by_text("11 of 11 answered")).to_be_visible()
    lab_page.touch(page.get_by_role("link", name="Back to the lab").first)
    lab_page.hand_in(page)
    check_the_result(page, classroom, lab.attempt_id)

    lab_page.touch(page.get_by_role("button", name="Try again with new numbers").first)
    expect(page.get_by_role("heading", name="Job card")).to_be_visible()
    assert lab_page.attempt_id_of(page) != lab.attempt_id
    assert lab_page.cells(page, "Heavy spots") != heavy_spots
    assert classroom.lab(lab_page.attempt_id_of(page)).answers == {}

    write_the_reflection_sheet(page, classroom, assignment_id)
    check_what_the_instructor_sees(windows, classroom, lab.attempt_id)


def sign_in_from_the_card(page: Page, classroom: Classroom) -> None:
    page.goto(f"/sign-in?name={classroom.card.sign_in_name}")
    expect(page.get_by_label("Sign-in name")).to_have_value(classroom.card.sign_in_name)
    phrase = page.get_by_label("Pass phrase", exact=True)
    phrase.tap()
    phrase.press_sequentially(classroom.card.pass_phrase)
    assert phrase.get_attribute("type") == "password"
    page.get_by_label("Show what I type").tap()
    assert phrase.get_attribute("type") == "text"
    page.get_by_role("button", name="Sign in").tap()


def start_the_lab(page: Page) -> None:
    due = page.get_by_role("listitem").filter(has=page.get_by_role("heading", name="Lab 1: balance"))
    expect(due).to_contain_text("to do")
    expect(due).to_contain_text("0 used of 2")
    due.get_by_role("link", name="Open").tap()
    expect(page.get_by_text("0 attempts used so far")).to_be_visible()
    page.get_by_role("button", name="Start the lab").tap()
    expect(page.get_by_role("heading", name="Job card")).to_be_visible()


def check_what_is_shown(page: Page, variant: Variant) -> None:
    expect(page.get_by_text("The steering wheel shakes")).to_be_visible()
    expect(page.get_by_role("definition").filter(has_text="P205/65R15 92H").first).to_be_visible()
    for name in ("wheel seen from outboard", "half section"):
        drawing = page.get_by_role("img", name=re.compile(name, re.IGNORECASE)).first
        drawing.scroll_into_view_if_needed()
        box = drawing.bounding_box()
        assert box
        assert 200 < box["width"] <= PHONE["width"]
        assert box["height"] > 100
    spots = variant.truth.assemblies["A"].heavy_spots
    shown = [row[0] for row in lab_page.cells(page, "Heavy spots")[1:]]
    assert shown == [f"{place} {name}" for place, name in enumerate(spots.names, 1)]


def answer_everything(page: Page, variant: Variant) -> dict[str, str]:
    """Types all answers, one of them a known wrong turn and some in units of the student's choice."""
    size, angle = pencil.static_unbalance(page)
    ounces = pencil.number(str(right_answers(variant)["single-mass"]))
    heavy_spot = (pencil.number(str(right_answers(variant)["inboard-angle"])) + 180) % 360
    answers = {task: str(answer) for task, answer in right_answers(variant).items()} | {
        "static-size": f"{size:.1f} oz.in",
        "static-angle": clock_position(angle),
        "single-mass": f"{ounces * 28.349523125:.1f} g",  # in a class that works in ounces
        "inboard-angle": f"{heavy_spot:.0f}",
    }
    first, *others = variant.scenario.tasks
    box = lab_page.field(page, first, variant)
    box.tap()
    box.press_sequentially(answers[first.id])
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)  # without leaving the box
    lab_page.give_all(page, variant, {task.id: answers[task.id] for task in others})
    return answers


def clock_position(angle: float) -> str:
    minutes = round(angle * 2) % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def task_named(variant: Variant, task_id: str) -> AnyTask:
    task = variant.scenario.task(task_id)
    assert task
    return task


def check_answers_are_there(page: Page, variant: Variant, answers: dict[str, str]) -> None:
    for task in variant.scenario.tasks:
        if task.kind == "choice":
            expect(lab_page.option(page, task, answers[task.id])).to_be_checked()
        else:
            expect(lab_page.field(page, task, variant)).to_have_value(answers[task.id])


def mend_an_unreadable_answer(page: Page, windows: Windows, variant: Variant, right: str) -> None:
    task = task_named(variant, "single-mass")
    box = lab_page.field(page, task, variant)
    box.fill("35 stones")
    message = page.get_by_text(
        "“stones” is no unit for this answer. Use g, kg, oz, lb, like 1.25 oz.", exact=True
    )
    expect(message).to_be_visible()
    field_box, message_box = box.bounding_box(), message.bounding_box()
    assert field_box
    assert message_box
    assert 0 <= message_box["y"] - (field_box["y"] + field_box["height"]) < 40  # just under its field
    assert str(message.get_attribute("id")) in str(box.get_attribute("aria-describedby"))
    with windows.watch.refusing(422):
        lab_page.touch(page.get_by_role("button", name="Check and hand in"))
        summary = page.get_by_role("alert")
        expect(summary).to_be_focused()
        summary.get_by_role("link", name=re.compile("One weight")).tap()
    expect(box).to_be_focused()
    expect(box).to_have_value("35 stones")
    box.fill(right)
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    expect(message).to_have_count(0)
    expect(summary).to_contain_text("One weight: can be read now")
    expect(summary.get_by_role("heading")).to_have_text("All of this can be read now")


def check_the_result(page: Page, classroom: Classroom, attempt_id: str) -> None:
    result = classroom.result(attempt_id)
    variant = result.lab.variant
    expect(page.get_by_text("14 of 15 points", exact=True)).to_be_visible()
    for mark in result.marks:
        task = task_named(variant, mark.task_id)
        shown = lab_page.marked(page, task, variant)
        wrong = task.id == "inboard-angle"
        expect(shown).to_contain_text(
            f"0 of {task.points:g}" if wrong else f"{task.points:g} of {task.points:g}"
        )
        expect(shown.get_by_role("definition").first).to_have_text(mark.your_answer)
        expect(shown.get_by_role("definition").nth(1)).to_have_text(mark.right_answer)
        expect(shown.get_by_text(mark.reason)).to_be_visible()

    task = task_named(variant, "inboard-angle")
    right = pencil.number(str(right_answers(variant)["inboard-angle"]))
    shown = lab_page.marked(page, task, variant)
    expect(shown).to_contain_text("This is where the heavy spot is. The weight goes opposite")
    expect(shown).to_contain_text(f"Yours: {(right + 180) % 360:.0f}°; right: {right:.0f}°.")
    drawing = shown.get_by_role("img")
    expect(drawing).to_be_visible()
    shown.get_by_text("The same in words and numbers").tap()
    vectors = shown.get_by_role("row").all_inner_texts()
    assert any("computed" in row and f"{right:.0f}°" in row for row in vectors)
    assert any("yours" in row and f"{(right + 180) % 360:.0f}°" in row for row in vectors)


def write_the_reflection_sheet(page: Page, classroom: Classroom, assignment_id: str) -> None:
    page.goto("/labs")
    page.get_by_role("link", name="About this lab").tap()
    page.get_by_role("link", name="Reflection sheet").tap()
    box = page.get_by_label("what does the balancer feel")
    box.fill(WRITTEN)
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    page.reload()
    expect(box).to_have_value(WRITTEN)
    sheet = reflections.sheet(classroom.database, assignment_id=assignment_id, student=classroom.student)
    assert sheet.prompts[0].response == WRITTEN


def check_what_the_instructor_sees(windows: Windows, classroom: Classroom, attempt_id: str) -> None:
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/classes/{classroom.class_id}/gradebook")
    row = page.get_by_role("row").filter(has_text="Okafor, Sam")
    row.get_by_role("gridcell").last.click()
    expect(page.get_by_text("attempt 1: handed in")).to_be_visible()
    page.get_by_role("link", name="Look at the attempt").click()
    expect(page).to_have_url(re.compile(f"/teaching/attempts/{attempt_id}"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Sam Okafor")
    expect(page.get_by_text("14 of 15 points", exact=True)).to_be_visible()
    lab = classroom.lab(attempt_id)
    for task in lab.variant.scenario.tasks:
        expect(lab_page.marked(page, task, lab.variant)).to_contain_text(task.prompt)
    page.get_by_text(re.compile(r"saved entries, as they came in")).click()
    saved = [row[-1] for row in lab_page.cells(page, "Saved entries")]
    assert "35 stones" in saved
    assert str(lab.answers["single-mass"]) in saved
