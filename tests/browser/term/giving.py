"""Eight labs are given to both classes: to one through the pages, to the other through the services."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, expect

from app.domain.standing import Counts, Exceptional
from app.services import assignments, categories, classes, exceptions, reflection_prompts
from tests.browser.school import scenario_id
from tests.browser.term.school import Room, School
from tests.browser.term.story import (
    LABS,
    OWN_QUESTION,
    SHEET_OUT_OF,
    TIME_ZONE,
    WEIGHTS,
    WITH_SHEETS,
    LabRules,
)
from tests.browser.watch import flash_of

COUNTS_LABELS = {
    Counts.BEST: "The best",
    Counts.LAST: "The last one handed in",
    Counts.AVERAGE: "The average of those handed in",
}
AWAY, ILL = "was at a contest", "ill that week"


def through_the_pages(school: School, room: Room) -> None:
    page = school.desk
    for number, rules in LABS.items():
        give(school, room, number, rules)
    weigh(page, room)
    everyone = {
        "excused": (2, {"Excused": True, "Reason": ILL}),
        "extended": (1, {"Attempts allowed": "4", "Reason": "the first ones were done with a partner"}),
        "early": (8, {"Opens": on_the_clock(school.at(-1)), "Reason": AWAY}),
    }
    for kind, (number, entries) in everyone.items():
        make_exception(page, room, kind, number, entries)
    make_exception(page, room, "extended", 7, {"Due": on_the_clock(school.at(1)), "Reason": AWAY})
    [extended] = room.of_kind("extended")
    page.goto(f"/teaching/classes/{room.class_id}/students/{room.student_id(extended)}/extra-time")
    page.get_by_label("Times the usual time").fill("1.5")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("definition").filter(has_text="1.5 times")).to_be_visible()
    page.goto(f"/teaching/assignments/{room.labs[WITH_SHEETS]}/reflections/questions")
    page.get_by_label("Another question").fill(OWN_QUESTION)
    page.get_by_role("button", name="Add the question").click()
    expect(page.get_by_role("rowheader", name=OWN_QUESTION)).to_be_visible()
    page.get_by_label("Points for a sheet").fill(str(SHEET_OUT_OF))
    page.get_by_role("button", name="Keep the points").click()


def on_the_clock(moment: datetime) -> str:
    """As the box for a date and time takes it."""
    return f"{moment.astimezone(ZoneInfo(TIME_ZONE)):%Y-%m-%dT%H:%M}"


def give(school: School, room: Room, number: int, rules: LabRules) -> None:
    page = school.desk
    page.goto(f"/teaching/scenarios/{scenario_id(school.database, rules.slug)}/assign")
    page.get_by_label("Class", exact=True).select_option(room.class_id)
    page.get_by_label("Title").fill(rules.title)
    for label, days in {"Opens": rules.opens, "Due": rules.due, "Closes": rules.closes}.items():
        page.get_by_label(label, exact=True).fill("" if days is None else on_the_clock(school.at(days)))
    page.get_by_label("Attempts allowed").fill("" if rules.attempts is None else str(rules.attempts))
    page.get_by_label(COUNTS_LABELS[rules.counts]).check()
    page.get_by_label("Time limit in minutes").fill("" if rules.minutes is None else str(rules.minutes))
    page.get_by_label("Late work loses").fill(f"{rules.late_percent:g}" if rules.late_percent else "")
    page.get_by_label("Late work keeps").fill(f"{rules.late_floor:g}" if rules.late_floor else "")
    if rules.after:
        first, percent = rules.after
        page.get_by_label("Opens after another lab").select_option(LABS[first].title)
        page.get_by_label("Share to reach there first").fill(f"{percent:g}")
    page.get_by_label("Practice").set_checked(rules.practice)
    page.get_by_role("button", name="Give to the class").click()
    expect(flash_of(page)).to_contain_text(f"{rules.title} is given to the class.")
    room.labs[number] = page.url.rpartition("/")[2]


def weigh(page: Page, room: Room) -> None:
    """Categories with weights, and which lab counts in which."""
    page.goto(f"/teaching/classes/{room.class_id}/categories")
    for name, (weight, dropped) in WEIGHTS.items():
        last = page.locator("section").filter(has=page.get_by_role("heading", name="One more category"))
        last.get_by_label("Name").fill(name)
        last.get_by_label("Weight").fill(str(weight))
        last.get_by_label("Lowest that don’t count").fill(str(dropped))
        last.get_by_role("button", name="Add the category").click()
        expect(page.get_by_role("heading", name=name, exact=True)).to_be_visible()
    for rules in LABS.values():
        if rules.category:
            page.get_by_label(rules.title, exact=True).select_option(rules.category)
    page.get_by_role("button", name="Save where they count").click()
    expect(flash_of(page)).to_be_visible()


def make_exception(page: Page, room: Room, kind: str, number: int, entries: dict[str, str | bool]) -> None:
    """For the one student of this kind."""
    [pupil] = room.of_kind(kind)
    page.goto(f"/teaching/assignments/{room.labs[number]}/exceptions/{room.student_id(pupil)}")
    for label, entry in entries.items():
        if entry is True:
            page.get_by_label(label).check()
        else:
            page.get_by_label(label, exact=True).fill(str(entry))
    page.get_by_role("button", name="Save the exception").click()
    expect(flash_of(page)).to_contain_text(f"The rules for {pupil.name} are changed.")


def through_the_services(school: School, room: Room) -> None:
    """The same for the other class."""
    own = {**school.by(), "class_id": room.class_id}
    weighed = {
        name: categories.add_category(**own, name=name, weight=weight, drop_lowest=dropped)
        for name, (weight, dropped) in WEIGHTS.items()
    }
    for number, rules in LABS.items():
        first, percent = rules.after or (None, None)
        room.labs[number] = assignments.assign(
            **own,
            scenario_id=scenario_id(school.database, rules.slug),
            title=rules.title,
            opens_at=school.at(rules.opens),
            due_at=school.at(rules.due),
            closes_at=None if rules.closes is None else school.at(rules.closes),
            attempts_allowed=rules.attempts,
            counts=rules.counts,
            late_percent_per_day=rules.late_percent,
            late_floor_percent=rules.late_floor,
            minutes=rules.minutes,
            practice=rules.practice,
            unlock_after=None if first is None else room.labs[first],
            unlock_percent=percent,
        )
        if rules.category:
            categories.put_in_category(
                **own, assignment_id=room.labs[number], category_id=weighed[rules.category]
            )
    own_rules: list[tuple[str, int, dict[str, Any]]] = [
        ("excused", 2, {"excused": True, "reason": ILL}),
        ("extended", 1, {"attempts_allowed": 4}),
        ("extended", 7, {"due_at": school.at(1), "reason": AWAY}),
        ("early", 8, {"opens_at": school.at(-1)}),
    ]
    for kind, number, rule in own_rules:
        [pupil] = room.of_kind(kind)
        exceptions.set_exception(
            **school.by(),
            assignment_id=room.labs[number],
            student_id=room.student_id(pupil),
            exception=Exceptional(**rule),
        )
    [extended] = room.of_kind("extended")
    classes.set_extra_time(**own, student_id=room.student_id(extended), extra_time_factor=1.5)
    lab = {**school.by(), "assignment_id": room.labs[WITH_SHEETS]}
    reflection_prompts.add_prompt(**lab, text=OWN_QUESTION)
    reflection_prompts.set_points(**lab, out_of=SHEET_OUT_OF)
