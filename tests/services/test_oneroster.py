"""Classes from a OneRoster zip, and a class's results under the ids of the roster."""

import csv
import io
import zipfile
from datetime import timedelta

import pytest

from app.domain.measures import UnitSystem
from app.domain.standing import Exceptional
from app.exports.oneroster_results import results_zip
from app.services import classes, exceptions, hand_grades, oneroster_import, oneroster_results
from app.services.errors import NotFound, Refused
from app.services.oneroster import read_roster
from app.services.oneroster_import import NEW_CLASS
from tests import factories
from tests.services.lessons import hand_in, lesson, right_answers
from tests.services.roster_zips import (
    MANIFEST,
    STUDENTS,
    TWO_CLASSES,
    a_class,
    csv_of,
    enrolled,
    roster_zip,
    user,
)


def receive(database, teacher, now, content=None):
    return oneroster_import.receive(database, instructor=teacher, content=content or roster_zip(), now=now)


def take(database, teacher, now, into, content=None, *, leave_out=False):
    return oneroster_import.take(
        database,
        instructor=teacher,
        file_id=receive(database, teacher, now, content),
        into=into,
        leave_out_faulty=leave_out,
        time_zone="America/Chicago",
        units=UnitSystem.US,
        now=now,
    )


def students(database, teacher):
    return {
        row.name: [
            each.sort_name
            for each in classes.class_page(database, class_id=row.public_id, instructor=teacher).students
        ]
        for row in classes.classes_of(database, instructor=teacher)
    }


BOTH = {"c1": NEW_CLASS, "c2": NEW_CLASS}


def test_two_classes_are_made_and_a_student_of_both_is_one_person(database, teacher, now):
    taken = take(database, teacher, now, BOTH)
    assert students(database, teacher) == {
        "Auto 2": ["Núñez, Ana Lucia", "Okafor, Sam"],
        "Auto 3": ["Diaz, Bo", "Núñez, Ana Lucia"],
    }
    assert [card.display_name for card in taken.cards] == ["Bo Diaz", "Ana Lucia Núñez", "Sam Okafor"]


def test_taking_it_again_into_the_same_classes_changes_nothing(database, teacher, now):
    take(database, teacher, now, BOTH)
    offer = oneroster_import.offer(
        database, instructor=teacher, file_id=receive(database, teacher, now), now=now
    )
    known = {each.roster_id: each.known_as for each in offer.classes}
    assert all(known.values())
    taken = take(database, teacher, now, known)
    assert (taken.cards, taken.changed, taken.unchanged) == ((), 0, 3)


def test_only_the_chosen_class_and_its_students_are_taken(database, teacher, now):
    take(database, teacher, now, {"c2": NEW_CLASS})
    assert students(database, teacher) == {"Auto 3": ["Diaz, Bo", "Núñez, Ana Lucia"]}


def test_a_class_goes_into_one_that_is_there_and_its_students_are_known_by_number(database, teacher, now):
    own = factories.school_class(database, instructor=teacher, name="Period 3")
    factories.student(database, class_id=own, instructor=teacher, name="Sam Okafor")
    taken = take(database, teacher, now, {"c1": own})
    assert len(taken.cards) == 1
    assert taken.changed == 1
    assert students(database, teacher) == {"Period 3": ["Núñez, Ana Lucia", "Okafor, Sam"]}


def test_a_new_name_in_the_roster_is_taken_over(database, teacher, now):
    take(database, teacher, now, BOTH)
    offer = oneroster_import.offer(
        database, instructor=teacher, file_id=receive(database, teacher, now), now=now
    )
    known = {each.roster_id: str(each.known_as) for each in offer.classes}
    renamed = [user("u1", "Sam", "Okafor-Lind", "17"), *STUDENTS[1:]]
    assert take(database, teacher, now, known, roster_zip(users=renamed)).changed == 1
    assert "Okafor-Lind, Sam" in students(database, teacher)["Auto 2"]


def test_what_is_removed_in_the_roster_and_teachers_are_left_out():
    content = roster_zip(
        users=[*STUDENTS[:2], user("u3", "Bo", "Diaz", status="tobedeleted")],
        enrollments=[
            enrolled("c1", "u1"),
            enrolled("c1", "u2", status="tobedeleted"),
            enrolled("c1", "u2", role="teacher"),
            enrolled("c2", "u3"),
            enrolled("c9", "u1"),
        ],
    )
    roster = read_roster(content)
    assert [each.students for each in roster.classes] == [("u1",), ()]
    assert roster.unknown == 2


