"""Steps to order, spots to mark and hints: by finger, by the keyboard, by typing, and without JavaScript."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from app.services import scenarios
from tests.browser import lab_page
from tests.browser.keyboard import Keyboard
from tests.browser.school import Classroom
from tests.browser.stage import LESSONS
from tests.browser.watch import DESK, PHONE, Windows
from tests.factories import MADE_AT

ORDER, WHEEL = re.compile("In which order"), re.compile("Mark the heavy spot")


@pytest.fixture
def attempt(classroom: Classroom) -> str:
    scenarios.load_shipped(classroom.database, folder=LESSONS, now=MADE_AT)
    return classroom.start(classroom.assign("every-answer"))


def steps(page: Page) -> Locator:
    return page.get_by_role("group", name=ORDER)


def listed(page: Page) -> list[str]:
    """The first word of each step, as they stand, each at the place that its box says."""
    places = [box.input_value() for box in steps(page).get_by_role("textbox").all()]
    assert places == [str(place) for place in range(1, len(places) + 1)]
    return [words.split()[0] for words in steps(page).locator("label").all_inner_texts()]


def saved_order(classroom: Classroom, attempt: str) -> list[str]:
    answer = classroom.lab(attempt).answers["fitting-order"]
    assert isinstance(answer, dict)
    return sorted(answer, key=lambda step: int(answer[step]))


def handle(page: Page, words: str) -> Locator:
    return steps(page).get_by_role("button", name=f"Move: {words}")


def drag(page: Page, step: Locator, onto: Locator) -> None:
    steps(page).evaluate("each => each.scrollIntoView({ block: 'center' })")
    start, end = step.bounding_box(), onto.bounding_box()
    assert start is not None
    assert end is not None
    x, y, way = start["x"] + 20, start["y"] + 20, end["y"] - start["y"]
    page.mouse.move(x, y)
    page.mouse.down()
    for part in range(1, 9):
        page.mouse.move(x, y + way * part / 8)
    page.mouse.up()


@pytest.mark.parametrize(("size", "touch"), [(DESK, False), (PHONE, True)])
def test_steps_move_by_arrows_typing_dragging_and_tapping(
    windows: Windows, classroom: Classroom, attempt: str, size: dict[str, int], touch: bool
) -> None:
    page = windows.open(classroom.card, size=size, touch=touch)
    page.goto(f"/labs/attempts/{attempt}")
    first = steps(page).locator("label").first.inner_text()
    lab_page.touch(steps(page).get_by_role("button", name=f"Down: {first}"))
    assert listed(page)[1] == first.split()[0]

    box = steps(page).get_by_label("Set the tire")
    box.first.fill("1")
    box.first.press("Enter")
    assert listed(page)[0] == "Set"
    last = steps(page).locator("label").last.inner_text()
    drag(page, handle(page, last), handle(page, "Set"))
    assert listed(page)[0] == last.split()[0]
    lab_page.touch(handle(page, "Set"))
    expect(handle(page, "Set")).to_have_attribute("aria-pressed", "true")
    lab_page.touch(handle(page, last))
    assert listed(page)[0] == "Set"

    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    as_it_stands = listed(page)
    assert saved_order(classroom, attempt)[0] == "pressure"
    page.reload()
    assert listed(page) == as_it_stands


def test_steps_are_put_in_order_by_the_keyboard_alone(
    windows: Windows, classroom: Classroom, attempt: str
) -> None:
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt}")
    keys = Keyboard(page)
    for place, words in enumerate(("Clean", "Hang", "Turn", "Tighten", "Set"), 1):
        keys.to(steps(page).get_by_label(re.compile(f"^{words}"))).replace(str(place)).press("Enter")
    assert listed(page) == ["Clean", "Hang", "Turn", "Tighten", "Set"]
    keys.to(steps(page).get_by_role("button", name="Up: Set"), "Shift+Tab").press("Enter").press("ArrowUp")
    assert listed(page) == ["Clean", "Hang", "Set", "Turn", "Tighten"]
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    assert saved_order(classroom, attempt) == ["clean", "hang", "pressure", "nuts", "torque"]


def test_a_place_that_is_none_says_so_beside_the_steps(
    windows: Windows, classroom: Classroom, attempt: str
) -> None:
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt}")
    steps(page).get_by_role("textbox").first.fill("nine")
    steps(page).get_by_role("textbox").first.press("Tab")
    expect(page.locator("[data-problem-for=fitting-order]")).to_contain_text("place")


@pytest.mark.parametrize(("size", "touch"), [(DESK, False), (PHONE, True)])
def test_spots_are_marked_by_pointing_turning_and_typing(
    windows: Windows, classroom: Classroom, attempt: str, size: dict[str, int], touch: bool
) -> None:
    page = windows.open(classroom.card, size=size, touch=touch)
    page.goto(f"/labs/attempts/{attempt}")
    wheel, box = page.get_by_role("slider", name=WHEEL), page.get_by_role("textbox", name=WHEEL)
    wheel.scroll_into_view_if_needed()

    def point(x: float, y: float) -> None:
        """At a share of the drawing's width from its upper left; the wheel's centre is at a half."""
        drawing = wheel.bounding_box()
        assert drawing is not None
        at = {"x": x * drawing["width"], "y": y * drawing["width"]}
        wheel.tap(position=at) if touch else wheel.click(position=at)  # type: ignore[arg-type]

    point(0.85, 0.5)
    point(0.5, 0.85)
    expect(box).to_have_value("90, 180")
    point(0.84, 0.51)  # near the first mark: takes it away
    expect(box).to_have_value("180")
    box.fill("4:30, 180")
    wheel.focus()
    for key in ("Home", "PageUp", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    expect(box).to_have_value("4:30, 180, 16")
    expect(wheel).to_have_attribute("aria-valuetext", "16°, marked")
    expect(lab_page.save_state(page)).to_have_text(lab_page.SAVED)
    assert classroom.lab(attempt).answers["on-the-wheel"] == "4:30, 180, 16"


def test_without_javascript_places_and_angles_are_typed_and_a_hint_is_shown(
    windows: Windows, classroom: Classroom, attempt: str
) -> None:
    page = windows.open(classroom.card, javascript=False)
    page.goto(f"/labs/attempts/{attempt}")
    for place, words in enumerate(("Clean", "Hang", "Turn", "Tighten", "Set"), 1):
        steps(page).get_by_label(re.compile(f"^{words}")).fill(str(place))
    page.get_by_role("textbox", name=WHEEL).fill("135, 315")
    page.get_by_role("button", name="Save", exact=True).click()
    assert saved_order(classroom, attempt) == ["clean", "hang", "nuts", "torque", "pressure"]
    assert classroom.lab(attempt).answers["on-the-wheel"] == "135, 315"
    page.get_by_role("link", name=re.compile("^Hint 1 of 2: takes off 0.5 points")).click()
    page.get_by_role("button", name="Show the hint").click()
    expect(page.get_by_text("Where does the heavy spot of the table stand?")).to_be_visible()
    assert classroom.lab(attempt).hints == {"on-the-wheel": 1}
