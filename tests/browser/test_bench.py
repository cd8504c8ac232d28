"""The bench worked in a real browser: to full marks in three ways, across tabs, and over a lost reply."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from app.domain.tasks import BenchTask
from app.services import bench, practice
from app.services.bench import BenchView
from tests.browser.bench_hands import Finger, Hands, Keys, Mouse
from tests.browser.looks import require_no_fault
from tests.browser.school import Classroom, new_classroom
from tests.browser.server import Server
from tests.browser.watch import DESK, PHONE, Windows
from tests.domain.bench.mechanic import WORKS

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def attempt_id(classroom: Classroom) -> str:
    return classroom.start(classroom.assign("bench-one-assembly"))


def view(classroom: Classroom, attempt_id: str) -> BenchView:
    return bench.bench(classroom.database, attempt_id=attempt_id, student=classroom.student)


def go_to_the_bench(page: Page, attempt_id: str) -> None:
    page.goto(f"/labs/attempts/{attempt_id}")
    page.get_by_role("link", name="Go to the bench").click()
    expect(page.get_by_role("heading", name="The bench")).to_be_visible()


def lost_at_the_bench(classroom: Classroom, attempt_id: str) -> list[str]:
    """Hand in; the reasons of whatever at the bench did not earn its full points."""
    now = view(classroom, attempt_id).run.done[-1].at
    practice.hand_in(classroom.database, attempt_id=attempt_id, student=classroom.student, now=now)
    result = practice.result(classroom.database, attempt_id=attempt_id, student=classroom.student)
    judged = {task.id for task in result.lab.variant.scenario.tasks if isinstance(task, BenchTask)}
    marks = [mark for mark in result.marks if mark.task_id in judged]
    assert len(marks) == len(judged) > 0
    return [mark.reason for mark in marks if mark.points < mark.out_of]


@pytest.mark.parametrize(
    ("hands", "window"),
    [(Mouse, {}), (Finger, {"size": PHONE, "touch": True}), (Keys, {})],
    ids=["mouse", "finger", "keyboard"],
)
@pytest.mark.parametrize("slug", ["bench-behind-spokes", "bench-four-assemblies"])
def test_a_lab_is_worked_to_full_marks(
    classroom: Classroom,
    windows: Windows,
    slug: str,
    hands: Callable[[Page], Hands],
    window: dict[str, object],
) -> None:
    attempt_id = classroom.start(classroom.assign(slug))
    page = windows.open(classroom.card, **window)  # type: ignore[arg-type]
    go_to_the_bench(page, attempt_id)
    at_work = hands(page)
    for body in WORKS[slug](view(classroom, attempt_id).variant).log:
        at_work.do(body)
    assert lost_at_the_bench(classroom, attempt_id) == []


def test_a_stale_tab_is_told_and_another_tablet_finds_the_bench_as_it_stands(
    classroom: Classroom, windows: Windows, attempt_id: str
) -> None:
    one, two = windows.open(classroom.card), windows.open(classroom.card)
    go_to_the_bench(one, attempt_id)
    go_to_the_bench(two, attempt_id)
    Mouse(one).do({"do": "bring", "assembly": "A", "to": "balancer"})
    with windows.watch.refusing(409):
        two.locator("form[data-do='look'] button").first.click()
        expect(two.locator("#seen")).to_contain_text("worked on in another window")
    expect(two.locator(".bench-cell-balancer")).to_contain_text("A")
    Mouse(two).do({"do": "look", "assembly": "A", "at": "tread"})
    one.reload()
    expect(one.locator("#seen")).to_contain_text("You look at assembly A")


def test_an_action_whose_reply_was_lost_is_sent_again_and_done_once(
    classroom: Classroom, windows: Windows, attempt_id: str
) -> None:
    page = windows.open(classroom.card)
    go_to_the_bench(page, attempt_id)
    lost: list[str] = []

    def lose_the_first_reply(route: Route) -> None:
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch().text())
            route.abort()
        else:
            route.continue_()

    page.route("**/bench", lose_the_first_reply)
    with windows.watch.server_away():
        page.locator("form[data-do='look'] button[value='tread']").click()
        expect(page.locator("#seen")).to_contain_text("You look at assembly A")
    assert lost
    assert len(view(classroom, attempt_id).run.done) == 1


def test_work_goes_on_where_it_stood_when_the_server_and_the_tablet_both_went_out(
    own_server: Server, own_windows: Windows
) -> None:
    classroom = new_classroom(own_server.database)
    attempt_id = classroom.start(classroom.assign("bench-one-assembly"))
    page = own_windows.open(classroom.card)
    go_to_the_bench(page, attempt_id)
    Mouse(page).do({"do": "bring", "assembly": "A", "to": "balancer"})
    with own_windows.watch.server_away():
        own_server.kill()
        page.locator("form[data-do='clean'] button[value='face']").click()
        expect(page.locator("#seen")).to_contain_text("Not sent yet")
        own_server.start()
        expect(page.locator("#seen")).to_contain_text("are clean")
        own_server.kill()
        page.context.close()
        own_server.start()
    tablet = own_windows.open(classroom.card, size=PHONE, touch=True)
    go_to_the_bench(tablet, attempt_id)
    expect(tablet.locator("#station-head")).to_have_text("Balancer: assembly A")
    expect(tablet.locator("#seen")).to_contain_text("Action 2: Clean mounting face and cone")
    Finger(tablet).do({"do": "cone", "cone": "middle"})
    assert [done.action.DO for done in view(classroom, attempt_id).run.done] == ["bring", "clean", "cone"]


def test_on_a_phone_the_work_stands_over_the_clock(
    classroom: Classroom, windows: Windows, attempt_id: str
) -> None:
    page = windows.open(classroom.card, size=PHONE, touch=True)
    page.goto(f"/labs/attempts/{attempt_id}/bench")
    tops = [
        page.evaluate("(name) => document.querySelector(name).getBoundingClientRect().top + scrollY", name)
        for name in (".bench-floor", "#seen", ".bench-clock")
    ]
    assert tops == sorted(tops)
    assert tops[1] < PHONE["height"]
    page.get_by_role("link", name="Done here: back to the lab").tap()
    expect(page).to_have_url(re.compile(rf"/labs/attempts/{attempt_id}$"))


def test_without_javascript_every_action_is_a_form(
    classroom: Classroom, windows: Windows, attempt_id: str
) -> None:
    page = windows.open(classroom.card, javascript=False)
    page.goto(f"/labs/attempts/{attempt_id}/bench")
    page.get_by_role("button", name="Balancer").click()
    expect(page.locator("#seen")).to_contain_text("Assembly A is now on the balancer")
    page.get_by_role("button", name="Clean mounting face and cone").click()
    expect(page.locator("#seen")).to_contain_text("are clean")


def test_nothing_is_wrong_with_any_station(classroom: Classroom, windows: Windows) -> None:
    attempt_id = classroom.start(classroom.assign("bench-four-assemblies"))
    page = windows.open(classroom.card)
    go_to_the_bench(page, attempt_id)
    require_no_fault(page)
    mouse = Mouse(page)
    for letter, station in (("A", "stand"), ("B", "balancer"), ("C", "gauge"), ("D", "roller")):
        page.set_viewport_size(DESK)  # type: ignore[arg-type]
        mouse.do({"do": "bring", "assembly": letter, "to": station})
        require_no_fault(page)
    page.set_viewport_size(DESK)  # type: ignore[arg-type]
    mouse.do({"do": "raise-car", "at": "lift points"})
    mouse.do({"do": "place", "assembly": "A", "corner": "LF"})
    page.locator("#bench-log > summary").click()
    # From the top: further down the bar that stays in reach may lie over half of any button.
    page.evaluate("scrollTo(0, 0)")
    require_no_fault(page)