def test_a_student_who_is_enrolled_twice_is_taken_once():
    roster = read_roster(roster_zip(enrollments=[enrolled("c1", "u1"), enrolled("c1", "u1")]))
    assert roster.classes[0].students == ("u1",)


def test_a_fault_is_told_by_the_line_of_users(database, teacher, now):
    content = roster_zip(users=[user("u1", "=1+1", "Okafor"), *STUDENTS[1:]])
    file_id = receive(database, teacher, now, content)
    preview = oneroster_import.preview(database, instructor=teacher, file_id=file_id, into=BOTH, now=now)
    assert [(row.row.line, "formula" in row.fault) for row in preview.faulty] == [(2, True)]
    with pytest.raises(Refused, match="1 line has a fault"):
        take(database, teacher, now, BOTH, content)
    assert students(database, teacher) == {}
    assert len(take(database, teacher, now, BOTH, content, leave_out=True).cards) == 2


def test_classes_of_one_title_are_told_apart_by_their_code(database, teacher, now):
    content = roster_zip(classes=[a_class("c1", "Auto", "P3"), a_class("c2", "Auto", "P5")])
    take(database, teacher, now, BOTH, content)
    assert set(students(database, teacher)) == {"Auto (P3)", "Auto (P5)"}


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"not a zip", "isn't a zip"),
        (b"PK\x05\x06" + b"\0" * 18, "no manifest.csv"),
        (b"x" * 1_000_001, "too large"),
        (roster_zip(instead={"users.csv": None}), "no users.csv"),
        (roster_zip(manifest=MANIFEST | {"oneroster.version": "1.1"}), "OneRoster 1.1"),
        (roster_zip(manifest=MANIFEST | {"file.users": "delta"}), "users.csv is delta"),
        (roster_zip(instead={"classes.csv": b"sourcedId,status\r\n"}), "no column title"),
        (roster_zip(instead={"users.csv": b"\xff\xfe"}), "isn't UTF-8"),
        (roster_zip(instead={"users.csv": b"sourcedId\0"}), "NUL"),
        (roster_zip(instead={"users.csv": b""}), "no column sourcedId"),
        (
            roster_zip(
                instead={"classes.csv": b'sourcedId,status,title,classCode\r\nc1,,"Auto\r\nc2,,b,c\r\n'}
            ),
            "classes.csv, line 2",
        ),
        (
            roster_zip(instead={"classes.csv": b"sourcedId,status,title,classCode\r\nc1,,Auto\r\n"}),
            "classes.csv, line 2: 3 columns of 4",
        ),
        (roster_zip(instead={f"more{number}.csv": b"" for number in range(60)}), "more than 60 files"),
        (roster_zip(instead={"users.csv": b"a" * 30_000_001}), "larger than 30 MB"),
    ],
    ids=lambda value: repr(value)[:24],
)
def test_a_zip_that_is_no_roster_is_refused_by_file_and_line(database, teacher, now, content, message):
    with pytest.raises(Refused, match=message):
        receive(database, teacher, now, content)


def test_no_more_of_a_file_is_unpacked_than_is_allowed(monkeypatch):
    from app.services import oneroster

    monkeypatch.setattr(oneroster, "MOST_FILE_BYTES", 1000)
    bomb = roster_zip(instead={"users.csv": csv_of(("sourcedId",), []).encode() + b" " * 2000})
    with pytest.raises(Refused, match=r"users\.csv is larger"):
        read_roster(bomb)


@pytest.mark.parametrize(
    ("into", "error"),
    [
        ({}, Refused),
        ({"c9": NEW_CLASS}, NotFound),
        ({"c1": "a" * 20}, NotFound),
    ],
    ids=str,
)
def test_a_choice_that_cannot_be_is_refused(database, teacher, now, into, error):
    with pytest.raises(error):
        take(database, teacher, now, into)


def test_two_classes_of_the_zip_go_into_two(database, teacher, now):
    own = factories.school_class(database, instructor=teacher)
    with pytest.raises(Refused, match="same class"):
        take(database, teacher, now, {"c1": own, "c2": own})
    classes.archive_class(database, class_id=own, instructor=teacher, archived=True, now=now)
    with pytest.raises(Refused, match="put away"):
        take(database, teacher, now, {"c1": own})


