"""Routes that show a draft as its students will get it: the lab to try, and what 200 of them would get."""

from flask import render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.authored.checking import checked
from app.domain.authored.sampling import SampleVariant, sample_variant
from app.domain.measures import UnitSystem
from app.services import classes
from app.services.authoring import Draft
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.images import show_images_of_draft
from app.web.lab_answers import answers_sent
from app.web.teaching import blueprint
from app.web.teaching.authoring.drafts import own_draft
from app.web.teaching.authoring.trial_pages import TRIAL, NotYetPage, Trial, preview_page, trial_page
from app.web.teaching.scenario_pages import asked_sample, asked_units


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/try")
@access(Rule.INSTRUCTOR)
def try_draft(draft_id: str) -> ResponseReturnValue:
    """The lab of a draft with the numbers of a sample; nothing of it is kept."""
    draft = own_draft(draft_id)
    sample = _sample(draft)
    if sample is None:
        return _not_yet(draft)
    return render_template(TRIAL, page=trial_page(_trial(draft, sample), {}, marked=False))


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/try")
@access(Rule.INSTRUCTOR)
def try_draft_now(draft_id: str) -> ResponseReturnValue:
    """The answers marked as a student's would be."""
    draft, form = own_draft(draft_id), SendForm(request.form)
    sample = _sample(draft)
    if sample is None:
        return _not_yet(draft)
    answers = answers_sent(request.form, sample.variant.scenario)
    page = trial_page(_trial(draft, sample), answers, marked=form.validate())
    return render_template(TRIAL, page=page), form.status if form.errors else 200


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/answers")
@access(Rule.INSTRUCTOR)
def draft_answers(draft_id: str) -> ResponseReturnValue:
    """What 200 students would get, and whether the tolerances suit."""
    draft = own_draft(draft_id)
    found = checked(draft.document)
    if found.scenario is None or found.faults:
        return _not_yet(draft)
    page = preview_page(draft, found.scenario, _units())
    return render_template("teaching/authoring/draft_answers.html", page=page)


def _trial(draft: Draft, sample: SampleVariant) -> Trial:
    return Trial(
        draft.title,
        sample.variant,
        _number(),
        here=url_for("teaching.try_draft", draft_id=draft.public_id),
        back=url_for("teaching.draft", draft_id=draft.public_id),
    )


def _sample(draft: Draft) -> SampleVariant | None:
    found = checked(draft.document)
    if found.scenario is None or found.faults:
        return None
    show_images_of_draft(draft.public_id)
    return sample_variant(found.scenario, _number(), _units())


def _number() -> int:
    return asked_sample(request.args.get("sample", ""))


def _units() -> UnitSystem:
    rows = classes.classes_of(current.database(), instructor=current.someone())
    return asked_units(request.args.get("units", ""), rows)


def _not_yet(draft: Draft) -> ResponseReturnValue:
    return render_template("teaching/authoring/not_yet.html", page=NotYetPage(draft))
