"""Route of a scenario's history."""

from flask import render_template
from flask.typing import ResponseReturnValue

from app.services import authoring_publishing
from app.web import current
from app.web.access import Rule, access
from app.web.teaching import blueprint
from app.web.teaching.authoring.drafts import own_time_zone
from app.web.teaching.authoring.history_pages import history_page


@blueprint.get("/scenarios/<public_id:scenario_id>/history")
@access(Rule.INSTRUCTOR)
def scenario_history(scenario_id: str) -> ResponseReturnValue:
    """The versions of a scenario with what differs between them, in the time zone of the own classes."""
    database, person = current.database(), current.someone()
    history = authoring_publishing.history(database, scenario_id=scenario_id, instructor=person)
    page = history_page(history, own_time_zone())
    return render_template("teaching/authoring/scenario_history.html", page=page)
