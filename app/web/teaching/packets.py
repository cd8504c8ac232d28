"""Reflection sheets as the writers of packets and documents take them."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import lru_cache

from app.domain.marking import Verdict
from app.domain.measures import UnitSystem
from app.drawings import drawing as drawings
from app.exports.reflection_sheets import Drawing, ReflectionSheet, Response, ResultRow
from app.exports.typesetting import Paper
from app.services.labs import Lab
from app.services.pseudonyms import Names
from app.services.reflection_sheets import ReflectionState
from app.services.reflections import StudentSheet
from app.web.author_text import markdown_plain
from app.web.lab_sheet import MarkedAnswer, marked_parts
from app.web.marked import score_text
from app.web.reflection_words import points_text, standing
from app.web.teaching.local_times import clock_text, in_zone

WHO = "Name:"
"""Stands for the name on a blank sheet that is nobody's yet."""


def paper_for(units: UnitSystem) -> Paper:
    """Classes with US customary units print on US Letter, others on A4."""
    return "us-letter" if units is UnitSystem.US else "a4"


def printed_sheet(student: StudentSheet, names: Names) -> ReflectionSheet:
    """One student's sheet: the own words, and the results of the attempt that counts, where there is one."""
    sheet, result = student.sheet, student.sheet.result
    answers = [answer for part in marked_parts(result) for answer in part.answers] if result else []

    def clean(text: str) -> str:
        return names.in_text(text, student.student_name)

    return ReflectionSheet(
        student_name=names.of(student.student_id, student.student_name),
        class_name=sheet.class_name,
        assignment_title=sheet.title,
        scenario_title=sheet.scenario_title,
        attempt_label=_attempt_label(result.lab) if result else "none",
        handed_in_text=_handed_in(result.lab) if result else None,
        score_text=score_text(result) if result else "no points yet",
        responses=tuple(
            Response(markdown_plain(prompt.text), clean(prompt.response)) for prompt in sheet.prompts
        ),
        results=tuple(_row(answer, names, student.student_name) for answer in answers),
        drawings=tuple(printed_drawing(drawing) for drawing in _telling(answers)),
        standing_text=_standing(student),
        comment=clean(sheet.comment),
    )


def blank_sheet(printed: ReflectionSheet, name: str | None = None) -> ReflectionSheet:
    """The same sheet to write on by hand, with another `name` over it where one is given."""
    return replace(
        printed,
        student_name=name or printed.student_name,
        attempt_label="–",
        handed_in_text="on paper",
        score_text="–",
        responses=tuple(replace(response, text="") for response in printed.responses),
        results=(),
        drawings=(),
        standing_text="",
        comment="",
    )


@lru_cache(maxsize=512)
def printed_drawing(drawing: drawings.Drawing) -> Drawing:
    """For paper. Kept for a while: in a class many have the same rim, and a packet is often printed twice."""
    svg = drawings.to_svg(drawing, standalone=True)
    return Drawing(drawing.title, svg, f"{drawing.title}. {drawing.description}")


def _telling(answers: Sequence[MarkedAnswer]) -> list[drawings.Drawing]:
    """The drawings in which the own answer and the computed one differ: paper is spared for the others."""
    return [
        answer.drawing for answer in answers if answer.drawing and answer.mark.verdict is not Verdict.RIGHT
    ]


def _row(answer: MarkedAnswer, names: Names, writer: str) -> ResultRow:
    reason = " ".join(part for part in (answer.mark.reason, answer.comment) if part)
    return ResultRow(
        task=f"{answer.question.number} {answer.question.title}",
        your_answer=names.in_text(answer.mark.your_answer, writer) or "no answer",
        right_answer=answer.mark.right_answer or "in words",
        verdict_sign=answer.verdict.sign,
        verdict_word=answer.verdict.word,
        points_text=answer.points,
        reason=names.in_text(reason, writer),
    )


def _standing(student: StudentSheet) -> str:
    """`Sheet returned, handed in Mon, Mar 4 2030, 9:00 AM, 3.5 of 4 points`."""
    sheet = student.sheet
    parts = [] if sheet.state is ReflectionState.HANDED_IN else [standing(sheet)]
    if sheet.handed_in_at:
        parts.append(f"handed in {on_paper(sheet.handed_in_at, sheet.time_zone)}")
    points = points_text(sheet)
    return "Sheet " + ", ".join([*parts, *([points] if points else [])])


def _attempt_label(lab: Lab) -> str:
    return f"Attempt {lab.number}" + (f" of {lab.attempts_allowed}" if lab.attempts_allowed else "")


def _handed_in(lab: Lab) -> str | None:
    if lab.handed_in_at is None:
        return None
    return on_paper(lab.handed_in_at, lab.time_zone) + (" (late)" if lab.late else "")


def on_paper(moment: datetime, zone: str) -> str:
    """With the year: paper outlasts it."""
    here = in_zone(moment, zone)
    return f"{here:%a}, {here:%b} {here.day} {here.year}, {clock_text(here)}"