def test_another_instructor_s_class_is_not_found(database, teacher, now):
    foreign = factories.school_class(database, instructor=factories.instructor(database))
    with pytest.raises(NotFound):
        take(database, teacher, now, {"c1": foreign})


def read_zip(content):
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {
            name: list(csv.reader(io.StringIO(archive.read(name).decode(), newline="")))
            for name in archive.namelist()
        }


def test_results_go_out_under_the_ids_of_the_roster(database, teacher, now):
    from app.services import assignments, practice, scenarios

    take(database, teacher, now, {"c1": NEW_CLASS})
    [row] = classes.classes_of(database, instructor=teacher)
    scenario_id = next(
        card.public_id for card in scenarios.library(database) if card.slug == "two-plane-balance"
    )
    assignment_id = assignments.assign(
        database,
        class_id=row.public_id,
        instructor=teacher,
        scenario_id=scenario_id,
        title="Lab 1",
        opens_at=now - timedelta(days=1),
        due_at=now + timedelta(days=1),
        attempts_allowed=1,
        now=now,
    )
    sam = factories.person_named(database, "samo")
    attempt_id = practice.start_attempt(database, assignment_id=assignment_id, student=sam, now=now)
    variant = practice.lab(database, attempt_id=attempt_id, student=sam).variant
    hand_in(database, attempt_id=attempt_id, student=sam, now=now, answers=right_answers(variant))
    results = oneroster_results.results_of_class(
        database, class_id=row.public_id, instructor=teacher, now=now
    )
    files = read_zip(results_zip(results.items, results.scores, made_at=now))
    assert set(files) == {"manifest.csv", "categories.csv", "lineItems.csv", "results.csv"}
    manifest = dict(files["manifest.csv"][1:])
    assert manifest["oneroster.version"] == "1.2"
    assert (manifest["file.results"], manifest["file.users"]) == ("bulk", "absent")
    heads, item = files["lineItems.csv"]
    item = dict(zip(heads, item, strict=True))
    assert (item["title"], item["classSourcedId"], item["dueDate"]) == ("Lab 1", "c1", "2030-03-05")
    assert float(item["resultValueMax"]) == variant.scenario.out_of
    assert item["categorySourcedId"] == files["categories.csv"][1][0]
    rows = [dict(zip(files["results.csv"][0], each, strict=True)) for each in files["results.csv"][1:]]
    by_student = {each["studentSourcedId"]: each for each in rows}
    assert set(by_student) == {"u1", "u2"}
    assert by_student["u1"]["score"] == item["resultValueMax"]
    assert by_student["u1"]["scoreDate"] == "2030-03-04"
    assert (by_student["u2"]["scoreStatus"], by_student["u2"]["score"]) == ("not submitted", "")
    assert {each["lineItemSourcedId"] for each in rows} == {item["sourcedId"]}


def test_a_grade_set_by_hand_and_an_excuse_go_out_as_the_gradebook_has_them(database, now):
    given = lesson(database, now=now)
    other = factories.student(database, class_id=given.class_id, instructor=given.instructor)
    where = {"assignment_id": given.assignment_id, "instructor": given.instructor, "now": now}
    hand_grades.set_by_hand(
        database, student_id=given.student.public_id, points=3.5, reason="on paper", comment="", **where
    )
    exceptions.set_exception(
        database, student_id=other.public_id, exception=Exceptional(excused=True, reason="ill"), **where
    )
    results = oneroster_results.results_of_class(
        database, class_id=given.class_id, instructor=given.instructor, now=now
    )
    found = {each.student_id: (each.status.value, each.points) for each in results.scores}
    assert found == {
        given.student.public_id: ("fully graded", 3.5),
        other.public_id: ("exempt", None),
    }


def test_no_name_of_a_student_is_in_the_results(database, teacher, now):
    take(database, teacher, now, {"c1": NEW_CLASS})
    [row] = classes.classes_of(database, instructor=teacher)
    results = oneroster_results.results_of_class(
        database, class_id=row.public_id, instructor=teacher, now=now
    )
    assert (results.items, results.scores) == ((), ())
    with pytest.raises(NotFound):
        oneroster_results.results_of_class(
            database, class_id=row.public_id, instructor=factories.instructor(database), now=now
        )


def test_titles_of_two_classes_are_those_of_the_roster():
    assert [each.title for each in read_roster(roster_zip()).classes] == [
        each["title"] for each in TWO_CLASSES
    ]
