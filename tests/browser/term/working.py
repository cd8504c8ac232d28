"""Students work: a few in their browsers, most through the services at the times the story says."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from app.domain.answers import Raw
from app.domain.tasks import ChoiceTask
from app.domain.variants import Variant
from app.services import practice
from app.services.accounts import Person
from app.services.errors import Refused
from tests.browser import lab_page
from tests.browser.term.school import Room, School
from tests.browser.term.story import KINDS, LABS, Pupil, Try
from tests.services.lessons import right_answers

TEXT_TASK = "driver"


def everyone(school: School, room: Room, *, by_pages: bool) -> None:
    """Lab after lab, so that what comes first is done first. by_pages: what the story has for a browser."""
    for number in LABS:
        for pupil in room.pupils:
            for one in KINDS[pupil.kind].labs.get(number, ()):
                if one.in_browser and by_pages:
                    in_a_browser(school, room, pupil, number, one)
                else:
                    work(school, room, pupil, number, one)


def work(school: School, room: Room, pupil: Pupil, number: int, one: Try) -> None:
    student = room.persons[pupil.name]
    ends = school.at(LABS[number].due + one.days)
    own = {"database": school.database, "student": student}
    attempt_id = practice.start_attempt(
        **own, assignment_id=room.labs[number], now=ends - timedelta(minutes=one.minutes)
    )
    own |= {"attempt_id": attempt_id}
    variant = practice.lab(school.database, attempt_id=attempt_id, student=student).variant
    practice.save_answers(**own, answers=earning(variant, one), now=ends)
    if not one.left_open:
        practice.hand_in(**own, now=ends)
    elif LABS[number].minutes:
        with pytest.raises(Refused, match="came too late and is not kept"):
            practice.save_answers(**own, answers=right_answers(variant), now=ends + timedelta(minutes=6))


def earning(variant: Variant, one: Try) -> dict[str, Raw]:
    """Right answers from the first question on that earn just so many points. After them choices that are the
    same for everybody are made wrong, and the rest stays blank."""
    right, chosen, points = right_answers(variant), {}, 0.0
    for task in variant.scenario.tasks:
        if points < one.points and task.id != TEXT_TASK:
            chosen[task.id] = right[task.id]
            points += task.points
        elif isinstance(task, ChoiceTask) and task.right is not None:
            chosen[task.id] = next(each.id for each in task.options if each.id != task.right)
    assert points == one.points, f"{points} points are not the {one.points} of the story"
    if one.text is not None:
        chosen[TEXT_TASK] = "The heaviest load stands behind, the smoothest of the rest under the driver."
    return chosen


def in_a_browser(school: School, room: Room, pupil: Pupil, number: int, one: Try) -> None:
    """From the student's list to the marks."""
    page = school.window_of(room, pupil)
    page.goto("/labs")
    row = page.get_by_role("listitem").filter(has_text=LABS[number].title)
    row.get_by_role("link", name="Open the lab").click()
    page.get_by_role("button", name="Start the lab").click()
    attempt_id = lab_page.attempt_id_of(page)
    student: Person = room.persons[pupil.name]
    variant = practice.lab(school.database, attempt_id=attempt_id, student=student).variant
    lab_page.give_all(page, variant, earning(variant, one))
    lab_page.hand_in(page)
    result = practice.result(school.database, attempt_id=attempt_id, student=student)
    assert result
    assert result.points == one.points


def closed_doors(school: School, room: Room) -> None:
    """No lab can be started before it opens, after it closed, before another one is worked, or once more than
    is allowed; the page says why."""
    doors = {
        ("missing", 6): "once you have reached 50 % of the points at “Lab 1: The shelf”",
        ("missing", 4): "This lab closed",
        ("missing", 8): "This lab opens",
        ("of several attempts", 2): "Every attempt is used.",
    }
    for (kind, number), why in doors.items():
        page = school.window_of(room, room.of_kind(kind)[0])
        page.goto(f"/labs/assignments/{room.labs[number]}")
        expect(page.get_by_text(why).first).to_be_visible()
        expect(page.get_by_role("button", name="Start the lab")).to_have_count(0)
