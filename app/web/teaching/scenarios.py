"""Routes of the library: its list, and one scenario with a sample variant beside its answer key."""

from flask import render_template, request
from flask.typing import ResponseReturnValue

from app.services import authoring_publishing, classes, scenarios
from app.web import current
from app.web.access import Rule, access
from app.web.images import show_images_of_version
from app.web.teaching import blueprint
from app.web.teaching.scenario_pages import asked_sample, asked_units, scenario_page, scenarios_page


@blueprint.get("/scenarios", endpoint="scenarios")
@access(Rule.INSTRUCTOR)
def library() -> ResponseReturnValue:
    database = current.database()
    rows = classes.classes_of(database, instructor=current.someone())
    page = scenarios_page(
        scenarios.library(database), authoring_publishing.archived(database), rows, request.args
    )
    return render_template("teaching/scenarios.html", page=page)


@blueprint.get("/scenarios/<public_id:scenario_id>")
@access(Rule.INSTRUCTOR)
def scenario(scenario_id: str) -> ResponseReturnValue:
    """`?sample=` says which variant is drawn, `?units=` in which units; without, those of the own classes."""
    number = asked_sample(request.args.get("sample", ""))
    rows = classes.classes_of(current.database(), instructor=current.someone())
    units = asked_units(request.args.get("units", ""), rows)
    sample = scenarios.sample(current.database(), scenario_id=scenario_id, seed=number, units=units)
    history = authoring_publishing.history(
        current.database(), scenario_id=scenario_id, instructor=current.someone()
    )
    show_images_of_version(history.versions[0].public_id)
    return render_template("teaching/scenario.html", page=scenario_page(sample, number, units, history))
