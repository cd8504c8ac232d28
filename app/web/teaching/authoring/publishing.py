"""Routes that make a draft a version of a scenario, and put scenarios away and back."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import authoring_publishing
from app.services.authoring import Draft
from app.services.authoring_publishing import faults_before_publishing
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.authoring.drafts import own_draft
from app.web.teaching.authoring.forms import PublishForm
from app.web.teaching.authoring.pages import PublishPage, listed


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/publish")
@access(Rule.INSTRUCTOR)
def publish(draft_id: str) -> ResponseReturnValue:
    """The check of a draft, and the way to publish it when nothing is at fault."""
    return render_template("teaching/authoring/publish.html", page=_page(own_draft(draft_id), PublishForm()))


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/publish")
@access(Rule.INSTRUCTOR)
def publish_now(draft_id: str) -> ResponseReturnValue:
    draft, form = own_draft(draft_id), PublishForm(request.form)
    if form.validate():
        with form.shows_refusals():
            done = authoring_publishing.publish(
                current.database(),
                draft_id=draft_id,
                author=current.someone(),
                note=form.note.data,
                now=current.now(),
            )
            flash(f"{done.title} is published as version {done.number}.")
            return redirect(url_for("teaching.scenario", scenario_id=done.scenario_id), 303)
    return render_template("teaching/authoring/publish.html", page=_page(draft, form)), form.status


def _page(draft: Draft, form: PublishForm) -> PublishPage:
    faults = faults_before_publishing(draft.document)
    return PublishPage(draft, form, tuple(listed(draft.document, fault) for fault in faults))


@blueprint.post("/scenarios/<public_id:scenario_id>/archive")
@access(Rule.INSTRUCTOR)
def archive_scenario(scenario_id: str) -> ResponseReturnValue:
    if _token_is_good():
        authoring_publishing.archive(
            current.database(), scenario_id=scenario_id, instructor=current.someone(), now=current.now()
        )
        flash("The scenario is put away. What classes were given stays.")
    return redirect(url_for("teaching.scenario", scenario_id=scenario_id), 303)


@blueprint.post("/scenarios/<public_id:scenario_id>/bring-back")
@access(Rule.INSTRUCTOR)
def bring_scenario_back(scenario_id: str) -> ResponseReturnValue:
    if _token_is_good():
        authoring_publishing.bring_back(
            current.database(), scenario_id=scenario_id, instructor=current.someone(), now=current.now()
        )
        flash("The scenario is back in the library.")
    return redirect(url_for("teaching.scenario", scenario_id=scenario_id), 303)


def _token_is_good() -> bool:
    form = SendForm(request.form)
    if form.validate():
        return True
    flash(form.csrf_token.errors[0], "error")
    return False
