"""How a page gets on the screen in one of its states: who asks for it, and the steps to it."""

from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Page, expect

from app.services.accounts import Person
from app.services.cards import Card
from tests.browser.school import scenario_id
from tests.browser.stage import Stage

Go = Callable[[Page, Stage], object]


@dataclass(frozen=True)
class Visit:
    """endpoint: whose answer is on the screen in the end; "" for an error page. refused: its status."""

    endpoint: str
    state: str
    who: Callable[[Stage], Card | None]
    go: Go
    refused: int | None = None

    @property
    def name(self) -> str:
        return f"{self.endpoint or 'error'}, {self.state}"


def nobody(_: Stage) -> None:
    return None


def instructor(stage: Stage) -> Card:
    return stage.classroom.instructor_card


def fresh_instructor(stage: Stage) -> Card:
    return stage.fresh.instructor_card


def newcomer(stage: Stage) -> Card:
    return stage.newcomer


def student(stage: Stage) -> Card:
    return stage.classroom.card


def fresh_student(stage: Stage) -> Card:
    return stage.fresh.card


def lonely_student(stage: Stage) -> Card:
    return stage.lonely_student


def at(address: str | Callable[[Stage], str]) -> Go:
    """Open an address; in a text `{stage.put_away}` stands for what the stage has under that name."""
    return lambda page, stage: page.goto(
        address.format(stage=stage) if isinstance(address, str) else address(stage)
    )


def then(*steps: Go) -> Go:
    """One step after another."""

    def go(page: Page, stage: Stage) -> None:
        for step in steps:
            step(page, stage)

    return go


def press(name: str) -> Go:
    return lambda page, _: page.get_by_role("button", name=name).first.click()


def fill(label: str, text: str) -> Go:
    return lambda page, _: page.get_by_label(label, exact=True).fill(text)


def tick(whom: Callable[[Stage], Person]) -> Go:
    """The box beside a student's name in the list of a class."""
    return lambda page, stage: page.locator(f"input[value='{whom(stage).public_id}']").check()


def unfold(page: Page, _: Stage) -> None:
    """Open every folded part, so that what is in it is looked at too."""
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")


def told_of_faults(page: Page, _: Stage) -> None:
    expect(page.get_by_role("alert")).to_be_visible()


def the_class(rest: str = "") -> Go:
    return at(lambda stage: f"/teaching/classes/{stage.classroom.class_id}{rest}")


def the_fresh_class(rest: str = "") -> Go:
    return at(lambda stage: f"/teaching/classes/{stage.fresh.class_id}{rest}")


def the_student(rest: str) -> Go:
    return the_class_of(lambda stage: stage.classroom.student.public_id, rest)


def the_assignment(rest: str = "") -> Go:
    """A page of the assignment whose lab is handed in."""
    return at(lambda stage: f"/teaching/assignments/{stage.handed_in}{rest}")


def the_exception(page: Page, stage: Stage) -> None:
    """What is otherwise for the student at that assignment."""
    the_assignment(f"/exceptions/{stage.classroom.student.public_id}")(page, stage)


def the_grade(page: Page, stage: Stage) -> None:
    """Of the student at the lab that is handed in."""
    page.goto(f"/teaching/assignments/{stage.handed_in}/students/{stage.classroom.student.public_id}")


def the_class_of(student_id: Callable[[Stage], str], rest: str) -> Go:
    return at(
        lambda stage: f"/teaching/classes/{stage.classroom.class_id}/students/{student_id(stage)}{rest}"
    )


def scenario(slug: str, rest: str = "") -> Go:
    return at(lambda stage: f"/teaching/scenarios/{scenario_id(stage.server.database, slug)}{rest}")


def a_class_without_calculators(stage: Stage) -> Card:
    return stage.no_calculators


def calculator(slug: str, entries: str = "") -> Go:
    return at(f"/calculators/{slug}{entries}")


def bench(station: str) -> Go:
    return at(lambda stage: f"/labs/attempts/{stage.bench}/bench?station={station}")


def fill_first(selector: str, text: str) -> Go:
    return lambda page, _: page.locator(selector).first.fill(text)


def send_past_the_script(selector: str) -> Go:
    """Send a form as a browser without JavaScript does, also where nothing on the page would."""

    def go(page: Page, _: Stage) -> None:
        with page.expect_navigation():
            page.evaluate("selector => document.querySelector(selector).submit()", selector)

    return go
