"""Visits of the pages of people, hands-on checks and timed heats."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from playwright.sync_api import Page

from app.domain.hands_on import Level
from app.domain.heats import Act
from app.services import hands_on, heats
from tests.browser.stage import Stage
from tests.browser.visiting import (
    Go,
    Visit,
    at,
    fresh_instructor,
    instructor,
    newcomer,
    nobody,
    press,
    student,
    the_class,
    the_student,
    then,
    told_of_faults,
    unfold,
)
from tests.services.roster_zips import roster_zip

DOWNLOADS = {
    "teaching.roster_results": "a download",
    "teaching.student_record_zip": "a download",
    "teaching.class_records_zip": "a download",
    "teaching.hands_on_csv": "a download",
    "teaching.hands_on_xlsx": "a download",
}
"""More endpoints that answer GET with something else than a page."""

LIST = b"Student ID;Last name;First name\n1;Lund;Ana\n2;Diaz;=1\n"


def sending(name: str, content: bytes) -> Go:
    """Choose a file to send."""

    def go(page: Page, _: Stage) -> None:
        page.locator("input[type=file]").set_input_files(
            {"name": name, "mimeType": "application/octet-stream", "buffer": content}
        )

    return go


def where(stage: Stage) -> dict[str, Any]:
    classroom = stage.classroom
    return {"class_id": classroom.class_id, "instructor": classroom.instructor, "now": datetime.now(UTC)}


def skill_of(stage: Stage) -> str:
    """The id of a skill of the class, at which its student has been checked."""
    database = stage.server.database
    hands_on.add_skills(database, lines=["C.3: Balance an assembly", "Torque the nuts"], **where(stage))
    skill_id = hands_on.grid(database, **where(stage)).skills[0].skill_id
    hands_on.check(
        database,
        student_id=stage.classroom.student.public_id,
        skill_id=skill_id,
        level=Level.ALONE,
        note="slow, but right",
        key="visited-once",
        **where(stage),
    )
    return skill_id


def checks(rest: Callable[[Stage, str], str]) -> Go:
    """A page of hands-on checks of the class; `rest` is told the id of a skill."""
    return at(
        lambda stage: f"/teaching/classes/{stage.classroom.class_id}/hands-on{rest(stage, skill_of(stage))}"
    )


def contest_of(stage: Stage) -> heats.ContestView:
    """A contest of the class with a team that was stopped and one that runs."""
    database = stage.server.database
    contest_id = heats.make_contest(
        database,
        title="Wheel change",
        teams={"Red": [stage.classroom.student.public_id], "Blue": []},
        **where(stage),
    )
    contest = heats.contest(database, contest_id=contest_id, **where(stage))
    red = contest.teams[0].team_id
    acts: list[tuple[Act, dict[str, Any]]] = [
        (Act.START, {}),
        (Act.LAP, {"team_id": red}),
        (Act.STOP, {"team_id": red}),
        (Act.PENALTY, {"team_id": red, "penalty_s": 10.0, "reason": "torque not checked"}),
    ]
    for number, (act, more) in enumerate(acts):
        heats.press(
            database,
            contest_id=contest_id,
            heat_id=contest.heats[0].heat_id,
            act=act,
            key=f"visited-{number}",
            **more,
            **where(stage),
        )
    return contest


def timed(rest: Callable[[heats.ContestView], str]) -> Go:
    return at(lambda stage: f"/teaching/classes/{stage.classroom.class_id}/heats/{rest(contest_of(stage))}")


ACCOUNTS = [
    Visit("auth.one_time_code", "empty", nobody, at("/sign-in/code")),
    Visit(
        "auth.use_one_time_code", "with faults", nobody,
        then(at("/sign-in/code"), press("Set the new pass phrase"), told_of_faults), 422,
    ),
    Visit("labs.own_record", "with checks", student, at("/labs/record")),
]  # fmt: skip

IN_A_CLASS = [
    Visit("teaching.class_list", "empty", instructor, the_class("/class-list")),
    Visit(
        "teaching.send_class_list", "with faults", instructor,
        then(the_class("/class-list"), press("Look at the list"), told_of_faults), 422,
    ),
    Visit(
        "teaching.look_at_list", "with a fault", instructor,
        then(the_class("/class-list"), sending("list.csv", LIST), press("Look at the list")),
    ),
    Visit(
        "teaching.take_list", "with a fault", instructor,
        then(the_class("/class-list"), sending("list.csv", LIST), press("Look at the list"),
             press("Take the list"), told_of_faults), 422,
    ),
    Visit("teaching.instructors", "one", instructor, the_class("/instructors")),
    Visit(
        "teaching.add_instructor", "with faults", instructor,
        then(the_class("/instructors"), press("Add the instructor"), told_of_faults), 422,
    ),
    Visit(
        "teaching.make_code", "shown once", instructor, then(the_student("/settings"), press("Make a code"))
    ),
    Visit("teaching.student_record", "full", instructor, the_student("/record")),
    Visit("teaching.delete_student", "asks", instructor, the_student("/delete")),
    Visit(
        "teaching.delete_student_now", "with faults", instructor,
        then(the_student("/delete"), press("Delete for good"), told_of_faults), 422,
    ),
    Visit("teaching.roster_zip", "empty", newcomer, at("/teaching/roster")),
    Visit(
        "teaching.choose_classes", "two", newcomer,
        then(at("/teaching/roster"), sending("roster.zip", roster_zip()),
             press("Look at its classes")),
    ),
]  # fmt: skip

AT_THE_MACHINE = [
    Visit(
        "teaching.hands_on_grid", "no skill yet", fresh_instructor,
        at("/teaching/classes/{stage.empty_class}/hands-on"),
    ),
    Visit("teaching.hands_on_grid", "checked", instructor, checks(lambda *_: "")),
    Visit("teaching.hands_on_skills", "two", instructor, then(checks(lambda *_: "/skills"), unfold)),
    Visit("teaching.pick_check", "full", instructor, checks(lambda *_: "/check")),
    Visit(
        "teaching.check_student", "checked", instructor,
        then(checks(lambda stage, _: f"/student/{stage.classroom.student.public_id}"), unfold),
    ),
    Visit("teaching.check_skill", "checked", instructor, checks(lambda _, skill: f"/skill/{skill}")),
    Visit(
        "teaching.hands_on_history", "one", instructor,
        checks(lambda stage, _: f"/history/{stage.classroom.student.public_id}"),
    ),
    Visit(
        "teaching.contests", "none yet", fresh_instructor,
        at("/teaching/classes/{stage.empty_class}/heats"),
    ),
    Visit("teaching.new_contest", "empty", instructor, the_class("/heats/new")),
    Visit(
        "teaching.make_contest", "with faults", instructor,
        then(the_class("/heats/new"), press("Make the teams"), told_of_faults), 422,
    ),
    Visit("teaching.contest", "timed", instructor, timed(lambda contest: contest.contest_id)),
    Visit(
        "teaching.time_heat", "one stopped", instructor,
        then(timed(lambda contest: f"{contest.contest_id}/{contest.heats[0].heat_id}"), unfold),
    ),
    Visit("teaching.heat_board", "running", instructor, timed(lambda contest: f"{contest.contest_id}/board")),
]  # fmt: skip

PEOPLE = [*ACCOUNTS, *IN_A_CLASS, *AT_THE_MACHINE]
