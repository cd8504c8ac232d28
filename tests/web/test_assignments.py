"""Giving a scenario to a class, and changing what was given."""

from datetime import UTC, datetime, timedelta

import html5lib
import pytest

from app.services import assignments, classes
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.web.checks import XHTML
from tests.web.given import begin, give, hand_in, scenario_named

ENTRIES = {
    "title": "Shake at 90",
    "opens_at": "2030-03-05T08:00",
    "due_at": "2030-03-12T15:00",
    "attempts_allowed": "3",
    "counts": "best",
    "unlock_after": "",
    "solutions": "after the attempt",
}


@pytest.fixture
def scenario_id(database: Database) -> str:
    return scenario_named(database, "two-plane-balance")


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher: Person, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


def values(html: str) -> dict[str, str]:
    """What stands in each field of the page."""
    page = html5lib.parse(html)
    found = {
        each.get("name"): each.get("value", "")
        for each in page.iter(f"{XHTML}input")
        if each.get("type") not in ("radio", "checkbox") or each.get("checked") is not None
    }
    for select in page.iter(f"{XHTML}select"):
        chosen = select.find(f"{XHTML}option[@selected]")
        found[select.get("name")] = chosen.get("value", "") if chosen is not None else ""
    return found


def test_a_scenario_is_given_to_a_class_at_the_class_s_own_times(
    teacher_client, database, teacher, class_id, scenario_id
):
    path = f"/teaching/scenarios/{scenario_id}/assign"
    response = teacher_client.send(path, class_id=class_id, **ENTRIES)
    assert response.status_code == 303
    [row] = assignments.of_class(database, class_id=class_id, instructor=teacher)
    assert response.location == f"/teaching/assignments/{row.public_id}"
    assert (row.title, row.attempts_allowed) == ("Shake at 90", 3)
    # Chicago is six hours behind UTC in winter; from 10 March 2030 on five.
    assert row.opens_at == datetime(2030, 3, 5, 14, 0, tzinfo=UTC)
    assert row.due_at == datetime(2030, 3, 12, 20, 0, tzinfo=UTC)
    page = teacher_client.get(response.location).text
    assert "Tue, Mar 5, 8:00 AM" in page
    assert "Tue, Mar 12, 3:00 PM" in page


def test_no_number_of_attempts_means_as_many_as_they_like(
    teacher_client, database, teacher, class_id, scenario_id
):
    path = f"/teaching/scenarios/{scenario_id}/assign"
    response = teacher_client.send(path, class_id=class_id, **(ENTRIES | {"attempts_allowed": " "}))
    assert "As many as you like" in teacher_client.get(response.location).text
    [row] = assignments.of_class(database, class_id=class_id, instructor=teacher)
    assert row.attempts_allowed is None


def test_the_form_starts_with_the_scenario_s_title_and_a_week_in_the_only_class(
    teacher_client, class_id, scenario_id
):
    shown = values(teacher_client.get(f"/teaching/scenarios/{scenario_id}/assign").text)
    assert shown["title"] == "One assembly on the balancer"
    assert (shown["class_id"], shown["attempts_allowed"]) == (class_id, "")
    # The school morning of the tests is 9:00 in Chicago; the clocks change within the week.
    assert (shown["opens_at"], shown["due_at"]) == ("2030-03-04T09:00", "2030-03-11T23:59")


def test_with_several_classes_the_one_that_was_asked_for_is_chosen(
    teacher_client, database, teacher, class_id, scenario_id
):
    factories.school_class(database, instructor=teacher, name="Auto 3")
    path = f"/teaching/scenarios/{scenario_id}/assign"
    assert values(teacher_client.get(path).text)["class_id"] == ""
    assert values(teacher_client.get(f"{path}?class={class_id}").text)["class_id"] == class_id


def test_without_a_class_the_page_says_to_make_one(stranger_client, scenario_id):
    page = stranger_client.get(f"/teaching/scenarios/{scenario_id}/assign").text
    assert "Make one first" in page
    assert "/teaching/classes/new" in page


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("class_id", "", "Choose the class"),
        ("class_id", "a" * 20, "Choose the class"),
        ("title", "  ", "Give the assignment a title"),
        ("title", "L" * 121, "120 characters"),
        ("opens_at", "", "may start"),
        ("opens_at", "soon", "Choose a day and a time"),
        ("opens_at", "2030-03-10T02:30", "is skipped"),
        ("due_at", "", "handed in"),
        ("due_at", "2030-11-03T01:30", "comes twice"),
        ("due_at", "2030-02-30T10:00", "Choose a day and a time"),
        ("due_at", "0001-01-01T00:00", "2000 to 2100"),
        ("due_at", "9999-12-31T23:59", "2000 to 2100"),
        ("due_at", "2030-03-05T08:00", "after the opening time"),
        ("attempts_allowed", "0", "from 1 to 50"),
        ("attempts_allowed", "nan", "Enter a number"),
        ("attempts_allowed", "inf", "Enter a number"),
        ("attempts_allowed", "1.5", "whole number"),
        ("attempts_allowed", "two", "Enter a number"),
    ],
)
def test_a_wrong_entry_says_what_to_do_and_loses_nothing(
    teacher_client, database, teacher, class_id, scenario_id, field, typed, says
):
    entries = {"class_id": class_id, **ENTRIES} | {field: typed}
    response = teacher_client.send(f"/teaching/scenarios/{scenario_id}/assign", **entries)
    assert response.status_code == 422
    assert says in response.text
    assert f'href="#{field}"' in response.text, "the summary leads to the field"
    shown = values(response.text)
    kept = entries if field != "class_id" else {**entries, "class_id": ""}
    assert {name: shown[name] for name in kept} == {
        name: " ".join(value.split()) if name == "title" else value for name, value in kept.items()
    }
    assert assignments.of_class(database, class_id=class_id, instructor=teacher) == []


