"""Working a lab in a window: every control is found by what a person reads beside it."""

import re
from collections.abc import Mapping
from typing import Any, Literal

from playwright.sync_api import Locator, Page, expect

from app.domain.answers import Raw
from app.domain.tasks import AnyTask, ChoiceTask, OrderTask, PlacementTask, SeveralTask, SpotsTask
from app.domain.variants import Variant
from tests.browser.watch import PHONE

SAVED = re.compile(r"^Saved$")


def save_state(page: Page) -> Locator:
    return page.locator("[data-save-state]")


def field(page: Page, task: AnyTask, variant: Variant) -> Locator:
    """The box of a task that is answered by typing. A lab may ask two things in the same words."""
    if isinstance(task, SpotsTask):
        return page.get_by_role("textbox", name=task.prompt)  # the drawing has the same label
    same_words = [each.id for each in variant.scenario.tasks if each.prompt == task.prompt]
    return page.get_by_label(task.prompt, exact=True).nth(same_words.index(task.id))


def group(page: Page, task: AnyTask) -> Locator:
    """The choices or the four corners of a task."""
    return page.get_by_role("group", name=task.prompt)


def option(page: Page, task: AnyTask, value: str) -> Locator:
    if isinstance(task, ChoiceTask):
        words = next(each.text for each in task.options if each.id == value)
    else:
        own = task.options if isinstance(task, SeveralTask) else ()
        assemblies = "None of them" if value == "none" else f"Assembly {value}"
        words = next((each.text for each in own if each.id == value), assemblies)
    return group(page, task).get_by_label(words, exact=True)


def step(page: Page, task: OrderTask, name: str) -> Locator:
    """The box for the place of one step."""
    return group(page, task).get_by_label(task.step(name).text, exact=True)


def corner(page: Page, task: AnyTask, position: str) -> Locator:
    return group(page, task).get_by_label(re.compile(rf"\b{position}\b"))


def give(page: Page, task: AnyTask, variant: Variant, answer: Raw) -> None:
    """Put one answer in, by the finger in a window that has one."""
    if isinstance(task, ChoiceTask | SeveralTask):
        for value in [answer] if isinstance(answer, str) else answer or []:
            touch(option(page, task, value))
    elif isinstance(task, PlacementTask):
        assert isinstance(answer, Mapping)
        for position, letter in answer.items():
            corner(page, task, position).select_option(f"Assembly {letter}")
    elif isinstance(task, OrderTask):
        assert isinstance(answer, Mapping)
        for name, place in sorted(answer.items(), key=lambda each: int(each[1])):
            box = step(page, task, name)
            box.fill(place)
            box.press("Enter")
    else:
        field(page, task, variant).fill(str(answer))


def give_all(page: Page, variant: Variant, answers: Mapping[str, Raw]) -> None:
    """Every answer, then wait until the page says that all of it is saved."""
    for task in variant.scenario.tasks:
        if task.id in answers:
            give(page, task, variant, answers[task.id])
    expect(save_state(page)).to_have_text(SAVED)


def touch(target: Locator) -> None:
    """Tap in a window as narrow as a phone, click in a wider one."""
    size = target.page.viewport_size
    if size and size["width"] <= PHONE["width"]:
        target.tap()
    else:
        target.click()


def attempt_id_of(page: Page) -> str:
    found = re.search(r"/attempts/(\w[\w-]*)", page.url)
    assert found, page.url
    return found[1]


def hand_in(page: Page) -> None:
    """From the lab over the last look to the result."""
    touch(page.get_by_role("button", name="Check and hand in"))
    page.wait_for_url("**/hand-in")
    touch(page.get_by_role("button", name=re.compile("^Hand in")))
    page.wait_for_url("**/result")


def marked(page: Page, task: AnyTask, variant: Variant) -> Locator:
    """The marked answer to a task on a result."""
    same_title = [each.id for each in variant.scenario.tasks if each.title == task.title]
    return (
        page.get_by_role("article")
        .filter(has=page.get_by_role("heading", name=re.compile(rf"^[\d.]+ {re.escape(task.title)}$")))
        .nth(same_title.index(task.id))
    )


def cells(page: Page, caption: str, *, role: Literal["table", "grid"] = "table") -> list[list[str]]:
    """The text of every row of the table with this caption, heads and feet included."""
    table = page.get_by_role(role, name=re.compile(caption)).first
    read: Any = table.evaluate(
        "table => [...table.rows].map(row => [...row.cells].map(cell => cell.innerText.trim()))"
    )
    return list(read)
