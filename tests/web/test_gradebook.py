"""The gradebook as a page and as a table for a spreadsheet."""

import csv
import io
from datetime import timedelta
from xml.etree.ElementTree import Element

import html5lib
import pytest
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.services.accounts import Person
from app.store.db import Database
from app.web.formatting import number
from tests import factories
from tests.web.checks import XHTML
from tests.web.given import begin, give, hand_in

WRONG = {"why-two": "looks", "left-kind": "none"}
"""One point each of 15."""


@pytest.fixture
def worked(database: Database, class_id: str, teacher: Person, now) -> dict[str, str]:
    """Three students at two labs: handed in twice, late, open, missing, not started. Some ids by name."""
    ann, bo, cy = (
        factories.student(database, class_id=class_id, instructor=teacher, name=name)
        for name in ("Ann Zorn", "Bo Yates", "Cy Xu")
    )
    past = give(
        database,
        class_id=class_id,
        instructor=teacher,
        now=now,
        title='=SUM(1;2) "sum", past',
        opens_at=now - timedelta(days=9),
        due_at=now - timedelta(days=2),
    )
    present = give(database, class_id=class_id, instructor=teacher, now=now, title="Lab 2")
    early = now - timedelta(days=5)
    hand_in(database, assignment_id=past, student=ann, now=early, instead=WRONG)
    best = hand_in(database, assignment_id=past, student=ann, now=early, instead={"why-two": "looks"})
    late = hand_in(database, assignment_id=past, student=bo, now=now - timedelta(days=1))
    still_open = begin(database, assignment_id=present, student=bo, now=now)
    hand_in(database, assignment_id=present, student=cy, now=now, instead=WRONG)
    return {
        "past": past,
        "best": best.attempt_id,
        "late": late.attempt_id,
        "open": still_open.attempt_id,
    }


def words(element: Element) -> str:
    return " ".join(" ".join(element.itertext()).split())


def table(html: str) -> list[list[str]]:
    """The cells of the page's table, row by row, as a person reads them."""
    page = html5lib.parse(html)
    return [
        [words(cell) for cell in row if cell.tag in (f"{XHTML}th", f"{XHTML}td")]
        for row in page.iter(f"{XHTML}tr")
    ]


def test_the_gradebook_shows_points_and_states_of_every_student(teacher_client, class_id, worked):
    response = teacher_client.get(f"/teaching/classes/{class_id}/gradebook")
    heads, *rows = table(response.text)
    assert heads[0] == "Student"
    assert heads[1] == '=SUM(1;2) "sum", past out of 15, due Sat, Mar 2, 9:00 AM'
    # Totals: Ann's and Bo's over what is past due; Cy's over that and the lab handed in.
    assert rows[:3] == [
        ["Xu, Cy", "missing", "13 handed in", "13 of 30"],
        ["Yates, Bo", "15 late", "in progress", "15 of 15"],
        ["Zorn, Ann", "14 handed in, 2 attempts", "not started", "14 of 15"],
    ]
    for attempt in ("best", "late", "open"):
        assert f"/teaching/attempts/{worked[attempt]}" in response.text


@pytest.mark.usefixtures("worked")
def test_the_table_for_a_spreadsheet_says_the_same_cell_by_cell(teacher_client, class_id):
    response = teacher_client.get(f"/teaching/classes/{class_id}/gradebook.csv")
    assert response.mimetype == "text/csv"
    assert response.headers["Content-Disposition"] == 'attachment; filename="gradebook-auto-2-2030-03-04.csv"'
    assert response.data.decode().startswith("\ufeff"), "spreadsheets need it to read UTF-8"
    heads, *rows = csv.reader(io.StringIO(response.data.decode("utf-8-sig")))
    assert heads == [
        "Student",
        "Sign-in name",
        '\'=SUM(1;2) "sum", past (out of 15)',  # the apostrophe: not a formula
        '\'=SUM(1;2) "sum", past: state',
        "Lab 2 (out of 15)",
        "Lab 2: state",
        "Total",
        "Total out of",
    ]
    assert [row[:1] + row[2:] for row in rows] == [
        ["Xu, Cy", "", "missing", "13", "handed in", "13", "30"],
        ["Yates, Bo", "15", "late", "", "in progress", "15", "15"],
        ["Zorn, Ann", "14", "handed in", "", "not started", "14", "15"],
    ]


def test_page_and_spreadsheet_show_the_same_points(teacher_client, database, class_id, teacher, now):
    """Part points for a placement are rarely whole."""
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now, slug="four-assemblies")
    student = factories.student(database, class_id=class_id, instructor=teacher)
    lab = begin(database, assignment_id=assignment_id, student=student, now=now)
    placement = next(task for task in lab.variant.scenario.tasks if task.kind == "placement")
    letters = dict(zip(("LF", "RF", "LR", "RR"), lab.variant.scenario.assembly_ids, strict=True))
    hand_in(database, assignment_id=assignment_id, student=student, now=now, instead={placement.id: letters})
    path = f"/teaching/classes/{class_id}/gradebook"
    rows = csv.reader(io.StringIO(teacher_client.get(f"{path}.csv").data.decode("utf-8-sig")))
    points = float(list(rows)[1][2])
    assert f"<b>{number(points)}</b>" in teacher_client.get(path).text


def test_an_answer_in_words_waits_to_be_marked(teacher_client, database, class_id, teacher, now):
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now, slug="four-assemblies")
    student = factories.student(database, class_id=class_id, instructor=teacher)
    hand_in(database, assignment_id=assignment_id, student=student, now=now)
    assert "1 to mark" in teacher_client.get(f"/teaching/classes/{class_id}/gradebook").text


def test_a_gradebook_with_nothing_in_it_says_what_to_do(teacher_client, database, class_id, teacher):
    path = f"/teaching/classes/{class_id}/gradebook"
    assert "Add students" in teacher_client.get(path).text
    factories.student(database, class_id=class_id, instructor=teacher)
    assert "give it to the class" in teacher_client.get(path).text
    assert teacher_client.get(f"{path}.csv").status_code == 200


@pytest.mark.slow
def test_three_times_the_students_ask_the_database_no_more(teacher_client, database, class_id, teacher, now):
    assignment_id = give(database, class_id=class_id, instructor=teacher, now=now)

    def statements() -> int:
        asked: list[str] = []

        def note(_connection, _cursor, statement, *_) -> None:
            asked.append(statement)

        event.listen(Engine, "before_cursor_execute", note)
        assert teacher_client.get(f"/teaching/classes/{class_id}/gradebook").status_code == 200
        event.remove(Engine, "before_cursor_execute", note)
        return len(asked)

    def one_more() -> None:
        student = factories.student(database, class_id=class_id, instructor=teacher)
        hand_in(database, assignment_id=assignment_id, student=student, now=now)

    one_more()
    before = statements()
    one_more()
    one_more()
    assert statements() == before > 0


@pytest.mark.parametrize("kind", ["gradebook", "gradebook.csv"])
def test_only_the_class_s_instructor_reads_its_gradebook(
    stranger_client, pupil_client, teacher_client, class_id, kind
):
    path = f"/teaching/classes/{class_id}/{kind}"
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403
    assert teacher_client.get(f"/teaching/classes/{'a' * 20}/{kind}").status_code == 404
    assert teacher_client.post(path).status_code == 405
