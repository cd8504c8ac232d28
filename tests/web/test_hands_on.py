"""Pages of hands-on checks and of timed heats."""

import csv
import io
import re

import openpyxl
import pytest

from app.services import hands_on, heats
from tests import factories
from tests.web import given


@pytest.fixture
def skill(database, teacher, class_id, clock):
    where = {"class_id": class_id, "instructor": teacher, "now": clock()}
    hands_on.add_skills(database, lines=["C.3: Balance an assembly", "=Torque the nuts"], **where)
    return hands_on.grid(database, **where).skills[0]


def path(class_id, rest=""):
    return f"/teaching/classes/{class_id}/hands-on{rest}"


def tap(client, class_id, pupil, skill, level="alone", key="tap-number-1", **more):
    client.get(path(class_id, f"/student/{pupil.public_id}"))
    return client.post(
        path(class_id, "/checks"),
        json={"student": pupil.public_id, "skill": skill.skill_id, "level": level, "key": key, **more},
        headers={"X-CSRF-Token": client.csrf_token},
    )


def test_an_empty_list_leads_to_the_list_of_skills(teacher_client, class_id):
    assert path(class_id, "/skills") in teacher_client.get(path(class_id)).text


def test_skills_come_from_scenarios_and_from_typing(teacher_client, class_id):
    page = teacher_client.get(path(class_id, "/skills")).text
    assert "Two-plane balance" in page
    answer = teacher_client.send(
        path(class_id, "/skills"), lines="C.3: Balance an assembly\nTorque", ticked="Two-plane balance"
    )
    assert answer.status_code == 303
    page = teacher_client.get(path(class_id, "/skills")).text
    assert "3 skills added" in page
    assert "C.3" in page
    assert teacher_client.send(path(class_id, "/skills"), lines="x" * 121).status_code == 422


def test_a_skill_leaves_the_list_and_comes_back(teacher_client, class_id, skill):
    one = path(class_id, f"/skills/{skill.skill_id}")
    teacher_client.send(one + "/put-away", path(class_id, "/skills"))
    assert "Put back" in teacher_client.get(path(class_id, "/skills")).text
    teacher_client.send(one + "/take-back", path(class_id, "/skills"))
    assert "Put back" not in teacher_client.get(path(class_id, "/skills")).text


def test_a_tap_is_kept_and_answered_with_what_stands(teacher_client, class_id, pupil, skill):
    answer = tap(teacher_client, class_id, pupil, skill, note="by himself")
    assert answer.json == {"saved": True, "level": "alone", "words": "alone, today", "note": "by himself"}
    grid = teacher_client.get(path(class_id)).text
    assert "alone" in grid
    assert "1 of 2" in grid


def test_the_page_without_a_script_taps_too(teacher_client, class_id, pupil, skill):
    page = path(class_id, f"/skill/{skill.skill_id}")
    answer = teacher_client.send(
        path(class_id, "/checks"),
        page,
        student=pupil.public_id,
        skill=skill.skill_id,
        key="form-key-1",
        level="with help",
        note="",
        done_on="2030-03-01",
        back=page,
    )
    assert answer.location == page
    assert "with help, Mar 1" in teacher_client.get(page).text


def test_a_form_never_leads_to_another_host(teacher_client, class_id, pupil, skill):
    answer = teacher_client.send(
        path(class_id, "/checks"),
        path(class_id, "/check"),
        student=pupil.public_id,
        skill=skill.skill_id,
        key="form-key-1",
        level="seen",
        back="//host/",
    )
    assert answer.location == path(class_id, "/check")


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"level": "expert"}, "level"),
        ({"key": "x"}, "key"),
        ({"key": 5}, "key"),
        ({"note": ["a"]}, "note"),
        ({"note": "x" * 501}, "note"),
        ({"done_on": "yesterday"}, "done_on"),
        ({"done_on": 20300304}, "done_on"),
        ({"done_on": "2031-01-01"}, "done_on"),
    ],
    ids=str,
)
def test_a_tap_that_cannot_be_read_names_its_field(teacher_client, class_id, pupil, skill, changed, field):
    answer = tap(
        teacher_client, class_id, pupil, skill, **({"level": "seen", "key": "tap-number-1"} | changed)
    )
    assert answer.status_code == 422
    assert answer.json["field"] == field


@pytest.mark.parametrize("body", ["[]", "null", '"text"', "7"])
def test_json_that_is_no_tap_is_refused(teacher_client, class_id, pupil, body):
    teacher_client.get(path(class_id, f"/student/{pupil.public_id}"))
    answer = teacher_client.post(
        path(class_id, "/checks"),
        data=body,
        content_type="application/json",
        headers={"X-CSRF-Token": teacher_client.csrf_token},
    )
    assert answer.status_code == 422


