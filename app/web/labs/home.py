"""The student's first page: what is due."""

from flask import render_template
from flask.typing import ResponseReturnValue

from app.services import due, own_reflections
from app.web import current
from app.web.access import Rule, access
from app.web.labs import blueprint
from app.web.labs.pages import HomePage


@blueprint.get("")
@access(Rule.STUDENT)
def home() -> ResponseReturnValue:
    rows = due.due_list(current.database(), student=current.someone(), now=current.now())
    sheets = own_reflections.own_sheets(current.database(), student=current.someone())
    return render_template("labs/home.html", page=HomePage(rows, sheets))
