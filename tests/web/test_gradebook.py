"""The gradebook as a page and as a table for a spreadsheet."""

import csv
import io
from datetime import timedelta
from xml.etree.ElementTree import Element

import html5lib
import pytest
from openpyxl import load_workbook
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.services import classes
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
    """Three students at two labs: handed in twice, late, open, overdue, to do. Some ids by name."""
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
    hand_in(database, assignment_id=past, student=ann, now=early, instead={"why-two": "looks"})
    hand_in(database, assignment_id=past, student=bo, now=now - timedelta(days=1))
    begin(database, assignment_id=present, student=bo, now=now)
    hand_in(database, assignment_id=present, student=cy, now=now, instead=WRONG)
    return {"past": past, "present": present, "ann": ann.public_id, "bo": bo.public_id}


def words(element: Element) -> str:
    return " ".join(" ".join(element.itertext()).split())


def table(html: str) -> list[list[str]]:
    """The cells of the page's table, row by row, as a person reads them."""
    page = html5lib.parse(html)
    return [
        [words(cell) for cell in row if cell.tag in (f"{XHTML}th", f"{XHTML}td")]
        for row in page.iter(f"{XHTML}tr")
    ]


@pytest.mark.usefixtures("worked")
def test_the_gradebook_shows_points_and_states_of_every_student(teacher_client, class_id):
    response = teacher_client.get(f"/teaching/classes/{class_id}/gradebook")
    heads, *rows = table(response.text)
    assert heads[:2] == ["Student ↑", "Total"]
    assert heads[2] == '=SUM(1;2) "sum", past out of 15'
    # Totals: Ann's and Bo's over what is past due; Cy's over that and the lab handed in.
    assert rows[:3] == [
        ["Xu, Cy", "43.3 % 13 of 30", "overdue", "13"],
        ["Yates, Bo", "100 % 15 of 15", "15 late", "in progress"],
        ["Zorn, Ann", "93.3 % 14 of 15", "14", ""],
    ]


@pytest.mark.parametrize(
    ("query", "names"),
    [
        ("", ["Xu, Cy", "Yates, Bo", "Zorn, Ann"]),
        ("?sort=name&down=1", ["Zorn, Ann", "Yates, Bo", "Xu, Cy"]),
        ("?sort=total", ["Xu, Cy", "Zorn, Ann", "Yates, Bo"]),
        ("?sort={past}", ["Zorn, Ann", "Yates, Bo", "Xu, Cy"]),  # without points: last, either way
        ("?sort={past}&down=1", ["Yates, Bo", "Zorn, Ann", "Xu, Cy"]),
        ("?find=ZORN", ["Zorn, Ann"]),
        ("?state=overdue", ["Xu, Cy"]),
        ("?state=in+progress", ["Yates, Bo"]),
        ("?state=missing", []),
        ("?state=nonsense&sort=nonsense&down=x", ["Xu, Cy", "Yates, Bo", "Zorn, Ann"]),
        ("?find=%3Cb%3E%00", []),
    ],
)
def test_rows_are_found_and_sorted_by_what_the_address_asks(teacher_client, class_id, worked, query, names):
    response = teacher_client.get(f"/teaching/classes/{class_id}/gradebook{query.format(**worked)}")
    assert response.status_code == 200
    shown = [row[0] for row in table(response.text)]
    assert [name for name in shown if "," in name] == names


def test_a_student_s_grades_say_why_each_is_what_it_is(teacher_client, class_id, worked):
    path = f"/teaching/classes/{class_id}/gradebook/{worked['ann']}"
    response = teacher_client.get(path)
    [_, past, present] = table(response.text)
    assert past[2:] == ["14 of 15", "handed in", "2 attempts; the best one counts (attempt 2)."]
    assert present[2:4] == ["– of 15", "to do"]
    assert "14 of 15 points: 93.3 %." in response.text


def test_a_grade_is_set_by_hand_and_its_history_kept(teacher_client, class_id, worked):
    path = f"/teaching/assignments/{worked['past']}/students/{worked['bo']}"
    refused = teacher_client.send(path, points="12", reason="")
    assert refused.status_code == 422
    assert "Give the reason" in refused.text
    assert teacher_client.send(path, points="nan", reason="x").status_code == 422
    assert teacher_client.send(path, points="12", reason="done on the car").status_code == 303
    page = teacher_client.get(path)
    assert "Set by hand: done on the car. The marks come to 15." in page.text
    _, first, second = table(page.text)
    assert first[1:] == ["set by hand", "12 of 15", "Robin Lang", "done on the car"]
    assert second[1:4] == ["attempt 1: handed in", "15 of 15", "Heavy Spot"]
    assert ["Yates, Bo", "80 % 12 of 15", "12 late, by hand", "in progress"] in table(
        teacher_client.get(f"/teaching/classes/{class_id}/gradebook").text
    )
    assert teacher_client.send(path, points="", reason="").status_code == 303
    assert "Set by hand:" not in teacher_client.get(path).text