def test_the_history_names_who_tapped(teacher_client, class_id, pupil, skill):
    for number, level in enumerate(("seen", "alone", "undone")):
        tap(teacher_client, class_id, pupil, skill, level=level, key=f"tap-number-{number}")
    page = teacher_client.get(path(class_id, f"/history/{pupil.public_id}")).text
    assert page.count("Robin Lang") >= 3
    assert "undone" in page


def test_the_tables_for_a_spreadsheet_hold_what_the_page_shows(teacher_client, class_id, pupil, skill):
    tap(teacher_client, class_id, pupil, skill, note="=1+1")
    rows = list(csv.reader(io.StringIO(teacher_client.get(path(class_id, ".csv")).data.decode("utf-8-sig"))))
    assert rows[0][:3] == ["Student", "C.3 Balance an assembly", "C.3 Balance an assembly: day"]
    assert rows[0][3].startswith("'=")
    assert rows[1] == ["Okafor, Sam", "alone", "2030-03-04", "", "", "1"]
    book = openpyxl.load_workbook(io.BytesIO(teacher_client.get(path(class_id, ".xlsx")).data))
    assert [cell.value for cell in book["Checks"][2]] == ["Okafor, Sam", "alone", "2030-03-04", None, None, 1]
    assert book["Notes"]["D2"].value == "=1+1"
    assert book["Notes"]["D2"].data_type == "s"


def heat_path(class_id, contest_id, rest=""):
    return f"/teaching/classes/{class_id}/heats/{contest_id}{rest}"


@pytest.fixture
def contest(database, teacher, class_id, pupil, clock):
    where = {"class_id": class_id, "instructor": teacher, "now": clock()}
    contest_id = heats.make_contest(
        database, title="Wheel change", teams={"Red": [pupil.public_id], "Blue": []}, **where
    )
    return heats.contest(database, contest_id=contest_id, **where)


def press(client, class_id, contest, act, key, **more):
    heat = heat_path(class_id, contest.contest_id, f"/{contest.heats[0].heat_id}")
    client.get(heat)
    return client.post(
        heat, json={"act": act, "key": key, **more}, headers={"X-CSRF-Token": client.csrf_token}
    )


@pytest.mark.usefixtures("pupil")
def test_teams_are_drawn_by_lot_and_then_made(teacher_client, class_id, database, teacher):
    for name in ("Ana Lund", "Bo Diaz", "Kim Lee"):
        factories.student(database, class_id=class_id, instructor=teacher, name=name)
    new = f"/teaching/classes/{class_id}/heats/new"
    drawn = teacher_client.send(new, title="Wheel change", count="2", share="1")
    assert drawn.status_code == 200
    chosen = dict(re.findall(r'<select id="(team-[a-z2-7]+)".*?value="(\d)" selected', drawn.text, re.DOTALL))
    assert sorted(chosen.values()) == ["0", "0", "1", "1"]
    names = {"name-0": "Red", "name-1": "Blue"}
    made = teacher_client.send(new, title="Wheel change", count="2", make="1", **names, **chosen)
    assert made.status_code == 303
    page = teacher_client.get(made.location).text
    assert "Red" in page
    assert "Sam Okafor" in page


def test_more_teams_are_offered_before_anything_is_made(teacher_client, class_id):
    new = f"/teaching/classes/{class_id}/heats/new"
    page = teacher_client.send(new, title="", count="4", **{"count-teams": "1"})
    assert page.status_code == 200
    assert 'value="Team 4"' in page.text
    assert teacher_client.send(new, title="", count="2", make="1").status_code == 422
    same = {"name-0": "Red", "name-1": "Red"}
    assert "same name" in teacher_client.send(new, title="Job", count="2", make="1", **same).text


@pytest.mark.parametrize("count", ["NaN", "999999999", "-1", "0", "٣", "\0"])
def test_a_number_of_teams_that_is_not_offered_is_refused(teacher_client, class_id, count):
    new = f"/teaching/classes/{class_id}/heats/new"
    names = {"name-0": "Red\0", "name-1": "Blue"}
    page = teacher_client.send(new, title="Job", count=count, make="1", **names)
    assert page.status_code == 422
    assert 'value="Red"' in page.text
    assert 'name="name-2"' not in page.text


def test_a_heat_is_timed_penalised_and_ranked(teacher_client, class_id, contest):
    red, blue = (team.team_id for team in contest.teams)
    page = {"page": "page-number-1"}
    assert press(teacher_client, class_id, contest, "start", "key-start-1", page_ms=0, **page).json["saved"]
    press(teacher_client, class_id, contest, "lap", "key-lap-001", team=red, page_ms=30_000, **page)
    press(teacher_client, class_id, contest, "stop", "key-stop-1", team=red, page_ms=65_300, **page)
    press(teacher_client, class_id, contest, "stop", "key-stop-2", team=blue, page_ms=70_000, **page)
    press(teacher_client, class_id, contest, "penalty", "key-pen-01", team=red, penalty_s=10, reason="torque")
    results = teacher_client.get(heat_path(class_id, contest.contest_id)).text
    assert results.index("1:10.0") < results.index("1:15.3")
    assert "Penalty: 10 s" in results
    assert "the server saw" in results  # all came at one instant of the test's clock
    board = teacher_client.get(heat_path(class_id, contest.contest_id, "/board")).text
    assert "over" in board
    assert "1:15.3" in board


