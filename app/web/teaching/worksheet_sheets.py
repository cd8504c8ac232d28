"""Paper worksheets as their writer takes them, from the same parts that a lab's page shows."""

from app.domain.cautions import ALWAYS
from app.domain.marking import right_answer_text
from app.domain.scenario import Scenario
from app.domain.tasks import BenchTask, TextTask
from app.drawings.measured import Measured
from app.drawings.measured.job_card import job_card
from app.drawings.measured.parts import Table
from app.exports.worksheets import (
    Key,
    KeyAnswer,
    Lab,
    PrintedMeasurement,
    PrintedPart,
    PrintedQuestion,
    PrintedTable,
    Worksheet,
)
from app.services import worksheets as service
from app.services.assignments import AssignmentDetail
from app.web.author_text import markdown_plain
from app.web.formatting import number
from app.web.lab_sheet import Part, Question, cautions_of, parts_of
from app.web.teaching.packets import on_paper, printed_drawing


def printed_lab(detail: AssignmentDetail, scenario: Scenario, address: str) -> Lab:
    return Lab(
        title=detail.row.title,
        scenario_title=scenario.title,
        class_name=detail.class_name,
        points_text=f"{number(scenario.out_of)} points",
        due_text=on_paper(detail.row.due_at, detail.time_zone),
        cautions=tuple((each.title, each.text) for each in cautions_of(scenario)),
        always=ALWAYS,
        address=address,
    )


def printed_worksheet(sheet: service.Worksheet) -> Worksheet:
    """What the student is told, shown and asked; no answer."""
    card = job_card(sheet.variant)
    return Worksheet(
        student_name=sheet.student_name,
        attempt_label=f"Attempt {sheet.number}",
        concern=card.concern,
        facts=card.facts,
        assemblies=_table(card.assemblies),
        parts=tuple(_part(part) for part in parts_of(sheet.variant)),
    )


def printed_key(sheet: service.Worksheet) -> Key:
    tasks = {task.id: task for task in sheet.variant.scenario.tasks}
    questions = [question for part in parts_of(sheet.variant) for question in part.questions]
    return Key(
        student_name=sheet.student_name,
        attempt_label=f"Attempt {sheet.number}",
        answers=tuple(
            KeyAnswer(
                question.number,
                question.title,
                number(question.points),
                _answer(tasks[question.id], right_answer_text(tasks[question.id], sheet.variant)),
            )
            for question in questions
        ),
    )


def _answer(task: object, right: str) -> str:
    if isinstance(task, BenchTask):
        return "judged at the bench"
    return f"by the rubric: {right}" if isinstance(task, TextTask) else right


def _part(part: Part) -> PrintedPart:
    return PrintedPart(
        number=part.number,
        title=part.title,
        text=part.text,
        measurements=tuple(_measurement(measured) for measured in part.measurements),
        questions=tuple(_question(question) for question in part.questions),
    )


def _measurement(measured: Measured) -> PrintedMeasurement:
    return PrintedMeasurement(
        title=measured.title,
        caption=markdown_plain(measured.caption or ""),
        drawings=tuple(printed_drawing(drawing) for drawing in measured.drawings),
        tables=tuple(_table(table) for table in measured.tables),
    )


def _table(table: Table) -> PrintedTable:
    return PrintedTable(
        caption=table.caption,
        heads=tuple(
            f"{head['label']}, {head['unit']}" if head["unit"] else head["label"] for head in table.heads
        ),
        numeric=tuple(head["numeric"] for head in table.heads),
        rows=table.rows,
    )


def _question(question: Question) -> PrintedQuestion:
    return PrintedQuestion(
        number=question.number,
        title=question.title,
        prompt=markdown_plain(question.prompt),
        points_text=f"{number(question.points)} {'point' if question.points == 1 else 'points'}",
        kind="words" if question.longest else question.kind,
        hint=question.hint or "",
        unit=question.unit or "",
        options=tuple(text for _, text in question.options),
    )