def test_a_student_who_left_has_grades_and_no_more_exceptions(
    teacher_client, database, class_id, teacher, worked, now
):
    page = f"/teaching/assignments/{worked['past']}/students/{worked['bo']}"
    assert "Exception or excuse" in teacher_client.get(page).text
    classes.drop_student(database, class_id=class_id, instructor=teacher, student_id=worked["bo"], now=now)
    after = teacher_client.get(page)
    assert after.status_code == 200
    assert "Exception or excuse" not in after.text


def test_categories_are_added_filled_changed_and_removed(teacher_client, class_id, worked):
    path = f"/teaching/classes/{class_id}/categories"
    refused = teacher_client.send(path, name="Labs", weight="0", drop_lowest="x")
    assert refused.status_code == 422
    assert "Enter a number from 0.01 to 1000." in refused.text
    for name, weight in (("Labs", "60"), ("Tests", "40")):
        assert teacher_client.send(path, name=name, weight=weight, drop_lowest="0").status_code == 303
    assert teacher_client.send(path, name="Labs", weight="1", drop_lowest="0").status_code == 422
    page = teacher_client.get(path).text
    options = [(each.get("value"), words(each)) for each in html5lib.parse(page).iter(f"{XHTML}option")]
    ids = {name: value for value, name in options}
    book = f"/teaching/classes/{class_id}/gradebook"
    assert "No total counts" in teacher_client.get(book).text
    chosen = {worked["past"]: ids["Labs"], worked["present"]: ids["Tests"]}
    assert teacher_client.send(f"{path}/assignments", page=path, **chosen).status_code == 303
    rows = table(teacher_client.get(book).text)
    # Cy: 0 of 15 weighing 60, 13 of 15 weighing 40.
    assert ["Xu, Cy", "34.7 % Labs 0 %, Tests 86.7 %", "overdue", "13"] in rows
    labs = f"{path}/{ids['Labs']}"
    assert teacher_client.send(labs, page=path, name="Labs", weight="40", drop_lowest="1").status_code == 303
    assert teacher_client.send(labs, page=path, name="", weight="40", drop_lowest="1").status_code == 422
    assert teacher_client.send(labs, page=path, remove="1").status_code == 303
    assert ["Xu, Cy", "86.7 % Tests 86.7 %", "overdue", "13"] in table(teacher_client.get(book).text)
    assert teacher_client.send(labs, page=path, remove="1").status_code == 404


@pytest.mark.usefixtures("worked")
def test_the_workbook_says_the_same_as_the_table(teacher_client, class_id):
    path = f"/teaching/classes/{class_id}/gradebook"
    sheet = load_workbook(io.BytesIO(teacher_client.get(f"{path}.xlsx").data)).active
    found = [["" if cell is None else cell for cell in row] for row in sheet.iter_rows(values_only=True)]
    rows = csv.reader(io.StringIO(teacher_client.get(f"{path}.csv").data.decode("utf-8-sig")))
    for ours, theirs in zip(found, rows, strict=True):
        assert [str(number_or_text(cell)) for cell in ours] == [
            str(number_or_text(cell.removeprefix("'"))) for cell in theirs
        ]


def number_or_text(cell: object) -> object:
    try:
        return float(cell)
    except (TypeError, ValueError):
        return cell


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
        "Total (percent)",
        "Total points",
        "Total out of",
    ]
    assert [row[:1] + row[2:] for row in rows] == [
        ["Xu, Cy", "", "overdue", "13", "handed in", "43.33", "13", "30"],
        ["Yates, Bo", "15", "late", "", "in progress", "100", "15", "15"],
        ["Zorn, Ann", "14", "handed in", "", "to do", "93.33", "14", "15"],
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


@pytest.mark.parametrize("kind", ["gradebook", "gradebook.csv", "gradebook.xlsx", "categories"])
def test_only_the_class_s_instructor_reads_its_gradebook(
    stranger_client, pupil_client, teacher_client, class_id, kind
):
    path = f"/teaching/classes/{class_id}/{kind}"
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403
    assert teacher_client.get(f"/teaching/classes/{'a' * 20}/{kind}").status_code == 404
    assert teacher_client.put(path).status_code == 405


def test_a_student_reads_the_own_grades_with_their_reasons(
    pupil_client, database, class_id, teacher, pupil, now
):
    opened, past = now - timedelta(days=4), now - timedelta(days=2)
    late = give(
        database,
        class_id=class_id,
        instructor=teacher,
        now=now,
        title="Late",
        opens_at=opened,
        due_at=past,
        late_percent_per_day=10.0,
    )
    give(
        database,
        class_id=class_id,
        instructor=teacher,
        now=now,
        title="Missed",
        opens_at=opened,
        due_at=past,
        closes_at=past,
    )
    hand_in(database, assignment_id=late, student=pupil, now=now - timedelta(days=1))
    response = pupil_client.get("/labs/grades")
    [_, *rows] = table(response.text)
    shown = {row[0]: row[2:] for row in rows}
    assert shown["Late"][:2] == ["13.5 of 15", "late"]
    assert "1 day late" in shown["Late"][2]
    assert shown["Missed"] == ["– of 15", "missing", "Nothing is handed in: it counts as no points."]
    assert "13.5 of 30 points: 45 %." in response.text
