"""Reflection sheets as tables for a spreadsheet: a row for each sheet, and a row for each answer."""

from collections.abc import Sequence
from datetime import datetime

from app.exports.tables import Cell
from app.exports.workbook import TableSheet
from app.services.pseudonyms import Names
from app.services.reflections import StudentSheet
from app.web.author_text import markdown_plain
from app.web.formatting import zone_name
from app.web.reflection_words import standing
from app.web.teaching.local_times import in_zone


def sheets_table(students: Sequence[StudentSheet], names: Names) -> TableSheet:
    """What each sheet is worth and how it stands."""
    zone = _zone(students)
    heads = (
        *_who_heads(names),
        *("Sheet", f"Handed in ({zone} time)", "Points", "Out of", "Comment"),
        *("Lab points", "Lab out of", "Answers written", "Questions"),
    )
    return TableSheet("Sheets", heads, tuple(_sheet_row(student, names) for student in students))


def answers_table(students: Sequence[StudentSheet], names: Names) -> TableSheet:
    """Every question of every sheet with what was written under it, blank ones too."""
    heads = (
        *_who_heads(names),
        *("Sheet", "Question number", "Question", "Answer", f"Saved ({_zone(students)} time)"),
    )
    rows = (row for student in students for row in _answer_rows(student, names))
    return TableSheet("Answers", heads, tuple(rows))


def _who_heads(names: Names) -> tuple[str, ...]:
    signing = () if names.hidden else ("Sign-in name",)
    return ("Student", *signing, "Class", "Assignment")


def _who(student: StudentSheet, names: Names) -> tuple[str, ...]:
    signing = () if names.hidden else (student.sign_in_name,)
    name = names.of(student.student_id, student.student_name)
    return (name, *signing, student.sheet.class_name, student.sheet.title)


def _sheet_row(student: StudentSheet, names: Names) -> tuple[Cell, ...]:
    sheet = student.sheet
    result = sheet.result
    return (
        *_who(student, names),
        standing(sheet),
        _local(sheet.handed_in_at, sheet.time_zone),
        sheet.points,
        sheet.out_of,
        names.in_text(sheet.comment, student.student_name),
        result.points if result else None,
        result.out_of if result else None,
        sheet.written,
        len(sheet.prompts),
    )


def _answer_rows(student: StudentSheet, names: Names) -> list[tuple[Cell, ...]]:
    sheet = student.sheet
    return [
        (
            *_who(student, names),
            standing(sheet),
            number,
            markdown_plain(prompt.text),
            names.in_text(prompt.response, student.student_name),
            _local(prompt.saved_at, sheet.time_zone),
        )
        for number, prompt in enumerate(sheet.prompts, 1)
    ]


def _zone(students: Sequence[StudentSheet]) -> str:
    return zone_name(students[0].sheet.time_zone) if students else "local"


def _local(moment: datetime | None, zone: str) -> datetime | None:
    return in_zone(moment, zone) if moment else None
