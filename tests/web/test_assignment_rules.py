"""An instructor's pages of an assignment's rules: setting them, exceptions, extra time."""

from datetime import timedelta

import pytest

from app.domain.standing import Counts, Exceptional, Solutions
from app.services import assignments, classes, exceptions
from app.store.db import Database
from tests import factories
from tests.web.conftest import signed_in
from tests.web.given import give, hand_in, scenario_named
from tests.web.test_assignments import ENTRIES, values

RULES = {
    "closes_at": "2030-03-14T15:00",
    "counts": "last",
    "minutes": "45",
    "late_percent_per_day": "10",
    "late_floor_percent": "50",
    "solutions": "after closing",
    "practice": "y",
}


@pytest.fixture
def assignment_id(database: Database, class_id: str, teacher, now) -> str:
    return give(database, class_id=class_id, instructor=teacher, now=now)


@pytest.fixture
def student(database: Database, class_id: str, teacher):
    return factories.student(database, class_id=class_id, instructor=teacher, name="Ada Zane")


def test_the_page_says_the_rules_in_words(teacher_client, database, teacher, assignment_id):
    path = f"/teaching/assignments/{assignment_id}"
    response = teacher_client.send(f"{path}/settings", **(ENTRIES | RULES))
    assert response.status_code == 303
    rules = assignments.one(database, assignment_id=assignment_id, instructor=teacher).row.rules
    assert (rules.counts, rules.solutions, rules.minutes) == (Counts.LAST, Solutions.AFTER_CLOSING, 45)
    page = teacher_client.get(path).text
    for words in (
        "Taken until Thu, Mar 14, 3:00 PM, and called late.",
        "3, each with numbers of its own; the last one handed in counts.",
        "45 min from the start of an attempt.",
        "Marks are shown, and nothing counts toward the total.",
        "Shown once the lab is closed.",
    ):
        assert words in page, words
    shown = values(teacher_client.get(f"{path}/settings").text)
    assert {name: shown[name] for name in RULES} == RULES


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("closes_at", "2030-03-12T14:59", "close before it is due"),
        ("closes_at", "soon", "Choose a day and a time"),
        ("closes_at", "2030-03-10T02:30", "is skipped"),
        ("minutes", "0", "from 1 to 600"),
        ("minutes", "2.5", "whole number"),
        ("late_percent_per_day", "nan", "Enter a number"),
        ("late_percent_per_day", "101", "from 0 to 100"),
        ("late_floor_percent", "-1", "from 0 to 100"),
        ("unlock_percent", "half", "Enter a number"),
        ("unlock_after", "a" * 20, "Choose a lab of this class"),
        ("counts", "worst", "Choose which attempt counts"),
        ("solutions", "never", "Choose when the worked solutions"),
    ],
)
def test_a_wrong_rule_is_told_at_its_field_and_nothing_is_lost(
    teacher_client, database, teacher, assignment_id, field, typed, says
):
    before = assignments.one(database, assignment_id=assignment_id, instructor=teacher)
    entries = ENTRIES | RULES | {field: typed}
    response = teacher_client.send(f"/teaching/assignments/{assignment_id}/settings", **entries)
    assert response.status_code == 422
    assert says in response.text
    shown = values(response.text)
    kept = {name for name in entries if name not in ("unlock_after", "counts", "solutions")}
    assert {name: shown[name] for name in kept} == {name: entries[name] for name in kept}
    assert assignments.one(database, assignment_id=assignment_id, instructor=teacher) == before


def test_solutions_after_closing_need_a_closing(teacher_client, assignment_id):
    entries = ENTRIES | {"solutions": "after closing"}
    response = teacher_client.send(f"/teaching/assignments/{assignment_id}/settings", **entries)
    assert response.status_code == 422
    assert "the worked solutions are to be shown then" in response.text
    assert 'href="#closes_at"' in response.text


def test_a_lab_can_be_set_to_open_after_another_of_its_class(
    teacher_client, database, teacher, class_id, assignment_id, now
):
    second = give(database, class_id=class_id, instructor=teacher, now=now, title="Lab 2")
    path = f"/teaching/assignments/{second}"
    page = teacher_client.get(f"{path}/settings").text
    assert f'value="{assignment_id}">Lab 1<' in page
    assert f'value="{second}"' not in page, "not after itself"
    entries = ENTRIES | {"unlock_after": assignment_id, "unlock_percent": "70"}
    assert teacher_client.send(f"{path}/settings", **entries).status_code == 303
    assert "once 70 % of the points at “Lab 1” are reached." in teacher_client.get(path).text
    circle = ENTRIES | {"unlock_after": second}
    refused = teacher_client.send(f"/teaching/assignments/{assignment_id}/settings", **circle)
    assert "neither would open" in refused.text


def test_the_class_is_carried_from_its_page_to_the_form(teacher_client, database, teacher, class_id):
    other = factories.school_class(database, instructor=teacher, name="Auto 3")
    scenario_id = scenario_named(database, "two-plane-balance")
    for chosen in (class_id, other):
        page = teacher_client.get(f"/teaching/classes/{chosen}").text
        assert f'href="/teaching/scenarios?class={chosen}"' in page
        page = teacher_client.get(f"/teaching/scenarios?class={chosen}").text
        assert f'href="/teaching/scenarios/{scenario_id}?class={chosen}"' in page
        page = teacher_client.get(f"/teaching/scenarios/{scenario_id}?class={chosen}").text
        assert f'href="/teaching/scenarios/{scenario_id}/assign?class={chosen}"' in page
        form = teacher_client.get(f"/teaching/scenarios/{scenario_id}/assign?class={chosen}").text
        assert values(form)["class_id"] == chosen


