"""Hands-on checks on a phone beside the machine, and timed heats on a tablet, over a network that fails."""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from app.domain.hands_on import Level
from app.services import hands_on, heats
from tests.browser.lab_page import touch
from tests.browser.looks import require_no_fault
from tests.browser.school import Classroom
from tests.browser.watch import PHONE, Windows, flash_of

pytestmark = pytest.mark.browser

TABLET = {"width": 820, "height": 1180}
SKILLS = ["C.3: Balance an assembly", "Torque the nuts in a star"]


def where(classroom: Classroom) -> dict:  # type: ignore[type-arg]
    return {
        "class_id": classroom.class_id,
        "instructor": classroom.instructor,
        "now": datetime.now(UTC),
    }


def history(classroom: Classroom) -> list[Level]:
    lines = hands_on.history(
        classroom.database,
        class_id=classroom.class_id,
        instructor=classroom.instructor,
        student_id=classroom.student.public_id,
    )
    return [line.level for line in lines]


@pytest.fixture
def phone(windows: Windows, classroom: Classroom) -> Page:
    """A phone on the page of the class's one student, reached as one reaches it."""
    hands_on.add_skills(classroom.database, lines=SKILLS, **where(classroom))
    page = windows.open(classroom.instructor_card, size=PHONE, touch=True)
    page.goto(f"/teaching/classes/{classroom.class_id}/hands-on")
    touch(page.get_by_role("link", name="Check at the machine"))
    touch(page.get_by_role("link", name="Okafor, Sam"))
    expect(page.locator("form.tap").first).to_have_attribute("data-tap-stands", "")  # the script has begun
    return page


def skill(page: Page, name: str) -> Locator:
    return page.locator("form.tap").filter(has_text=name)


def says(page: Page) -> Locator:
    return page.locator("[data-outbox-state]")


def test_taps_are_saved_at_once_and_can_be_undone(phone: Page, classroom: Classroom) -> None:
    require_no_fault(phone)
    phone.set_viewport_size(PHONE)  # type: ignore[arg-type]
    balance = skill(phone, "Balance an assembly")
    touch(balance.get_by_role("button", name="With help"))
    expect(balance.locator("[data-tap-state]")).to_have_text("with help, today")
    touch(balance.get_by_role("button", name="Alone"))
    expect(balance.locator("[data-tap-state]")).to_have_text("alone, today")
    expect(balance.get_by_role("button", name="Alone")).to_have_attribute("aria-pressed", "true")
    expect(says(phone)).to_have_text("Saved")
    touch(balance.get_by_text("Note, day, undo"))
    balance.get_by_label("Note").fill("held the weight himself")
    touch(balance.get_by_role("button", name="Alone"))
    expect(says(phone)).to_have_text("Saved")
    touch(balance.get_by_role("button", name="Undo: not checked"))
    expect(balance.locator("[data-tap-state]")).to_have_text("not checked")
    assert history(classroom) == [Level.UNDONE, Level.ALONE, Level.ALONE, Level.WITH_HELP]
    touch(phone.get_by_role("link", name="History of every tap"))
    expect(phone.get_by_role("row").filter(has_text="held the weight himself")).to_be_visible()


def test_a_tap_without_a_network_waits_survives_a_reload_and_is_saved_once(
    phone: Page, classroom: Classroom, windows: Windows
) -> None:
    torque = skill(phone, "Torque the nuts")
    with windows.watch.server_away():
        phone.context.set_offline(True)
        touch(torque.get_by_role("button", name="Seen"))
        expect(says(phone)).to_contain_text("Not saved yet")
        expect(torque.get_by_role("button", name="Seen")).to_have_attribute("aria-pressed", "true")
        assert history(classroom) == []
        phone.context.set_offline(False)
    phone.reload()
    expect(torque.locator("[data-tap-state]")).to_have_text("seen, today")
    expect(says(phone)).to_have_text("Saved")
    phone.reload()
    expect(torque.get_by_role("button", name="Seen")).to_have_attribute("aria-pressed", "true")
    assert history(classroom) == [Level.SEEN]


def test_an_answer_that_is_lost_on_the_way_doubles_no_tap(
    phone: Page, classroom: Classroom, windows: Windows
) -> None:
    lost: list[str] = []

    def lose_the_first_answer(route: Route) -> None:
        if lost:
            route.continue_()
            return
        lost.append(route.fetch().text())
        route.abort()

    phone.route("**/hands-on/checks", lose_the_first_answer)
    with windows.watch.server_away():
        touch(skill(phone, "Torque the nuts").get_by_role("button", name="Alone"))
        expect(says(phone)).to_have_text("Saved")
    assert '"saved":true' in lost[0].replace(" ", "")
    assert history(classroom) == [Level.ALONE]


