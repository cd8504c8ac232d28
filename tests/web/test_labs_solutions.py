"""Worked solutions on the result: with the marks, or once the lab is closed; instructors see them at once."""

from datetime import timedelta
from html import unescape

from app.domain.standing import Solutions
from app.services import practice
from tests.web.given import give, hand_in

STEP = "static unbalance ÷ radius of the inboard plane"


def address(lab) -> str:
    return f"/labs/attempts/{lab.attempt_id}/result"


def test_a_worked_solution_puts_the_own_numbers_in(pupil_client, database, class_id, teacher, pupil, now):
    given = give(database, class_id=class_id, instructor=teacher, now=now)
    lab = hand_in(database, assignment_id=given, student=pupil, now=now)
    page = unescape(pupil_client.get(address(lab)).text)
    assert page.count("Worked solution") >= 8
    assert STEP in page
    right = practice.result(database, attempt_id=lab.attempt_id, student=pupil)
    single = next(mark for mark in right.marks if mark.task_id == "single-mass")
    assert f"<p>= <b>{single.right_answer}</b></p>" in page


def test_it_waits_for_the_closing_where_the_rules_say_so(
    pupil_client, teacher_client, database, class_id, teacher, pupil, now, clock
):
    rules = {
        "due_at": now + timedelta(hours=1),
        "closes_at": now + timedelta(hours=2),
        "solutions": Solutions.AFTER_CLOSING,
    }
    given = give(database, class_id=class_id, instructor=teacher, now=now, **rules)
    lab = hand_in(database, assignment_id=given, student=pupil, now=now)
    page = unescape(pupil_client.get(address(lab)).text)
    assert STEP not in page
    assert "Worked solutions are shown here once the lab is closed." in page
    assert STEP in unescape(teacher_client.get(f"/teaching/attempts/{lab.attempt_id}").text)
    clock.advance(hours=3)
    assert STEP in unescape(pupil_client.get(address(lab)).text)
