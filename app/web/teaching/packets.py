"""Reflection sheets as the writer of the printed packet takes them."""

from collections.abc import Sequence
from datetime import datetime

from app.domain.marking import Verdict
from app.domain.measures import UnitSystem
from app.drawings import drawing as drawings
from app.exports.reflection_sheets import Drawing, ReflectionSheet, Response, ResultRow
from app.exports.typesetting import Paper
from app.services.labs import Lab
from app.services.reflections import StudentSheet
from app.web.lab_sheet import MarkedAnswer, marked_parts
from app.web.marked import score_text
from app.web.teaching.local_times import clock_text, in_zone


def paper_for(units: UnitSystem) -> Paper:
    """Classes with US customary units print on US Letter, others on A4."""
    return "us-letter" if units is UnitSystem.US else "a4"


def printed_sheet(student: StudentSheet) -> ReflectionSheet:
    """One student's sheet: the own words, and the results of the attempt that counts, where there is one."""
    sheet, result = student.sheet, student.sheet.result
    answers = [answer for part in marked_parts(result) for answer in part.answers] if result else []
    return ReflectionSheet(
        student_name=student.student_name,
        class_name=sheet.class_name,
        assignment_title=sheet.title,
        scenario_title=sheet.scenario_title,
        attempt_label=_attempt_label(result.lab) if result else "none",
        handed_in_text=_handed_in(result.lab) if result else None,
        score_text=score_text(result) if result else "no points yet",
        responses=tuple(Response(prompt.text, prompt.response) for prompt in sheet.prompts),
        results=tuple(_row(answer) for answer in answers),
        drawings=tuple(_drawing(drawing) for drawing in _telling(answers)),
    )


def _telling(answers: Sequence[MarkedAnswer]) -> list[drawings.Drawing]:
    """The drawings in which the own answer and the computed one differ: paper is spared for the others."""
    return [
        answer.drawing for answer in answers if answer.drawing and answer.mark.verdict is not Verdict.RIGHT
    ]


def _row(answer: MarkedAnswer) -> ResultRow:
    return ResultRow(
        task=f"{answer.question.number} {answer.question.title}",
        your_answer=answer.mark.your_answer or "no answer",
        right_answer=answer.mark.right_answer or "in words",
        verdict_sign=answer.verdict.sign,
        verdict_word=answer.verdict.word,
        points_text=answer.points,
        reason=" ".join(part for part in (answer.mark.reason, answer.comment) if part),
    )


def _drawing(drawing: drawings.Drawing) -> Drawing:
    svg = drawings.to_svg(drawing, standalone=True)
    return Drawing(drawing.title, svg, f"{drawing.title}. {drawing.description}")


def _attempt_label(lab: Lab) -> str:
    return f"Attempt {lab.number}" + (f" of {lab.attempts_allowed}" if lab.attempts_allowed else "")


def _handed_in(lab: Lab) -> str | None:
    if lab.handed_in_at is None:
        return None
    return _on_paper(lab.handed_in_at, lab.time_zone) + (" (late)" if lab.late else "")


def _on_paper(moment: datetime, zone: str) -> str:
    """With the year: paper outlasts it."""
    here = in_zone(moment, zone)
    return f"{here:%a}, {here:%b} {here.day} {here.year}, {clock_text(here)}"
