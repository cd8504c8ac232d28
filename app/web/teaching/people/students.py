"""Routes of one student: what can be changed, a one-time code, moving to another class."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import classes as service
from app.services import moving, pass_phrase_codes
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.classes import own_class
from app.web.teaching.people.forms import MoveForm
from app.web.teaching.people.pages import CodePage, StudentPage
from app.web.teaching.roster import own_student


@blueprint.get("/classes/<public_id:class_id>/students/<public_id:student_id>/settings")
@access(Rule.INSTRUCTOR)
def student_settings(class_id: str, student_id: str) -> ResponseReturnValue:
    return render_template("teaching/student_settings.html", page=_page(class_id, student_id, MoveForm()))


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/code")
@access(Rule.INSTRUCTOR)
def make_code(class_id: str, student_id: str) -> ResponseReturnValue:
    """The answer to the form shows the code; it is kept nowhere and never shown again."""
    school_class, form = own_class(class_id), SendForm(request.form)
    own_student(school_class, student_id)
    if not form.validate():
        flash(form.stale_message, "error")
        return redirect(url_for("teaching.student_settings", class_id=class_id, student_id=student_id), 303)
    code = pass_phrase_codes.make_code(
        current.database(),
        class_id=class_id,
        instructor=current.someone(),
        student_id=student_id,
        now=current.now(),
    )
    page = CodePage(school_class, code, url_for("auth.one_time_code", _external=True))
    return render_template("teaching/code.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/move")
@access(Rule.INSTRUCTOR)
def move_student(class_id: str, student_id: str) -> ResponseReturnValue:
    form = MoveForm(request.form)
    page = _page(class_id, student_id, form)
    if form.validate():
        with form.shows_refusals():
            name = moving.move_student(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                student_id=student_id,
                to_class_id=form.to_class.data,
                now=current.now(),
            )
            flash(f"{page.student.display_name} is in {name} now. The work done here stays here.")
            return redirect(url_for("teaching.class_page", class_id=form.to_class.data), 303)
    return render_template("teaching/student_settings.html", page=page), form.status


def _page(class_id: str, student_id: str, form: MoveForm) -> StudentPage:
    school_class = own_class(class_id)
    others = [
        row
        for row in service.classes_of(current.database(), instructor=current.someone())
        if row.public_id != class_id and row.archived_at is None
    ]
    student = own_student(school_class, student_id)
    return StudentPage(school_class, student, SendForm(), form.offer(others), others)
