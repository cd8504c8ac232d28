"""A class's results as a OneRoster zip, opened: every cell of its categories, line items and results."""

import csv
import zipfile
from datetime import UTC, datetime, timedelta
from io import BytesIO, StringIO
from zoneinfo import ZoneInfo

from tests.browser.term.bringing_in import ROSTER_CLASS, roster_id
from tests.browser.term.school import Room, School
from tests.browser.term.story import KINDS, LABS, TIME_ZONE, WEIGHTS, Pupil
from tests.browser.term.sums import OUT_OF, SUMS

LATE = {("late", 1), ("late", 2), ("late", 7), ("very late", 1), ("out of time", 7)}
"""Kinds of students and labs whose counting work is late."""

Rows = list[dict[str, str]]


def results(school: School, room: Room, *, roster_ids: bool) -> None:
    """roster_ids: whether class and students go by the ids of the school's program, else by our own."""
    content = school.file(f"/teaching/classes/{room.class_id}/results-oneroster.zip")
    with zipfile.ZipFile(BytesIO(content)) as archive:
        tables = {name: _rows(archive.read(name).decode()) for name in archive.namelist()}
    assert set(tables) == {"manifest.csv", "categories.csv", "lineItems.csv", "results.csv"}
    manifest = {row["propertyName"]: row["value"] for row in tables["manifest.csv"]}
    assert manifest["oneroster.version"] == "1.2"
    assert {name for name, value in manifest.items() if value == "bulk"} == {
        "file.categories",
        "file.lineItems",
        "file.results",
    }
    made_at = tables["lineItems.csv"][0]["dateLastModified"]
    class_id = ROSTER_CLASS if roster_ids else room.class_id
    ids = {
        row["name"]: row["public_id"]
        for row in school.ask(
            """SELECT category.name, category.public_id FROM category
               JOIN class ON class.id = category.class_id WHERE class.public_id = :own""",
            own=room.class_id,
        )
    }
    row_of = {"status": "active", "dateLastModified": made_at}
    assert tables["categories.csv"] == [
        row_of | {"sourcedId": ids[name], "title": name, "weight": str(weight)}
        for name, (weight, _) in WEIGHTS.items()
    ]
    graded = {number: rules for number, rules in LABS.items() if rules.category}
    assert tables["lineItems.csv"] == [
        row_of
        | {
            "sourcedId": room.labs[number],
            "title": rules.title,
            "description": "",
            "assignDate": _day(school.at(rules.opens)),
            "dueDate": _day(school.at(rules.due)),
            "classSourcedId": class_id,
            "categorySourcedId": ids[str(rules.category)],
            "gradingPeriodSourcedId": "",
            "resultValueMin": "0",
            "resultValueMax": str(OUT_OF[number - 1]),
            "schoolSourcedId": "",
        }
        for number, rules in graded.items()
    ]
    today = datetime.fromisoformat(made_at)
    assert today - school.now < timedelta(hours=1)
    by_name = sorted(room.pupils, key=lambda each: each.sort_name)
    assert tables["results.csv"] == [
        row_of
        | {"lineItemSourcedId": room.labs[number], "classSourcedId": class_id, "comment": ""}
        | _result(school, room, pupil, number, today)
        | _whose(room.labs[number], roster_id(pupil.number) if roster_ids else room.student_id(pupil))
        for number in graded
        for pupil in by_name
    ]


def _whose(lab: str, student: str) -> dict[str, str]:
    return {"sourcedId": f"{lab}-{student}", "studentSourcedId": student}


def _result(school: School, room: Room, pupil: Pupil, number: int, today: datetime) -> dict[str, str]:
    """The cells that say how the student stands at the lab."""
    points, state = (each[number - 1] for each in (SUMS[pupil.kind].points, SUMS[pupil.kind].states))
    status = "not submitted" if points is None else "fully graded"
    flags = {
        "inProgress": state.startswith("in progress"),
        "incomplete": False,
        "late": (pupil.kind, number) in LATE,
        "missing": points is None and state.split(",")[0] in ("missing", "overdue"),
    }
    return {
        "scoreStatus": "exempt" if state == "excused" else status,
        "score": "" if points is None else f"{points:g}",
        "scoreDate": _day(_scored_at(school, room, pupil, number) or today),
        **{name: "true" if flag else "false" for name, flag in flags.items()},
    }


def _scored_at(school: School, room: Room, pupil: Pupil, number: int) -> datetime | None:
    """When what counts was handed in; None where nothing was."""
    tries = KINDS[pupil.kind].labs.get(number, ())
    if SUMS[pupil.kind].points[number - 1] is None or not tries:
        return None
    one = tries[0] if (pupil.kind, number) == ("of several attempts", 1) else tries[-1]
    ends = school.at(LABS[number].due + one.days)
    if one.in_browser and room is school.by_list:  # handed in while the test ran
        [row] = school.ask(
            """SELECT attempt.handed_in_at FROM attempt
               JOIN assignment ON assignment.id = attempt.assignment_id
               JOIN person ON person.id = attempt.person_id
               WHERE assignment.public_id = :lab AND person.public_id = :student""",
            lab=room.labs[number],
            student=room.student_id(pupil),
        )
        return datetime.fromisoformat(row["handed_in_at"]).replace(tzinfo=UTC)
    if not one.left_open:
        return ends
    if LABS[number].minutes:  # the time limit ended so many minutes after the last answer
        limit = 45 if pupil.kind == "extended" else 30
        return ends + timedelta(minutes=limit - one.minutes)
    closes = LABS[number].closes
    assert closes is not None
    return school.at(closes)


def _day(moment: datetime) -> str:
    return moment.astimezone(ZoneInfo(TIME_ZONE)).date().isoformat()


def _rows(text: str) -> Rows:
    return list(csv.DictReader(StringIO(text, newline="")))
