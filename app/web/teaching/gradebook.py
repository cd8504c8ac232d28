"""Routes of a class's gradebook: the page, one student's row, and the tables for a spreadsheet."""

from dataclasses import dataclass
from typing import Literal

from flask import Response, render_template, request
from flask.typing import ResponseReturnValue

from app.exports.file_names import file_name
from app.exports.tables import csv_text
from app.exports.workbook import TableSheet, workbook
from app.services import gradebook as grades
from app.services import handing_in
from app.services.gradebook import Gradebook
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import XLSX, download
from app.web.grade_words import GradeLine, grade_lines, total_line
from app.web.teaching import blueprint
from app.web.teaching.gradebook_pages import GradebookPage, gradebook_table
from app.web.teaching.gradebook_view import View
from app.web.teaching.local_times import in_zone


@dataclass(frozen=True)
class StudentGradesPage:
    """One student's grades; total: what they come to, in a sentence."""

    book: Gradebook

    @property
    def lines(self) -> list[GradeLine]:
        return grade_lines(self.book, self.book.rows[0])

    @property
    def total(self) -> str:
        return total_line(self.book.rows[0].total)


@blueprint.get("/classes/<public_id:class_id>/gradebook")
@access(Rule.INSTRUCTOR)
def gradebook(class_id: str) -> ResponseReturnValue:
    book = _own_gradebook(class_id)
    page = GradebookPage(book, View.asked_for(request.args, book))
    return render_template("teaching/gradebook.html", page=page)


@blueprint.get("/classes/<public_id:class_id>/gradebook/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def student_grades(class_id: str, student_id: str) -> ResponseReturnValue:
    page = StudentGradesPage(_own_gradebook(class_id, student_id))
    return render_template("teaching/student_grades.html", page=page)


@blueprint.get("/classes/<public_id:class_id>/gradebook.csv")
@access(Rule.INSTRUCTOR)
def gradebook_csv(class_id: str) -> Response:
    book = _own_gradebook(class_id)
    heads, rows = gradebook_table(book)
    content = csv_text(heads, rows, byte_order_mark=True).encode()
    return download(content, _file_name(book, "csv"), "text/csv")


@blueprint.get("/classes/<public_id:class_id>/gradebook.xlsx")
@access(Rule.INSTRUCTOR)
def gradebook_xlsx(class_id: str) -> Response:
    book = _own_gradebook(class_id)
    heads, rows = gradebook_table(book)
    table = TableSheet("Gradebook", tuple(heads), tuple(tuple(row) for row in rows))
    content = workbook(f"Gradebook of {book.class_name}", [table])
    return download(content, _file_name(book, "xlsx"), XLSX)


def _own_gradebook(class_id: str, student_id: str | None = None) -> Gradebook:
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, class_id=class_id)
    return grades.gradebook(
        database, class_id=class_id, instructor=current.someone(), now=now, student_id=student_id
    )


def _file_name(book: Gradebook, extension: Literal["csv", "xlsx"]) -> str:
    day = in_zone(current.now(), book.time_zone).date()
    return file_name("gradebook", book.class_name, day=day, extension=extension)
