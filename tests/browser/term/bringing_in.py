"""Sixty students come in: thirty by a class list, thirty by the school's roster."""

import csv
from io import StringIO

from playwright.sync_api import Page, expect

from app.services import classes
from app.services.cards import Card
from tests.browser.lab_page import cells
from tests.browser.term.school import Room, School, meet
from tests.browser.term.story import TIME_ZONE
from tests.services import roster_zips

FORMULA = ("9999", "=1+1", "Eve")
ROSTER_CLASS = "c-5"


def by_class_list(school: School) -> None:
    """The list is looked at, its one fault is shown by its line and left out, and it can be taken again."""
    room, page = school.by_list, school.desk
    page.goto("/teaching/classes/new")
    page.get_by_label("Name of the class").fill(room.title)
    page.get_by_label("Time zone").select_option(TIME_ZONE)
    page.get_by_role("button", name="Make the class").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(room.title)
    room.class_id = page.url.rpartition("/")[2]
    text = StringIO()
    rows = [(each.number, each.family, each.given) for each in room.pupils]
    csv.writer(text).writerows([("Student ID", "Last name", "First name"), *rows, FORMULA])

    send(page, room, text.getvalue())
    expect(page.get_by_text("30 new students, 1 with a fault")).to_be_visible()
    _, faulty, *planned = cells(page, "What taking the list does")
    assert (faulty[0], faulty[1][:4]) == ("32", "=1+1")
    assert "formula" in faulty[3]
    assert [row[:3] for row in planned] == [
        [str(line), each.sort_name, each.number] for line, each in enumerate(room.pupils, 2)
    ]
    assert all(row[3].endswith("new student") for row in planned)
    page.get_by_label("Leave out the lines with a fault").check()
    page.get_by_role("button", name="Take the list").click()
    meet(school, room, cards_on(page))
    assert list(room.cards) == [each.name for each in room.pupils]

    send(page, room, text.getvalue())
    expect(page.get_by_text("30 as they are, 1 with a fault")).to_be_visible()


def by_roster(school: School) -> None:
    """The roster of the school's own program makes the class with its students."""
    room, page = school.by_roster, school.desk
    content = roster_zips.roster_zip(
        users=[
            *(
                roster_zips.user(roster_id(each.number), each.given, each.family, each.number)
                for each in room.pupils
            ),
            roster_zips.TEACHER,
        ],
        classes=[roster_zips.a_class(ROSTER_CLASS, room.title)],
        enrollments=[
            *(roster_zips.enrolled(ROSTER_CLASS, roster_id(each.number)) for each in room.pupils),
            roster_zips.enrolled(ROSTER_CLASS, "t1", role="teacher"),
        ],
    )
    page.goto("/teaching/roster")
    page.get_by_label("File").set_input_files(
        {"name": "roster.zip", "mimeType": "application/zip", "buffer": content}
    )
    page.get_by_role("button", name="Look at its classes").click()
    page.get_by_role("combobox", name=room.title).select_option("Make a new class")
    page.get_by_label("Time zone").select_option(TIME_ZONE)
    page.get_by_role("button", name="See what it does").click()
    expect(page.get_by_text("30 new students")).to_be_visible()
    page.get_by_role("button", name="Take these classes").click()
    meet(school, room, cards_on(page))
    assert set(room.cards) == {each.name for each in room.pupils}
    rows = classes.classes_of(school.database, instructor=school.instructor)
    room.class_id = next(row.public_id for row in rows if row.public_id != school.by_list.class_id)


def roster_id(number: str) -> str:
    """As the school's program calls a student."""
    return f"u-{number}"


def send(page: Page, room: Room, text: str) -> None:
    page.goto(f"/teaching/classes/{room.class_id}/class-list")
    page.get_by_label("File").set_input_files(
        {"name": "list.csv", "mimeType": "text/csv", "buffer": text.encode()}
    )
    page.get_by_role("button", name="Look at the list").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Look at the list")


def cards_on(page: Page) -> dict[str, Card]:
    """The cards on the page, by the students' names."""
    expect(page.get_by_role("heading", name="Sign-in cards")).to_be_visible()
    cards = page.locator(".sign-in-card").evaluate_all(
        "cards => cards.map(card => [card.querySelector('h2'), ...card.querySelectorAll('dd')]"
        ".map(each => each.innerText))"
    )
    return {name: Card(name, sign_in_name, phrase) for name, _, sign_in_name, phrase in cards}
