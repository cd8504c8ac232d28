"""Routes of a class's reflection sheets: who wrote one, reading one after another, and returning them."""

from typing import Any

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.exports.typesetting import signs_without_a_font
from app.services import handing_in, reflection_prompts, reflection_workflow, reflections
from app.services.errors import NotFound
from app.services.reflections import StudentSheet
from app.web import current
from app.web.access import Rule, access
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.reflection_forms import return_form
from app.web.teaching.reflection_pages import QuestionPage, SheetPage, SheetRow, SheetsPage


@blueprint.get("/assignments/<public_id:assignment_id>/reflections")
@access(Rule.INSTRUCTOR)
def reflection_sheets(assignment_id: str) -> ResponseReturnValue:
    students = sheets_of(assignment_id)
    page = SheetsPage(own_assignment(assignment_id), students, signs_without_a_font(_printed(students)))
    return render_template("teaching/reflections.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/all")
@access(Rule.INSTRUCTOR)
def read_reflections(assignment_id: str) -> ResponseReturnValue:
    """What everybody wrote under one question: the one asked for, else the first."""
    asked = reflection_prompts.asked(
        current.database(), assignment_id=assignment_id, instructor=current.someone()
    )
    prompts = [use.prompt for use in asked.prompts if use.written_by or not use.prompt.closed]
    wanted = request.args.get("question")
    prompt = next((each for each in prompts if wanted in (None, each.id)), None)
    if prompt is None:
        raise NotFound("There is no such question on these sheets.")
    students = sheets_of(assignment_id, results=False)
    page = QuestionPage(own_assignment(assignment_id), prompts, prompt, students)
    return render_template("teaching/reflections_read.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def reflection_sheet(assignment_id: str, student_id: str) -> ResponseReturnValue:
    [student] = sheets_of(assignment_id, student_id)
    return _sheet_page(assignment_id, student, return_form(student.sheet)), 200


@blueprint.post("/assignments/<public_id:assignment_id>/reflections/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def return_reflection(assignment_id: str, student_id: str) -> ResponseReturnValue:
    """Return the sheet; the button `again` asks the student to write it once more."""
    [student] = sheets_of(assignment_id, student_id)
    form, again = return_form(student.sheet, request.form), "again" in request.form
    if form.validate():
        with form.shows_refusals():
            reflection_workflow.give_back(
                current.database(),
                assignment_id=assignment_id,
                student_id=student_id,
                instructor=current.someone(),
                again=again,
                comment=form.comment.data,
                points=form.points.data if student.sheet.out_of is not None else None,
                seen_steps=request.form.get("seen", 0, type=int),
                now=current.now(),
            )
            flash(f"{student.student_name} is asked to write again." if again else _returned_to(student))
            return redirect(
                url_for("teaching.reflection_sheet", assignment_id=assignment_id, student_id=student_id), 303
            )
    return _sheet_page(assignment_id, student, form), form.status


def sheets_of(
    assignment_id: str, student_id: str | None = None, *, results: bool = True
) -> tuple[StudentSheet, ...]:
    database = current.database()
    if results:
        handing_in.hand_in_what_is_over(database, now=current.now(), assignment_id=assignment_id)
    return reflections.sheets(
        database,
        assignment_id=assignment_id,
        instructor=current.someone(),
        student_id=student_id,
        results=results,
    )


def _sheet_page(assignment_id: str, student: StudentSheet, form: Any) -> str:
    page = SheetPage(
        own_assignment(assignment_id), SheetRow(student), form, sheets_of(assignment_id, results=False)
    )
    return render_template("teaching/reflections_sheet.html", page=page)


def _returned_to(student: StudentSheet) -> str:
    return f"The sheet is returned to {student.student_name}."


def _printed(students: tuple[StudentSheet, ...]) -> list[str]:
    """What of these sheets an export prints in the students' own letters."""
    names = [student.student_name for student in students]
    return names + [prompt.response for student in students for prompt in student.sheet.prompts]
