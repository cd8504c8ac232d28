"""A running lab on the instructor's screen: it changes by itself, and says when the server is gone."""

from datetime import UTC, datetime

from playwright.sync_api import expect

from app.services import practice
from tests.browser.school import Classroom
from tests.browser.watch import Windows


def test_a_watched_lab_shows_by_itself_what_students_do(windows: Windows, classroom: Classroom) -> None:
    assignment_id = classroom.assign("two-plane-balance")
    page = windows.open(classroom.instructor_card)
    page.goto(f"/teaching/assignments/{assignment_id}/room")
    seat = page.get_by_role("row").filter(has_text="Sam Okafor")
    expect(seat).to_contain_text("not started")
    attempt_id = classroom.start(assignment_id)
    practice.save_answers(
        classroom.database,
        attempt_id=attempt_id,
        student=classroom.student,
        answers={"single-angle": "10"},
        now=datetime.now(UTC),
    )
    expect(seat).to_contain_text("1 of 11 answers", timeout=15_000)
    expect(page.get_by_role("status").filter(has_text="1 working")).to_be_attached()
    with windows.watch.server_away():
        page.context.set_offline(True)
        expect(page.get_by_text("No answer from the server")).to_be_visible(timeout=15_000)
        page.context.set_offline(False)
    expect(page.get_by_text("No answer from the server")).to_be_hidden(timeout=15_000)
