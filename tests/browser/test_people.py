"""Class lists and one-time codes, as an instructor and a student meet them."""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect

from app.services import classes
from tests.browser.lab_page import touch
from tests.browser.looks import require_no_fault
from tests.browser.school import Classroom
from tests.browser.watch import DESK, PHONE, Windows, flash_of

pytestmark = pytest.mark.browser

LIST = "Student ID;Last name;First name\n0017;Núñez;Ana Lucia\n0018;=1+1;Eve\n0019;Diaz;Bo\n"


def send(page: Page, classroom: Classroom, text: str) -> None:
    page.goto(f"/teaching/classes/{classroom.class_id}/class-list")
    page.get_by_label("File").set_input_files(
        {"name": "list.csv", "mimeType": "text/csv", "buffer": text.encode("cp1252")}
    )
    touch(page.get_by_role("button", name="Look at the list"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Look at the list")


def row(page: Page, name: str):  # type: ignore[no-untyped-def]
    return (
        page.get_by_role("table", name="What taking the list does").get_by_role("row").filter(has_text=name)
    )


def test_a_class_list_is_looked_at_mended_taken_and_taken_again(
    windows: Windows, classroom: Classroom
) -> None:
    page = windows.open(classroom.instructor_card)
    send(page, classroom, LIST)
    expect(page.get_by_role("definition").filter(has_text="Windows-1252")).to_be_visible()
    expect(row(page, "Núñez, Ana Lucia")).to_contain_text("new student")
    expect(row(page, "=1+1")).to_contain_text("formula")
    expect(page.get_by_label("Last name")).to_have_value("1")
    require_no_fault(page)
    page.set_viewport_size(DESK)  # type: ignore[arg-type]
    with windows.watch.refusing(422):
        touch(page.get_by_role("button", name="Take the list"))
        expect(page.get_by_role("alert")).to_contain_text("1 line has a fault")
    page.get_by_label("Student number").select_option("none")
    touch(page.get_by_role("button", name="Read it this way"))
    expect(row(page, "Núñez, Ana Lucia")).not_to_contain_text("0017")

    mended = LIST.replace("=1+1", "Lind")
    send(page, classroom, mended)
    touch(page.get_by_role("button", name="Take the list"))
    expect(page.get_by_role("heading", name="Sign-in cards")).to_be_visible()
    expect(page.get_by_role("heading", level=2)).to_have_text(["Ana Lucia Núñez", "Eve Lind", "Bo Diaz"])
    send(page, classroom, mended)
    for name in ("Núñez", "Lind", "Diaz"):
        expect(row(page, name)).to_contain_text("no change")
    touch(page.get_by_role("button", name="Take the list"))
    expect(flash_of(page)).to_contain_text("Nothing has changed")
    detail = classes.class_page(
        classroom.database, class_id=classroom.class_id, instructor=classroom.instructor
    )
    assert [each.sort_name for each in detail.students] == [
        "Diaz, Bo",
        "Lind, Eve",
        "Núñez, Ana Lucia",
        "Okafor, Sam",
    ]


def test_a_student_without_a_card_comes_in_with_a_code_on_a_phone(
    windows: Windows, classroom: Classroom
) -> None:
    instructor = windows.open(classroom.instructor_card)
    student_id = classroom.student.public_id
    instructor.goto(f"/teaching/classes/{classroom.class_id}/students/{student_id}/settings")
    touch(instructor.get_by_role("button", name="Make a code"))
    code = instructor.locator(".shown-once").inner_text()
    assert re.fullmatch(r"\d{3} \d{3}", code)

    phone = windows.open(size=PHONE, touch=True)
    phone.goto("/sign-in")
    touch(phone.get_by_role("link", name="sign in with a code"))
    require_no_fault(phone)
    phone.get_by_label("Sign-in name").fill(classroom.student.sign_in_name)
    phone.get_by_label("Code").fill("000 000" if code != "000 000" else "111 111")
    with windows.watch.refusing(422):
        touch(phone.get_by_role("button", name="Set the new pass phrase"))
        expect(phone.get_by_role("alert")).to_contain_text("don’t belong together")
    phone.get_by_label("Code").fill(code)
    touch(phone.get_by_role("button", name="Set the new pass phrase"))
    expect(phone.get_by_role("heading", name="Your new pass phrase")).to_be_visible()
    phrase = phone.locator(".shown-once").inner_text()
    assert len(phrase.split()) == 3
    touch(phone.get_by_role("link", name="I have written it down"))
    expect(phone.get_by_role("heading", name="Your labs")).to_be_visible()

    again = windows.open(size=PHONE, touch=True)
    again.goto("/sign-in")
    again.get_by_label("Sign-in name").fill(classroom.student.sign_in_name)
    again.get_by_label("Pass phrase", exact=True).fill(phrase)
    touch(again.get_by_role("button", name="Sign in"))
    expect(again.get_by_role("heading", name="Your labs")).to_be_visible()


def test_a_deleted_student_is_gone_from_the_class_and_from_the_file(
    windows: Windows, classroom: Classroom
) -> None:
    name = f"Quillon Vantreight {datetime.now(UTC):%H}"
    student, _ = classroom.another_student(name)
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/classes/{classroom.class_id}/students/{student.public_id}/settings")
    touch(page.get_by_role("link", name=f"Delete {name}"))
    require_no_fault(page)
    page.set_viewport_size(DESK)  # type: ignore[arg-type]
    page.get_by_label("The student’s name").fill(name)
    touch(page.get_by_role("button", name="Delete for good"))
    expect(page.get_by_text("written anew")).to_be_visible()
    file = classroom.database.file
    assert file is not None
    everything = b"".join(path.read_bytes() for path in file.parent.glob(file.name + "*"))
    assert b"Vantreight" not in everything
