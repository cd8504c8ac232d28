"""The student's first page."""

from flask import render_template
from flask.typing import ResponseReturnValue

from app.web.access import Rule, access
from app.web.labs import blueprint


@blueprint.get("")
@access(Rule.STUDENT)
def home() -> ResponseReturnValue:
    return render_template("labs/home.html")
