"""What tells people whether their work is safe: the receipt of a hand-in, the age of the backup."""

import re

from app.services import upkeep
from tests.web.conftest import signed_in
from tests.web.given import give, hand_in


def test_a_student_and_the_instructor_see_the_same_receipt_each_time(
    database, class_id, teacher, pupil, pupil_client, teacher_client, now
):
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now, slug="one-plane")
    receipts = [
        receipt_on(
            pupil_client,
            teacher_client,
            hand_in(database, assignment_id=assignment_id, student=pupil, now=now),
        )
        for _ in range(2)
    ]
    assert receipts[0] != receipts[1]


def receipt_on(pupil_client, teacher_client, lab) -> str:
    pages = [f"/labs/attempts/{lab.attempt_id}/result", f"/teaching/attempts/{lab.attempt_id}"]
    shown = [
        re.findall(r"\b[0-9A-F]{4}-[0-9A-F]{4}\b", client.get(page).text)
        for client, page in zip((pupil_client, teacher_client), pages, strict=True)
        for _ in range(2)
    ]
    assert shown == [[lab.receipt]] * 4
    return lab.receipt


def test_an_old_backup_is_told_to_instructors_with_the_command(
    app, database, teacher, pupil, clock, tmp_path
):
    clock.advance(days=3)
    assert "heavyspot backup" not in signed_in(app, teacher).get("/teaching").text
    clock.advance(days=3)
    page = signed_in(app, teacher).get("/teaching").text
    assert "No backup for 9 days" in page
    assert "heavyspot backup FILE" in page
    assert "backup" not in signed_in(app, pupil).get("/labs").text.lower()
    upkeep.backup(database, file=tmp_path / "now.db", now=clock())
    assert "heavyspot backup" not in signed_in(app, teacher).get("/teaching").text
