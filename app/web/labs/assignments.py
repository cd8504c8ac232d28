"""Routes of one assignment: what it is about, and starting an attempt."""

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import due, practice
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.labs import blueprint
from app.web.labs.pages import AssignmentPage


@blueprint.get("/assignments/<public_id:assignment_id>")
@access(Rule.STUDENT)
def assignment(assignment_id: str) -> ResponseReturnValue:
    page = AssignmentPage(_own_assignment(assignment_id), SendForm())
    return render_template("labs/assignment.html", page=page)


@blueprint.post("/assignments/<public_id:assignment_id>/attempts")
@access(Rule.STUDENT)
def start(assignment_id: str) -> ResponseReturnValue:
    """Start an attempt, or go on with the one that is open: pressing twice starts one."""
    given, form = _own_assignment(assignment_id), SendForm(request.form)
    if form.validate():
        with form.shows_refusals():
            attempt_id = practice.start_attempt(
                current.database(), assignment_id=assignment_id, student=current.someone(), now=current.now()
            )
            return redirect(url_for("labs.attempt", attempt_id=attempt_id), 303)
    return render_template("labs/assignment.html", page=AssignmentPage(given, form)), form.status


def _own_assignment(assignment_id: str) -> due.AssignmentForStudent:
    return due.assignment(
        current.database(), assignment_id=assignment_id, student=current.someone(), now=current.now()
    )
