"""A student's own grades, class by class."""

from dataclasses import dataclass

from flask import render_template
from flask.typing import ResponseReturnValue

from app.services import gradebook, handing_in
from app.services.gradebook import Gradebook
from app.web import current
from app.web.access import Rule, access
from app.web.grade_words import GradeLine, grade_lines, total_line
from app.web.labs import blueprint


@dataclass(frozen=True)
class ClassGrades:
    book: Gradebook

    @property
    def lines(self) -> list[GradeLine]:
        return grade_lines(self.book, self.book.rows[0])

    @property
    def total(self) -> str:
        return total_line(self.book.rows[0].total)


@dataclass(frozen=True)
class GradesPage:
    classes: tuple[ClassGrades, ...]


@blueprint.get("/grades")
@access(Rule.STUDENT)
def grades() -> ResponseReturnValue:
    database, student, now = current.database(), current.someone(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, student=student)
    books = gradebook.own_grades(database, student=student, now=now)
    return render_template("labs/grades.html", page=GradesPage(tuple(map(ClassGrades, books))))
