"""Reflection sheets to and fro: written, handed in, asked for again, written anew, returned with points."""

import re
from datetime import datetime

from playwright.sync_api import Page, expect

from app.services import reflection_workflow, reflections
from tests.browser.lab_page import SAVED, save_state
from tests.browser.term.school import Room, School
from tests.browser.term.story import KINDS, OWN_QUESTION, SHEET_OUT_OF, WITH_SHEETS, Pupil, Sheet
from tests.browser.watch import flash_of

COMMENT = "Clear, and true to what you measured."
AGAIN = "Say which one of the four you mean."


def writers(room: Room) -> list[tuple[Pupil, Sheet]]:
    """Who writes a sheet, in the order of the class list."""
    return [(each, sheet) for each in room.pupils if (sheet := KINDS[each.kind].sheet)]


def said(pupil: Pupil, question: int, *, anew: bool = False) -> str:
    """What a student writes: it begins as a formula of a spreadsheet does, and names its writer."""
    end = " The left rear one." if anew else ""
    return f"={question}: I, {pupil.name}, felt it in the seat — “not the wheel”.{end}"


def final(pupil: Pupil, question: int) -> str:
    """What stands on the sheet in the end."""
    sheet = KINDS[pupil.kind].sheet
    return said(pupil, question, anew=sheet is not None and sheet.at_first is not None)


def comment_on(sheet: Sheet) -> str:
    """The instructor's last word about it."""
    return AGAIN if sheet.again else COMMENT


def sheets(school: School, room: Room, *, by_pages: bool) -> None:
    """As the story says. by_pages: the first one, and the one that is written anew."""
    first = writers(room)[0][0]
    for pupil, sheet in writers(room):
        if by_pages and (pupil is first or sheet.at_first is not None):
            through_pages(school, room, pupil, sheet)
        else:
            through_services(school, room, pupil, sheet)


def through_pages(school: School, room: Room, pupil: Pupil, sheet: Sheet) -> None:
    page, desk, lab = school.window_of(room, pupil), school.desk, room.labs[WITH_SHEETS]
    at_the_desk = f"/teaching/assignments/{lab}/reflections/{room.student_id(pupil)}"
    page.goto(f"/labs/assignments/{lab}/reflection")
    expect(page.get_by_role("textbox", name=OWN_QUESTION)).to_be_visible()
    write(page, pupil, anew=False)
    if sheet.at_first is not None:
        desk.goto(at_the_desk)
        desk.get_by_label("Points").fill(str(sheet.at_first))
        with school.windows.watch.refusing(422):
            desk.get_by_role("button", name="Ask to write again").click()
            expect(desk.get_by_role("alert")).to_contain_text("Say what is to be written again")
        desk.get_by_label("Comment").fill(AGAIN)
        desk.get_by_role("button", name="Ask to write again").click()
        expect(flash_of(desk)).to_be_visible()
        page.reload()
        expect(page.get_by_text(AGAIN).first).to_be_visible()
        expect(page.get_by_text(worth(sheet.at_first)).first).to_be_visible()
        write(page, pupil, anew=True)
    desk.goto(at_the_desk)
    desk.get_by_label("Comment").fill(COMMENT)
    desk.get_by_label("Points").fill(str(sheet.points))
    desk.get_by_role("button", name="Return the sheet").click()
    expect(desk.get_by_text(re.compile(f"^returned {worth(sheet.points)}"))).to_be_visible()
    page.reload()
    expect(page.get_by_text(COMMENT).first).to_be_visible()
    expect(page.get_by_text(worth(sheet.points)).first).to_be_visible()


def write(page: Page, pupil: Pupil, *, anew: bool) -> None:
    boxes = page.get_by_role("main").get_by_role("textbox")
    for question, box in enumerate(boxes.all(), 1):
        box.fill(said(pupil, question, anew=anew))
    expect(save_state(page)).to_have_text(SAVED)
    page.get_by_role("button", name="Hand in").click()
    expect(page.get_by_text("Your reflection sheet is handed in.")).to_be_visible()


def worth(points: int | None) -> str:
    return f"{points} of {SHEET_OUT_OF} points"


def through_services(school: School, room: Room, pupil: Pupil, sheet: Sheet) -> None:
    """Handed in a day ago; what is written anew, half a day ago."""
    _hand_in(school, room, pupil, school.at(-1), anew=False)
    if sheet.at_first is not None:
        _give_back(school, room, pupil, again=True, points=sheet.at_first, seen_steps=1)
        _hand_in(school, room, pupil, school.at(-0.5), anew=True)
    seen_steps = 1 if sheet.at_first is None else 3
    _give_back(school, room, pupil, again=sheet.again, points=sheet.points, seen_steps=seen_steps)


def _hand_in(school: School, room: Room, pupil: Pupil, now: datetime, *, anew: bool) -> None:
    own = {
        "database": school.database,
        "student": room.persons[pupil.name],
        "assignment_id": room.labs[WITH_SHEETS],
        "now": now,
    }
    asked = reflections.sheet(**{name: each for name, each in own.items() if name != "now"}).prompts
    for question, prompt in enumerate(asked, 1):
        reflections.save(**own, prompt_id=prompt.id, text=said(pupil, question, anew=anew))
    reflection_workflow.hand_in(**own)


def _give_back(
    school: School, room: Room, pupil: Pupil, *, again: bool, points: int | None, seen_steps: int
) -> None:
    reflection_workflow.give_back(
        **school.by(),
        assignment_id=room.labs[WITH_SHEETS],
        student_id=room.student_id(pupil),
        again=again,
        comment=AGAIN if again else COMMENT,
        points=points,
        seen_steps=seen_steps,
    )
