"""Routes of a scenario of the library as its students get it, to try before it is given to a class."""

from flask import render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import authoring_publishing, classes, scenarios
from app.services.scenarios import Sample
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.images import show_images_of_version
from app.web.lab_answers import answers_sent
from app.web.teaching import blueprint
from app.web.teaching.authoring.trial_pages import TRIAL, Trial, trial_page
from app.web.teaching.scenario_pages import asked_sample, asked_units


@blueprint.get("/scenarios/<public_id:scenario_id>/try")
@access(Rule.INSTRUCTOR)
def try_scenario(scenario_id: str) -> ResponseReturnValue:
    """The lab with the numbers of a sample; nothing of it is kept."""
    trial = _trial(scenario_id, _sample(scenario_id))
    return render_template(TRIAL, page=trial_page(trial, {}, marked=False))


@blueprint.post("/scenarios/<public_id:scenario_id>/try")
@access(Rule.INSTRUCTOR)
def try_scenario_now(scenario_id: str) -> ResponseReturnValue:
    """The answers marked as a student's would be."""
    sample, form = _sample(scenario_id), SendForm(request.form)
    answers = answers_sent(request.form, sample.variant.scenario)
    page = trial_page(_trial(scenario_id, sample), answers, marked=form.validate())
    return render_template(TRIAL, page=page), form.status if form.errors else 200


def _trial(scenario_id: str, sample: Sample) -> Trial:
    return Trial(
        sample.card.title,
        sample.variant,
        asked_sample(request.args.get("sample", "")),
        here=url_for("teaching.try_scenario", scenario_id=scenario_id),
        back=url_for("teaching.scenario", scenario_id=scenario_id),
    )


def _sample(scenario_id: str) -> Sample:
    rows = classes.classes_of(current.database(), instructor=current.someone())
    history = authoring_publishing.history(
        current.database(), scenario_id=scenario_id, instructor=current.someone()
    )
    show_images_of_version(history.versions[0].public_id)
    return scenarios.sample(
        current.database(),
        scenario_id=scenario_id,
        seed=asked_sample(request.args.get("sample", "")),
        units=asked_units(request.args.get("units", ""), rows),
    )
