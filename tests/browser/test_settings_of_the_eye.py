"""Pages as the machine is set for its owner's eyes: forced colours, and text twice as large."""

import pytest
from playwright.sync_api import Page

from tests.browser import looks
from tests.browser.school import Classroom
from tests.browser.watch import Windows

pytestmark = pytest.mark.browser

FOCUS_IS_SEEN = """() => {
  const style = getComputedStyle(document.activeElement);
  return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
}"""
MOST_STOPS = 25
TWICE = {"width": 640, "height": 400}
"""A desk of 1280 px at 200 %: CSS sees half the pixels."""


@pytest.fixture(params=["lab", "bench", "gradebook"])
def page(request: pytest.FixtureRequest, windows: Windows, classroom: Classroom) -> Page:
    if request.param == "gradebook":
        page = windows.open(classroom.instructor_card)
        page.goto(f"/teaching/classes/{classroom.class_id}/gradebook")
        return page
    page = windows.open(classroom.card)
    attempt_id = classroom.start(classroom.assign("bench-four-assemblies"))
    page.goto(f"/labs/attempts/{attempt_id}{'/bench' if request.param == 'bench' else ''}")
    return page


def test_in_forced_colours_axe_finds_nothing_and_the_focus_is_seen(page: Page) -> None:
    page.emulate_media(forced_colors="active")
    assert looks.axe_faults(page) == []
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            break
        assert page.evaluate(FOCUS_IS_SEEN), page.evaluate("document.activeElement.outerHTML.slice(0, 160)")


def test_at_twice_the_size_nothing_hangs_over(page: Page) -> None:
    page.set_viewport_size(TWICE)  # type: ignore[arg-type]
    page.evaluate(looks.NEXT_FRAME)
    assert looks.hangs_over(page) == []
