"""The student's reflection sheet: saved while it is written and, without JavaScript, by its button."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from flask import abort, flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.texts import as_shown
from app.services import reflections
from app.services.errors import Refused
from app.services.page_saves import PageSave
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.lab_sheet import MarkedPart, marked_parts
from app.web.labs import blueprint
from app.web.labs.forms import answer_in_json, page_save_in_json
from app.web.marked import score_text


@dataclass(frozen=True)
class ReflectionPage:
    """What `labs/reflection.html` shows. written and problems: by prompt, what stands in its box and why it
    can't be kept."""

    sheet: reflections.Sheet
    form: SendForm
    written: Mapping[str, str]
    problems: Mapping[str, str]

    longest: int = reflections.LONGEST_RESPONSE

    @property
    def saved_at(self) -> datetime | None:
        return max((prompt.saved_at for prompt in self.sheet.prompts if prompt.saved_at), default=None)

    @property
    def results(self) -> tuple[MarkedPart, ...]:
        return marked_parts(self.sheet.result) if self.sheet.result else ()

    @property
    def score(self) -> str:
        return score_text(self.sheet.result) if self.sheet.result else ""


@blueprint.get("/assignments/<public_id:assignment_id>/reflection")
@access(Rule.STUDENT)
def reflection(assignment_id: str) -> ResponseReturnValue:
    sheet = _own_sheet(assignment_id)
    written = {prompt.id: prompt.response for prompt in sheet.prompts}
    return render_template("labs/reflection.html", page=ReflectionPage(sheet, SendForm(), written, {}))


@blueprint.post("/assignments/<public_id:assignment_id>/reflection")
@access(Rule.STUDENT)
def save_reflection(assignment_id: str) -> ResponseReturnValue:
    """Keep every text of the form that fits; one that doesn't is shown again with what to do."""
    sheet, form = _own_sheet(assignment_id), SendForm(request.form)
    written = {
        prompt.id: as_shown(request.form.get(f"response-{prompt.id}", prompt.response))
        for prompt in sheet.prompts
    }
    problems = _keep(assignment_id, written) if form.validate() else {}
    if form.errors or problems:
        page = ReflectionPage(sheet, form, written, problems)
        return render_template("labs/reflection.html", page=page), form.status
    flash("Your reflection sheet is saved.")
    return redirect(url_for("labs.reflection", assignment_id=assignment_id), 303)


@blueprint.post("/assignments/<public_id:assignment_id>/reflection/autosave")
@access(Rule.STUDENT)
def autosave_reflection(assignment_id: str) -> ResponseReturnValue:
    """Keep one text, as static/js/modules/autosave.js sends it; the task is the prompt."""
    require_csrf_header()
    sent = json_sent()
    prompt_id, text = answer_in_json(sent)
    if not isinstance(text, str):
        abort(400)
    problems = _keep(assignment_id, {prompt_id: text}, page_save_in_json(sent))
    if problems:
        return jsonify(message=problems[prompt_id]), 422
    return jsonify(saved=True, problem=None)


def _own_sheet(assignment_id: str) -> reflections.Sheet:
    return reflections.sheet(current.database(), assignment_id=assignment_id, student=current.someone())


def _keep(
    assignment_id: str, written: Mapping[str, str], page_save: PageSave | None = None
) -> dict[str, str]:
    """Save each text; returns by prompt why one could not be kept."""
    problems = {}
    for prompt_id, text in written.items():
        try:
            reflections.save(
                current.database(),
                assignment_id=assignment_id,
                student=current.someone(),
                prompt_id=prompt_id,
                text=text,
                now=current.now(),
                page_save=page_save,
            )
        except Refused as refusal:
            problems[prompt_id] = refusal.message
    return problems
