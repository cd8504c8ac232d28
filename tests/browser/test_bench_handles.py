"""What is taken hold of in the bench's drawings, in four ways: dragged, tapped, by keyboard, and typed."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from app.services import bench
from tests.browser.bench_hands import Finger, Hands, Keys, Mouse
from tests.browser.school import Classroom
from tests.browser.watch import DESK, PHONE, Windows

pytestmark = [pytest.mark.browser, pytest.mark.slow]


FIELDS = {"break-beads": "shoe_deg", "fit-weight": "angle_deg", "read-dial": "at_deg"}


class Typist(Mouse):
    """Takes hold of nothing: fills in the forms."""

    def turn_knob(self, do: str, angle: float) -> None:
        form = self.form(do)
        if do == "turn-tire":
            form.locator("[name='turn_deg']").fill(f"{(angle - 45) % 360:g} cw")
        else:
            form.locator(f"[name='{FIELDS[do]}']").fill(f"{-angle % 360 if do == 'read-dial' else angle:g}")

    def carry(self, letter: str, to: str) -> None:
        self.go_to("rack")
        form = self.form("bring")
        form.locator("[name='assembly']").select_option(letter)
        form.locator(f"button[value='{to}']").click()

    def carry_token(self, token: str, target: str) -> None:
        letter = token[-1]
        if "tray" in target:
            form = self.form("take-off")
        else:
            form = self.form("place")
            form.locator("[name='assembly']").select_option(letter)
            form.locator("[name='corner']").select_option("RF")
        form.locator("button").click()


Way = tuple[Callable[[Page], Hands], dict[str, Any]]
WAYS: dict[str, Way] = {
    "dragged": (Mouse, {"size": DESK}),
    "tapped": (Finger, {"size": PHONE, "touch": True}),
    "keyboard": (Keys, {"size": DESK}),
    "typed": (Typist, {"size": DESK}),
}
NEAR_DEG = 2.5
"""A finger hits a degree of the ring on a telephone to about a pixel."""


class AtWork:
    def __init__(self, classroom: Classroom, windows: Windows, way: Way) -> None:
        hands, window = way
        self.classroom, self.page = classroom, windows.open(classroom.card, **window)
        self.attempt_id = classroom.start(classroom.assign("bench-four-assemblies"))
        self.page.goto(f"/labs/attempts/{self.attempt_id}/bench")
        self.hands = hands(self.page)

    def sends(self, do: str) -> None:
        """Press the button of a form that the handle has filled in."""
        self.hands.press(self.hands.form(do).locator("button").first)

    def did(self) -> Any:
        """The newest action, once the page shows it."""
        known = len(
            bench.bench(self.classroom.database, attempt_id=self.attempt_id, student=self.student).run.done
        )
        expect(self.page.locator("#seen-head")).to_contain_text(f"Action {known}:")
        view = bench.bench(self.classroom.database, attempt_id=self.attempt_id, student=self.student)
        assert not view.run.done[-1].observation.refused, view.run.done[-1].observation.text
        return view.run.done[-1].action

    @property
    def student(self) -> Any:
        return self.classroom.student


@pytest.mark.parametrize("way", WAYS)
def test_every_handle_of_the_bench_is_worked(classroom: Classroom, windows: Windows, way: str) -> None:
    work = AtWork(classroom, windows, WAYS[way])
    hands, page = work.hands, work.page

    def waits_for(number: int) -> None:
        expect(page.locator("#seen-head")).to_contain_text(f"Action {number}:")

    # An assembly to the mounting stand; the shoe of the bead breaker goes around the tire.
    hands.carry("A", "stand")
    waits_for(1)
    assert work.did().to == "stand"
    hands.do({"do": "core-out"})
    hands.open_offer_of(hands.form("break-beads"))
    hands.turn_knob("break-beads", 200)
    work.sends("break-beads")
    waits_for(3)
    assert work.did().shoe_deg == pytest.approx(200, abs=NEAR_DEG)

    # The tire turned on its wheel, from where its handle waits at 45 degrees.
    hands.open_offer_of(hands.form("turn-tire"))
    hands.turn_knob("turn-tire", 45 + 60)
    work.sends("turn-tire")
    waits_for(4)
    assert work.did().turn_deg == pytest.approx(60, abs=NEAR_DEG)

    # The wheel turned under the dial: let go, it is read.
    hands.carry("C", "gauge")
    waits_for(5)
    hands.do({"do": "place-gauge", "place": "lateral"})
    hands.open_offer_of(hands.form("read-dial"))
    hands.turn_knob("read-dial", 270)
    if way == "keyboard":
        page.keyboard.press("Enter")
    if way == "typed":
        work.sends("read-dial")
    waits_for(7)
    assert work.did().at_deg == pytest.approx(90, abs=NEAR_DEG)

    # A weight around the rim; its plane and kind picked in the section.
    hands.carry("B", "balancer")
    waits_for(8)
    hands.open_offer_of(hands.form("fit-weight"))
    if way == "typed":
        hands.form("fit-weight").locator("[name='kind']").select_option("adhesive")
        hands.form("fit-weight").locator("[name='plane']").select_option("outboard")
    else:
        hands.press(page.locator("#pick-adhesive-outboard"))
        expect(page.locator("#pick-adhesive-outboard")).to_have_attribute("aria-pressed", "true")
    hands.turn_knob("fit-weight", 300)
    if way == "keyboard":
        page.keyboard.press("Enter")
    else:
        work.sends("fit-weight")
    waits_for(9)
    fitted = work.did()
    assert (fitted.kind, fitted.clip, fitted.plane) == ("adhesive", None, "outboard")
    assert fitted.angle_deg == pytest.approx(300, abs=NEAR_DEG)

    # An assembly onto a corner of the car, and off again.
    hands.go_to("car")
    hands.do({"do": "raise-car", "at": "lift points"})
    waits_for(10)
    hands.carry_token("#tray-C", ".bench-place[data-bench-label*='right front']")
    waits_for(11)
    placed = work.did()
    assert (placed.assembly, placed.corner) == ("C", "RF")
    if way == "typed":
        hands.open_offer_of(hands.form("take-off"))
    hands.carry_token("#piece-C", ".bench-tray")
    waits_for(12)
    assert work.did().corner == "RF"


def test_a_handle_says_where_it_stands_and_follows_what_is_typed(
    classroom: Classroom, windows: Windows
) -> None:
    work = AtWork(classroom, windows, WAYS["dragged"])
    work.hands.carry("A", "balancer")
    knob = work.page.locator("#knob-fit-weight")
    work.hands.form("fit-weight").locator("[name='angle_deg']").fill("120")
    expect(knob).to_have_attribute("aria-valuenow", "120")
    expect(knob).to_have_text("120°")


def test_the_way_to_each_station_stays_in_reach_on_a_telephone(
    classroom: Classroom, windows: Windows
) -> None:
    work = AtWork(classroom, windows, WAYS["tapped"])
    work.hands.carry("A", "stand")
    expect(work.page.locator("#seen-head")).to_contain_text("Action 1:")
    work.page.evaluate("scrollTo(0, document.body.scrollHeight)")
    bar = work.page.locator(".bench-bar")
    for name in ("Rack", "Stand", "Balancer", "Gauge", "Roller", "Car"):
        expect(bar.get_by_role("link", name=name)).to_be_in_viewport()
    bar.get_by_role("link", name="Roller").tap()
    expect(work.page.locator("#station-head")).to_have_text("Load roller")
    expect(work.page.locator("#station-head")).to_be_in_viewport()


def test_on_a_telephone_one_group_is_open_and_what_was_seen_stands_by_the_button(
    classroom: Classroom, windows: Windows
) -> None:
    work = AtWork(classroom, windows, WAYS["tapped"])
    work.hands.carry("A", "stand")
    expect(work.page.locator("#seen-head")).to_contain_text("Action 1:")
    groups = work.page.locator(".bench-offer[open]")
    expect(groups).to_have_count(1)
    work.hands.open_offer_of(work.hands.form("check-mark"))
    expect(groups).to_have_count(1)
    button = work.page.get_by_role("button", name="Chalk a line across tire and wheel")
    before = button.bounding_box()
    button.tap()
    answer = work.page.locator("form[data-do='check-mark'] .bench-answer")
    expect(answer).to_have_text("A chalk line across tire and wheel shows how they stand.")
    expect(answer).to_be_in_viewport()
    after = button.bounding_box()
    assert before
    assert after
    assert abs(before["y"] - after["y"]) < 2
    work.hands.open_offer_of(work.hands.form("look"))
    work.page.get_by_role("button", name="Valve and pressure").tap()
    expect(work.page.locator("#seen-head")).to_be_in_viewport()


def test_the_bench_stays_as_it_is_where_motion_is_not_wanted(classroom: Classroom, windows: Windows) -> None:
    work = AtWork(classroom, windows, WAYS["dragged"])
    moving = """() => [...document.querySelectorAll(".bench, .bench *")].filter(each => {
      const style = getComputedStyle(each);
      return parseFloat(style.transitionDuration) > 0.01 || style.animationName !== "none";
    }).length"""
    assert work.page.evaluate(moving) == 0