def test_an_exception_is_made_shown_and_taken_away(teacher_client, assignment_id, student):
    about = f"/teaching/assignments/{assignment_id}"
    assert f'href="{about}/exceptions"' in teacher_client.get(about).text
    path = f"{about}/exceptions/{student.public_id}"
    assert f'href="{path}"' in teacher_client.get(f"{about}/exceptions").text
    assert "Remove the exception" not in teacher_client.get(path).text
    entries = {"due_at": "2030-03-20T12:00", "attempts_allowed": "4", "reason": "was away"}
    assert teacher_client.send(path, **entries).status_code == 303
    page = teacher_client.get(about).text
    for words in ("Zane, Ada", "Due Wed, Mar 20, 12:00 PM.", "4 attempts.", "was away"):
        assert words in page, words
    page = teacher_client.get(path).text
    assert values(page)["due_at"] == "2030-03-20T12:00"
    assert "4, each with numbers of its own" in page, "what holds for the student now"
    assert "Remove the exception" in page
    assert teacher_client.send(path, **entries, remove="1").status_code == 303
    assert "nobody has an exception" in teacher_client.get(about).text


@pytest.mark.parametrize(
    ("entries", "field", "says"),
    [
        ({"excused": "y"}, "reason", "Say why"),
        ({"due_at": "2030-03-01T12:00"}, "due_at", "after the opening time"),
        ({"due_at": "2030-03-10T02:30"}, "due_at", "is skipped"),
        ({"time_factor": "5"}, "time_factor", "from 1 to 4"),
        ({"attempts_allowed": "1.5"}, "attempts_allowed", "whole number"),
    ],
)
def test_a_wrong_exception_is_told_at_its_field(
    teacher_client, database, teacher, assignment_id, student, entries, field, says
):
    path = f"/teaching/assignments/{assignment_id}/exceptions/{student.public_id}"
    response = teacher_client.send(path, **entries)
    assert response.status_code == 422
    assert says in response.text
    assert f'href="#{field}"' in response.text
    assert exceptions.exceptions_of(database, assignment_id=assignment_id, instructor=teacher) == []


def test_extra_time_is_shown_and_set_from_the_student_s_page(
    teacher_client, database, teacher, class_id, student
):
    settings = f"/teaching/classes/{class_id}/students/{student.public_id}/settings"
    path = settings.replace("settings", "extra-time")
    page = teacher_client.get(settings).text
    assert f'href="{path}"' in page
    assert "has the usual time" in page
    assert teacher_client.send(path, extra_time_factor="0.5").status_code == 422
    assert teacher_client.send(path, extra_time_factor="1.5").location == settings
    assert "1.5 times" in teacher_client.get(settings).text
    [row] = classes.class_page(database, class_id=class_id, instructor=teacher).students
    assert row.extra_time_factor == 1.5


@pytest.mark.parametrize("page", ["exceptions", "exceptions/{student}", "regrade"])
def test_the_pages_of_another_s_assignment_are_not_there(
    stranger_client, pupil_client, assignment_id, student, page
):
    path = f"/teaching/assignments/{assignment_id}/{page.format(student=student.public_id)}"
    assert stranger_client.get(path).status_code == 404
    assert pupil_client.get(path).status_code == 403


def test_nobody_s_exception_is_made_for_a_student_of_another_class(
    teacher_client, database, teacher, assignment_id
):
    other = factories.school_class(database, instructor=teacher, name="Auto 3")
    stranger = factories.student(database, class_id=other, instructor=teacher)
    path = f"/teaching/assignments/{assignment_id}/exceptions/{stranger.public_id}"
    assert teacher_client.get(path).status_code == 404


def test_the_class_s_list_calls_a_closed_lab_closed(teacher_client, database, teacher, class_id, now):
    hour = timedelta(hours=1)
    give(database, class_id=class_id, instructor=teacher, now=now, due_at=now - hour, closes_at=now - hour)
    assert (
        '<span class="stamp plain">closed</span>' in teacher_client.get(f"/teaching/classes/{class_id}").text
    )


def test_an_excused_student_reads_why(app, database, teacher, assignment_id, student, now):
    exceptions.set_exception(
        database,
        assignment_id=assignment_id,
        instructor=teacher,
        student_id=student.public_id,
        exception=Exceptional(excused=True, reason="ill that week"),
        now=now,
    )
    page = signed_in(app, student).get("/labs").text
    assert "It need not be done: ill that week." in page


def test_before_saving_an_instructor_sees_whose_points_would_change(
    teacher_client, database, teacher, class_id, assignment_id, now, student
):
    """Handed in today with all of 15 points; due an hour ago at 20 % a day they would be 12."""
    hand_in(database, assignment_id=assignment_id, student=student, now=now)
    path = f"/teaching/assignments/{assignment_id}/settings"
    entries = ENTRIES | {
        "opens_at": "2030-03-01T08:00",
        "due_at": "2030-03-04T08:00",
        "late_percent_per_day": "20",
    }
    response = teacher_client.send(path, **entries, look="1")
    assert response.status_code == 200
    for words in ("Zane, Ada", "handed in, 15 of 15", "late, 12 of 15", "Nothing is saved yet."):
        assert words in response.text, words
    [row] = assignments.of_class(database, class_id=class_id, instructor=teacher)
    assert row.rules.late_percent_per_day == 0
    assert values(response.text)["late_percent_per_day"] == "20", "what was typed waits for the button"
    same = ENTRIES | {"opens_at": "2030-03-03T09:00", "due_at": "2030-03-07T09:00"}
    assert "Nobody’s points or state would change." in teacher_client.send(path, **same, look="1").text
    refused = teacher_client.send(path, **same | {"solutions": "after closing"}, look="1")
    assert refused.status_code == 422
    assert "the worked solutions are to be shown then" in refused.text
