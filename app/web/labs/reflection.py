"""The student's reflection sheet: saved while it is written and, without JavaScript, by its button."""

from collections.abc import Mapping
from typing import Any

from flask import abort, flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.texts import as_shown
from app.services import handing_in, reflection_workflow, reflections
from app.services.errors import Refused
from app.services.reflection_sheets import Sheet
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.labs import blueprint
from app.web.labs.forms import answer_in_json, page_save_in_json
from app.web.labs.reflection_page import ReflectionPage, digest, newly_opened, opened_page


@blueprint.get("/assignments/<public_id:assignment_id>/reflection")
@access(Rule.STUDENT)
def reflection(assignment_id: str) -> ResponseReturnValue:
    handing_in.hand_in_what_is_over(current.database(), now=current.now(), student=current.someone())
    return _page(_own_sheet(assignment_id), SendForm(), {}, {})


@blueprint.post("/assignments/<public_id:assignment_id>/reflection")
@access(Rule.STUDENT)
def save_reflection(assignment_id: str) -> ResponseReturnValue:
    """Keep every text of the form that fits; one that doesn't is shown again with what to do.

    The button `hand-in` then hands the sheet in.
    """
    sheet, form = _own_sheet(assignment_id), SendForm(request.form)
    sent = {
        prompt.id: as_shown(request.form[f"response-{prompt.id}"])
        for prompt in sheet.prompts
        if f"response-{prompt.id}" in request.form
    }
    problems, beside = _keep_form(assignment_id, sent) if form.validate() else ({}, [])
    if not form.errors and not problems:
        if "hand-in" not in request.form or beside:
            flash(beside[0], "error") if beside else flash("Your reflection sheet is saved.")
            return _back(assignment_id)
        with form.shows_refusals():
            reflection_workflow.hand_in(**_whose(assignment_id), now=current.now())
            flash("Your reflection sheet is handed in.")
            return _back(assignment_id)
    return _page(_own_sheet(assignment_id), form, sent, problems)


@blueprint.post("/assignments/<public_id:assignment_id>/reflection/autosave")
@access(Rule.STUDENT)
def autosave_reflection(assignment_id: str) -> ResponseReturnValue:
    """Keep one text, as static/js/modules/autosave.js sends it; the task is the prompt."""
    require_csrf_header()
    sent = json_sent()
    prompt_id, text = answer_in_json(sent)
    if not isinstance(text, str):
        abort(400)
    try:
        beside = reflections.save(
            **_whose(assignment_id),
            prompt_id=prompt_id,
            text=text,
            now=current.now(),
            page_save=page_save_in_json(sent),
            opened=opened_page(request.args.get("opened")),
        )
    except Refused as refusal:
        return jsonify(message=refusal.message), 422
    return jsonify(saved=True, problem=beside)


@blueprint.post("/assignments/<public_id:assignment_id>/reflection/take-back")
@access(Rule.STUDENT)
def take_back_reflection(assignment_id: str) -> ResponseReturnValue:
    form = SendForm(request.form)
    if form.validate():
        with form.shows_refusals():
            reflection_workflow.take_back(**_whose(assignment_id), now=current.now())
            return _back(assignment_id)
    return _page(_own_sheet(assignment_id), form, {}, {})


@blueprint.post("/assignments/<public_id:assignment_id>/reflection/aside")
@access(Rule.STUDENT)
def settle_aside(assignment_id: str) -> ResponseReturnValue:
    """Use a text that is kept beside the sheet, or throw it away."""
    form = SendForm(request.form)
    if form.validate():
        with form.shows_refusals():
            reflection_workflow.settle_aside(
                **_whose(assignment_id),
                prompt_id=request.form.get("prompt", ""),
                aside_id=request.form.get("aside", ""),
                use="use" in request.form,
                now=current.now(),
            )
            return _back(assignment_id)
    return _page(_own_sheet(assignment_id), form, {}, {})


def _own_sheet(assignment_id: str) -> Sheet:
    return reflections.sheet(**_whose(assignment_id))


def _whose(assignment_id: str) -> dict[str, Any]:
    return {
        "database": current.database(),
        "assignment_id": assignment_id,
        "student": current.someone(),
    }


def _back(assignment_id: str) -> ResponseReturnValue:
    return redirect(url_for("labs.reflection", assignment_id=assignment_id), 303)


def _page(
    sheet: Sheet, form: SendForm, sent: Mapping[str, str], problems: Mapping[str, str]
) -> ResponseReturnValue:
    """The sheet; after a form that could not be kept as a whole, with what was typed, and its status."""
    written = {prompt.id: sent.get(prompt.id, prompt.response) for prompt in sheet.prompts}
    opened = opened_page(request.form.get("opened")) or newly_opened(sheet)
    page = ReflectionPage(sheet, form, opened, written, problems)
    status = form.status if form.errors or problems else 200
    return render_template("labs/reflection.html", page=page), status


def _keep_form(assignment_id: str, sent: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """Save each text that was edited on the page; returns by prompt why one could not be kept, and why others
    were kept beside newer ones."""
    problems, beside = {}, []
    for prompt_id, text in sent.items():
        if request.form.get(f"shown-{prompt_id}") == digest(text):
            continue
        try:
            why = reflections.save(
                **_whose(assignment_id),
                prompt_id=prompt_id,
                text=text,
                now=current.now(),
                opened=opened_page(request.form.get("opened")),
            )
        except Refused as refusal:
            problems[prompt_id] = refusal.message
        else:
            if why is not None:
                beside.append(why)
    return problems, beside
