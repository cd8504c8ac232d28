"""Routes of who teaches a class, and of ending everybody's sign-in."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import co_instructors, devices
from app.services.errors import Refused
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.classes import own_class
from app.web.teaching.people.forms import InstructorForm
from app.web.teaching.people.pages import InstructorsPage


@blueprint.get("/classes/<public_id:class_id>/instructors")
@access(Rule.INSTRUCTOR)
def instructors(class_id: str) -> ResponseReturnValue:
    return render_template("teaching/instructors.html", page=_page(class_id, InstructorForm()))


@blueprint.post("/classes/<public_id:class_id>/instructors")
@access(Rule.INSTRUCTOR)
def add_instructor(class_id: str) -> ResponseReturnValue:
    own_class(class_id)
    form = InstructorForm(request.form)
    if form.validate():
        with form.shows_refusals():
            name = co_instructors.add_instructor(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                sign_in_name=form.sign_in_name.data,
                now=current.now(),
            )
            flash(f"{name} teaches this class too.")
            return redirect(url_for("teaching.instructors", class_id=class_id), 303)
    return render_template("teaching/instructors.html", page=_page(class_id, form)), form.status


@blueprint.post("/classes/<public_id:class_id>/instructors/<public_id:instructor_id>/remove")
@access(Rule.INSTRUCTOR)
def remove_instructor(class_id: str, instructor_id: str) -> ResponseReturnValue:
    own_class(class_id)
    back, form = url_for("teaching.instructors", class_id=class_id), SendForm(request.form)
    if not form.validate():
        flash(form.stale_message, "error")
        return redirect(back, 303)
    try:
        name = co_instructors.remove_instructor(
            current.database(),
            class_id=class_id,
            instructor=current.someone(),
            instructor_id=instructor_id,
            now=current.now(),
        )
    except Refused as refusal:
        flash(refusal.message, "error")
        return redirect(back, 303)
    flash(f"{name} no longer teaches this class.")
    left = instructor_id == current.someone().public_id
    return redirect(url_for("teaching.classes") if left else back, 303)


def _page(class_id: str, form: InstructorForm) -> InstructorsPage:
    rows = co_instructors.instructors_of(current.database(), class_id=class_id, instructor=current.someone())
    return InstructorsPage(own_class(class_id), rows, form, SendForm(), current.someone().public_id)


@blueprint.post("/classes/<public_id:class_id>/sign-out")
@access(Rule.INSTRUCTOR)
def sign_out_class(class_id: str) -> ResponseReturnValue:
    own_class(class_id)
    form = SendForm(request.form)
    if form.validate():
        ended = devices.sign_out_class(
            current.database(), class_id=class_id, instructor=current.someone(), now=current.now()
        )
        flash(
            f"{counted(ended, 'device')} signed out. What was saved is safe."
            if ended
            else "Nobody of this class is signed in."
        )
    else:
        flash(form.stale_message, "error")
    return redirect(url_for("teaching.class_page", class_id=class_id), 303)
