"""What stands on a reflection sheet on paper: the story's words, and marks as their rows have them."""

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from app.settings import SCENARIOS
from tests.browser.term.school import Room, School
from tests.browser.term.story import KINDS, LABS, QUESTIONS, SHEET_OUT_OF, TIME_ZONE, WITH_SHEETS, Pupil
from tests.browser.term.writing import comment_on, final

SIGNS = {"right": "✓ right", "part": "½ part", "wrong": "✗ not yet", "blank": "– no answer"}
LATE = ("late", "out of time")
"""Kinds of students whose work at the lab with sheets was late."""


@dataclass(frozen=True)
class Paper:
    """One student's sheet. score: of the lab. paragraphs: under the name, in order. marks: a row for each
    task: number and title, own answer, right answer, verdict with its reason, points."""

    score: str
    paragraphs: list[str]
    marks: list[list[str]]


def papers(school: School, room: Room) -> dict[str, Paper]:
    """By student, in the order of the packet."""
    by_name = sorted(room.pupils, key=lambda each: each.sort_name)
    return {pupil.name: _paper(school, room, pupil) for pupil in by_name}


def _paper(school: School, room: Room, pupil: Pupil) -> Paper:
    sheet, lab = KINDS[pupil.kind].sheet, LABS[WITH_SHEETS]
    place = {"lab": room.labs[WITH_SHEETS], "student": room.student_id(pupil)}
    marks = [
        [task, detail["your_answer"] or "no answer", detail["right_answer"] or "in words", mark, points]
        for task, detail, mark, points in _marks(school, place)
    ]
    tries = KINDS[pupil.kind].labs.get(WITH_SHEETS, ())
    score, attempt, when = "no points yet", "none", "no attempt handed in"
    if tries:
        score = f"{tries[0].points + (tries[0].text or 0):g} of 17 points"
        attempt = "Attempt 1 of 1"
        when = _on_paper(school, "SELECT attempt.handed_in_at AS at FROM attempt", place)
        when += " (late)" if pupil.kind in LATE else ""
    scenario = tomllib.loads((SCENARIOS / lab.slug / "scenario.toml").read_text(encoding="utf-8"))
    return Paper(
        score,
        [
            f"{lab.title} — {scenario['title']}",
            f"{room.title} · {attempt} · {when} · {score}",
            _standing(school, pupil, place),
            "Reflection",
            *(
                line
                for number, question in enumerate(QUESTIONS, 1)
                for line in (question, final(pupil, number) if sheet else "Nothing written.")
            ),
            *(("The instructor’s comment", comment_on(sheet)) if sheet else ()),
            *(("Lab results",) if tries else ()),
        ],
        marks,
    )


def _standing(school: School, pupil: Pupil, place: dict[str, str]) -> str:
    sheet = KINDS[pupil.kind].sheet
    if sheet is None:
        return f"Sheet not written, – of {SHEET_OUT_OF} points"
    when = _on_paper(
        school,
        """SELECT max(reflection_step.made_at) AS at FROM reflection_step
           JOIN reflection_sheet AS attempt ON attempt.id = reflection_step.sheet_id""",
        place,
        "AND reflection_step.state = 'handed in'",
    )
    state = "to be written again" if sheet.again else "returned"
    points = "–" if sheet.points is None else sheet.points
    return f"Sheet {state}, handed in {when}, {points} of {SHEET_OUT_OF} points"


def _on_paper(school: School, question: str, place: dict[str, str], more: str = "") -> str:
    """A moment of the database on the class's clock, as it is printed."""
    [row] = school.ask(
        f"""{question} JOIN assignment ON assignment.id = attempt.assignment_id
            JOIN person ON person.id = attempt.person_id
            WHERE assignment.public_id = :lab AND person.public_id = :student {more}""",
        **place,
    )
    moment = datetime.fromisoformat(row["at"]).replace(tzinfo=UTC).astimezone(ZoneInfo(TIME_ZONE))
    return f"{moment:%a, %b} {moment.day} {moment.year}, {moment.hour % 12 or 12}:{moment:%M %p}"


def _marks(school: School, place: dict[str, str]) -> Iterator[tuple[str, dict[str, str], str, str]]:
    """Of each mark that stands, in the lab's order: task, what its row tells, verdict and reason, points."""
    rows = {
        row["task_id"]: row
        for row in school.ask(
            """SELECT mark.* FROM mark
               JOIN attempt ON attempt.id = mark.attempt_id
               JOIN assignment ON assignment.id = attempt.assignment_id
               JOIN person ON person.id = attempt.person_id
               WHERE assignment.public_id = :lab AND person.public_id = :student
               AND mark.superseded_at IS NULL""",
            **place,
        )
    }
    scenario = tomllib.loads(
        (SCENARIOS / LABS[WITH_SHEETS].slug / "scenario.toml").read_text(encoding="utf-8")
    )
    for part_number, part in enumerate(scenario["parts"], 1):
        for number, task in enumerate(part["tasks"], 1):
            if task["id"] not in rows:
                continue
            row = rows.pop(task["id"])
            detail = json.loads(row["detail"])
            yield (
                f"{part_number}.{number} {task['title']}",
                detail,
                f"{SIGNS[row['verdict']]}. {detail['reason']}",
                f"{row['points']:g} of {row['out_of']:g}",
            )
    assert not rows, "every mark is of a task of the lab"