def test_a_class_of_another_instructor_or_one_put_away_is_not_offered(
    teacher_client, database, teacher, class_id, scenario_id, now
):
    other = factories.instructor(database)
    foreign = factories.school_class(database, instructor=other, name="Auto 9")
    classes.archive_class(database, class_id=class_id, instructor=teacher, archived=True, now=now)
    own = factories.school_class(database, instructor=teacher, name="Auto 3")
    path = f"/teaching/scenarios/{scenario_id}/assign"
    page = teacher_client.get(path).text
    assert "Auto 3" in page
    assert "Auto 9" not in page
    assert class_id not in page
    for class_chosen in (foreign, class_id):
        assert teacher_client.send(path, class_id=class_chosen, **ENTRIES).status_code == 422
    assert assignments.of_class(database, class_id=own, instructor=teacher) == []
    assert assignments.of_class(database, class_id=foreign, instructor=other) == []


def test_an_assignment_counts_who_is_how_far(teacher_client, database, teacher, class_id, assignment_id, now):
    students = [factories.student(database, class_id=class_id, instructor=teacher) for _ in range(4)]
    hand_in(database, assignment_id=assignment_id, student=students[0], now=now)
    begin(database, assignment_id=assignment_id, student=students[1], now=now)
    page = html5lib.parse(teacher_client.get(f"/teaching/assignments/{assignment_id}").text)
    facts = {block.findtext(f"{XHTML}dt"): block.findtext(f"{XHTML}dd") for block in page.iter(f"{XHTML}div")}
    assert {name: facts[name] for name in ("Students", "Not started", "In progress", "Handed in")} == {
        "Students": "4",
        "Not started": "2",
        "In progress": "1",
        "Handed in": "1",
    }


@pytest.mark.parametrize(("hours", "says"), [(1, "not open yet"), (-1, "open"), (-3, "past due")])
def test_an_assignment_says_whether_it_is_open(teacher_client, database, teacher, class_id, now, hours, says):
    opens = now + timedelta(hours=hours)
    assignment_id = give(
        database,
        class_id=class_id,
        instructor=teacher,
        now=now,
        opens_at=opens,
        due_at=opens + timedelta(hours=2),
    )
    page = teacher_client.get(f"/teaching/assignments/{assignment_id}").text
    assert f'<span class="stamp plain">{says}</span>' in page


def test_the_class_s_page_lists_its_assignments(teacher_client, class_id, assignment_id):
    page = teacher_client.get(f"/teaching/classes/{class_id}").text
    assert f"/teaching/assignments/{assignment_id}" in page
    assert f"/teaching/classes/{class_id}/gradebook" in page


def test_the_dates_of_an_assignment_are_changed(teacher_client, database, teacher, assignment_id):
    path = f"/teaching/assignments/{assignment_id}/settings"
    shown = values(teacher_client.get(path).text)
    assert (shown["title"], shown["due_at"], shown["attempts_allowed"]) == ("Lab 1", "2030-03-07T09:00", "2")
    assert teacher_client.send(path, **ENTRIES).status_code == 303
    row = assignments.one(database, assignment_id=assignment_id, instructor=teacher).row
    assert (row.title, row.attempts_allowed) == ("Shake at 90", 3)
    assert row.due_at == datetime(2030, 3, 12, 20, 0, tzinfo=UTC)


def test_a_wrong_change_keeps_the_entries_and_the_assignment(
    teacher_client, database, teacher, assignment_id, now
):
    path = f"/teaching/assignments/{assignment_id}/settings"
    response = teacher_client.send(path, **(ENTRIES | {"due_at": "2030-03-01T10:00"}))
    assert response.status_code == 422
    assert "after the opening time" in response.text
    assert values(response.text)["title"] == "Shake at 90"
    row = assignments.one(database, assignment_id=assignment_id, instructor=teacher).row
    assert (row.title, row.due_at) == ("Lab 1", now + timedelta(days=3))


@pytest.mark.parametrize("page", ["", "/settings"])
def test_another_instructor_finds_no_assignment(stranger_client, assignment_id, page):
    assert stranger_client.get(f"/teaching/assignments/{assignment_id}{page}").status_code == 404


def test_another_instructor_changes_no_assignment(stranger_client, database, teacher, assignment_id):
    path = f"/teaching/assignments/{assignment_id}/settings"
    assert stranger_client.send(path, page="/teaching", **ENTRIES).status_code == 404
    row = assignments.one(database, assignment_id=assignment_id, instructor=teacher).row
    assert row.title == "Lab 1"


@pytest.mark.parametrize(
    "path", [f"/teaching/assignments/{'a' * 20}", f"/teaching/scenarios/{'a' * 20}/assign"]
)
def test_what_there_is_not_is_not_found(teacher_client, path):
    assert teacher_client.get(path).status_code == 404


def test_an_assignment_s_page_takes_no_form(teacher_client, assignment_id):
    assert teacher_client.post(f"/teaching/assignments/{assignment_id}").status_code == 405