def test_the_page_without_a_script_times_by_the_server_s_clock(teacher_client, class_id, contest, clock):
    heat = heat_path(class_id, contest.contest_id, f"/{contest.heats[0].heat_id}")
    red = contest.teams[0].team_id
    teacher_client.send(heat, act="start", key="form-start-1")
    clock.advance(seconds=42)
    teacher_client.send(heat, act="stop", team=red, key="form-stop-01")
    page = teacher_client.get(heat).text
    assert "42.0" in page
    assert "by the server’s clock" in page
    teacher_client.send(heat, act="penalty", team=red, key="form-pen-001", penalty_s="ten", reason="x")
    assert "Enter a number" in teacher_client.get(heat).text
    teacher_client.send(heat, act="undo", undoes="form-stop-01", key="form-undo-01")
    assert "Stop: 42.0" not in teacher_client.get(heat).text


@pytest.mark.parametrize(
    "message",
    [
        {"act": "jump", "key": "key-number-1"},
        {"act": ["start"], "key": "key-number-1"},
        {"act": "start", "key": 5},
        {"act": "start", "key": "key-number-1", "page_ms": "soon", "page": "page-number-1"},
        {"act": "start", "key": "key-number-1", "page_ms": True, "page": "page-number-1"},
        {"act": "penalty", "key": "key-number-1", "penalty_s": None},
    ],
    ids=str,
)
def test_a_press_that_cannot_be_read_is_refused(teacher_client, class_id, contest, message):
    heat = heat_path(class_id, contest.contest_id, f"/{contest.heats[0].heat_id}")
    teacher_client.get(heat)
    answer = teacher_client.post(heat, json=message, headers={"X-CSRF-Token": teacher_client.csrf_token})
    assert answer.status_code == 422


def test_a_heat_whose_teams_are_stopped_is_over_and_leads_to_the_next(teacher_client, class_id, contest):
    red, blue = (team.team_id for team in contest.teams)
    heat = heat_path(class_id, contest.contest_id, f"/{contest.heats[0].heat_id}")
    results = heat_path(class_id, contest.contest_id)
    press(teacher_client, class_id, contest, "start", "key-start-1")
    press(teacher_client, class_id, contest, "stop", "key-stop-1", team=red)
    assert "data-running" in teacher_client.get(heat).text
    assert "Time heat 1" in teacher_client.get(results).text
    press(teacher_client, class_id, contest, "stop", "key-stop-2", team=blue)
    page = teacher_client.get(heat).text
    assert "data-running" not in page
    assert ">over</p>" in page
    after = teacher_client.get(results).text
    assert "Time heat 1" not in after
    assert after.count("Another heat") == 1


def test_another_heat_is_added(teacher_client, class_id, contest):
    results = heat_path(class_id, contest.contest_id)
    teacher_client.send(results + "/another", results)
    assert "Heat 2" in teacher_client.get(results).text


@pytest.mark.parametrize("seconds", [0.0, 42.0, 59.96, 65.3, 3600.0])
def test_a_time_reads_back_as_it_was(seconds):
    from app.web.machine_words import time_words

    parts = [float(part) for part in time_words(seconds).split(":")]
    read = 0.0
    for part in parts:
        read = 60 * read + part
    assert read == pytest.approx(seconds, abs=0.05)
    assert all(part < 60 for part in parts[1:])


def test_a_student_sees_own_checks_heats_and_earlier_labs(
    teacher_client, pupil_client, class_id, pupil, skill, contest, database, teacher, clock
):
    tap(teacher_client, class_id, pupil, skill, note="slow")
    red = contest.teams[0].team_id
    page = {"page": "page-number-1"}
    press(teacher_client, class_id, contest, "start", "key-start-1", page_ms=0, **page)
    press(teacher_client, class_id, contest, "stop", "key-stop-1", team=red, page_ms=65_300, **page)
    assignment_id = given.give(database, class_id=class_id, instructor=teacher, now=clock())
    given.hand_in(database, assignment_id=assignment_id, student=pupil, now=clock())
    before = pupil_client.get("/labs/record").text
    assert "alone" in before
    assert "1:05.3" in before
    assert "slow" not in before, "an instructor's note is not put on a student's page"
    assert "Lab 1" not in before, "a lab of now stands among the labs"
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    student = f"/teaching/classes/{class_id}/students/{pupil.public_id}"
    teacher_client.send(student + "/move", student + "/settings", to_class=second)
    after = pupil_client.get("/labs/record").text
    assert "Lab 1" in after
    assert "alone" in after
    record = teacher_client.get(f"/teaching/classes/{second}/students/{pupil.public_id}/record").text
    assert "1:05.3" in record
    assert "Lab 1" in record
