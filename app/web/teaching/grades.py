"""Routes of one student's grade at one assignment: what makes it, its history, and setting it by hand."""

from dataclasses import dataclass

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import hand_grades
from app.services.gradebook import Gradebook, GradeCell, gradebook
from app.services.hand_grades import HistoryEntry
from app.web import current
from app.web.access import Rule, access
from app.web.fields import FiniteField, LongTextField, TextField
from app.web.forms import BaseForm
from app.web.grade_words import GradeLine, grade_lines
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment


class GradeForm(BaseForm):
    points = FiniteField(
        "Points set by hand",
        least=0,
        most=100_000,
        example="12.5",
        hint="Leave it empty for what the marks come to.",
    )
    reason = TextField(
        "Reason",
        longest=hand_grades.LONGEST_REASON,
        hint="The student and the history show it.",
    )
    comment = LongTextField(
        "Comment", longest=hand_grades.LONGEST_COMMENT, hint="The student reads it beside the grade."
    )


@dataclass(frozen=True)
class GradePage:
    book: Gradebook
    line: GradeLine
    history: tuple[HistoryEntry, ...]
    form: GradeForm

    @property
    def student_name(self) -> str:
        return self.book.rows[0].name

    @property
    def student_id(self) -> str:
        return self.book.rows[0].student_id


@blueprint.get("/assignments/<public_id:assignment_id>/students/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def grade(assignment_id: str, student_id: str) -> ResponseReturnValue:
    book, line = _line(assignment_id, student_id)
    form = GradeForm(data=_as_set(line.cell))
    return render_template("teaching/grade.html", page=_page(book, line, form))


@blueprint.post("/assignments/<public_id:assignment_id>/students/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def set_grade(assignment_id: str, student_id: str) -> ResponseReturnValue:
    book, line = _line(assignment_id, student_id)
    form = GradeForm(request.form)
    if form.validate():
        with form.shows_refusals():
            hand_grades.set_by_hand(
                current.database(),
                assignment_id=assignment_id,
                student_id=student_id,
                instructor=current.someone(),
                points=form.points.data,
                reason=form.reason.data,
                comment=form.comment.data,
                now=current.now(),
            )
            flash("The grade is saved.")
            return redirect(
                url_for("teaching.grade", assignment_id=assignment_id, student_id=student_id), 303
            )
    return render_template("teaching/grade.html", page=_page(book, line, form)), form.status


def _line(assignment_id: str, student_id: str) -> tuple[Gradebook, GradeLine]:
    detail = own_assignment(assignment_id)
    book = gradebook(
        current.database(),
        class_id=detail.class_id,
        instructor=current.someone(),
        now=current.now(),
        student_id=student_id,
    )
    lines = grade_lines(book, book.rows[0])
    return book, next(each for each in lines if each.assignment_id == assignment_id)


def _page(book: Gradebook, line: GradeLine, form: GradeForm) -> GradePage:
    history = hand_grades.history(
        current.database(),
        assignment_id=line.assignment_id,
        student_id=book.rows[0].student_id,
        instructor=current.someone(),
    )
    return GradePage(book, line, history, form)


def _as_set(cell: GradeCell) -> dict[str, object]:
    points = cell.points if cell.by_hand else None
    return {"points": points, "reason": cell.beside.reason, "comment": cell.beside.comment}