def test_a_heat_is_timed_on_a_tablet_and_read_on_the_projector(
    windows: Windows, classroom: Classroom
) -> None:
    classroom.another_student("Ana Lund")
    tablet = windows.open(classroom.instructor_card, size=TABLET, touch=True)
    tablet.goto(f"/teaching/classes/{classroom.class_id}/heats")
    touch(tablet.get_by_role("link", name="Make the teams"))
    tablet.get_by_label("What is timed").fill("Wheel change")
    touch(tablet.get_by_role("button", name="Draw the teams by lot"))
    tablet.get_by_label("Team 1").fill("Red")
    tablet.get_by_label("Team 2").fill("Blue")
    touch(tablet.get_by_role("button", name="Make the teams"))
    touch(tablet.get_by_role("link", name="Time heat 1"))
    require_no_fault(tablet)
    tablet.set_viewport_size(TABLET)  # type: ignore[arg-type]

    touch(tablet.get_by_role("button", name="Start"))
    touch(tablet.get_by_role("button", name="Lap of Red"))
    expect(tablet.get_by_text(re.compile("Lap 1: "))).to_be_visible()
    delay_the_answers(tablet, 2500)
    touch(tablet.get_by_role("button", name="Stop Blue"))
    expect(tablet.get_by_text(re.compile(r"the server saw \d"))).to_be_visible()
    tablet.unroute("**/heats/**")
    touch(tablet.get_by_role("button", name="Stop Red"))
    expect(tablet.get_by_text("place 2")).to_be_visible()
    require_no_fault(tablet)
    tablet.set_viewport_size(TABLET)  # type: ignore[arg-type]
    blue = tablet.get_by_role("region", name="Blue")
    touch(blue.get_by_text("Penalty", exact=True))
    blue.get_by_label("Seconds").fill("600")
    blue.get_by_label("What for").fill("torque not checked")
    touch(blue.get_by_role("button", name="Give the penalty to Blue"))
    expect(tablet.get_by_role("region", name="Red").get_by_text("place 1")).to_be_visible()

    contest_id = tablet.url.split("/")[-2]
    seen = heats.contest(classroom.database, contest_id=contest_id, **where(classroom))
    red, blue_time = seen.heats[0].times
    assert red.stopped is not None
    assert blue_time.stopped is not None
    assert not red.stopped.by_server
    assert blue_time.stopped.differ_s is not None
    assert blue_time.stopped.differ_s > 2
    assert blue_time.stopped.seconds < red.stopped.seconds, "the slow network changed the order"

    board = windows.open(classroom.instructor_card)
    board.goto(tablet.url.rsplit("/", 1)[0] + "/board")
    expect(board.get_by_role("row").nth(1)).to_contain_text("Red")
    require_no_fault(board)
    touch(red_undo(tablet))
    expect(board.get_by_role("row").filter(has_text="Red")).to_contain_text("running")


def delay_the_answers(page: Page, milliseconds: int) -> None:
    """Hold back each press on its way, as a weak network does."""

    def hold(route: Route) -> None:
        if route.request.method == "POST":
            page.wait_for_function(
                "until => performance.now() > until",
                arg=page.evaluate("performance.now()") + milliseconds,
            )
        route.continue_()

    page.route("**/heats/**", hold)


def red_undo(page: Page) -> Locator:
    return page.get_by_role("button", name=re.compile("Undo Stop: .* of Red"))


def test_a_start_that_is_taken_back_leaves_the_heat_to_begin(windows: Windows, classroom: Classroom) -> None:
    contest_id = heats.make_contest(
        classroom.database, title="Wheel change", teams={"Red": []}, **where(classroom)
    )
    seen = heats.contest(classroom.database, contest_id=contest_id, **where(classroom))
    page = windows.open(classroom.instructor_card, size=TABLET, touch=True)
    page.goto(f"/teaching/classes/{classroom.class_id}/heats/{contest_id}/{seen.heats[0].heat_id}")
    touch(page.get_by_role("button", name="Start"))
    touch(page.get_by_role("button", name="Take the start back"))
    expect(page.get_by_role("button", name="Start")).to_be_visible()
    expect(flash_of(page)).to_be_empty()
