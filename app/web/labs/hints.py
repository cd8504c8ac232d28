"""Routes of a hint: what it would cost, and showing it."""

from dataclasses import dataclass

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import hints, practice
from app.services.errors import NotFound
from app.services.labs import Lab
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.lab_sheet import Question, parts_of
from app.web.labs import blueprint


@dataclass(frozen=True)
class HintPage:
    """Whether to show a hint."""

    lab: Lab
    question: Question
    number: int
    count: int
    form: SendForm


@blueprint.get("/attempts/<public_id:attempt_id>/hints/<task_id>")
@access(Rule.STUDENT)
def hint(attempt_id: str, task_id: str) -> ResponseReturnValue:
    """Ask first: what was shown can't be taken back."""
    page = _page(attempt_id, task_id, SendForm())
    return _to_question(attempt_id, task_id) if page is None else render_template("labs/hint.html", page=page)


@blueprint.post("/attempts/<public_id:attempt_id>/hints/<task_id>")
@access(Rule.STUDENT)
def show_hint(attempt_id: str, task_id: str) -> ResponseReturnValue:
    form = SendForm(request.form)
    page = _page(attempt_id, task_id, form)
    if page is None:
        return _to_question(attempt_id, task_id)
    if form.validate():
        with form.shows_refusals():
            hints.show_hint(
                current.database(),
                attempt_id=attempt_id,
                student=current.someone(),
                task_id=task_id,
                number=page.number,
                now=current.now(),
            )
            return _to_question(attempt_id, task_id)
    return render_template("labs/hint.html", page=page), form.status


def _page(attempt_id: str, task_id: str, form: SendForm) -> HintPage | None:
    """None where there is no hint left to show. Raises NotFound."""
    lab = practice.lab(current.database(), attempt_id=attempt_id, student=current.someone())
    parts = parts_of(lab.variant, hints=lab.hints)
    question = next((each for part in parts for each in part.questions if each.id == task_id), None)
    if question is None or question.hints is None:
        raise NotFound("There is no such hint in this lab.")
    if question.hints.next_number is None or lab.handed_in_at or lab.put_away:
        return None
    return HintPage(lab, question, question.hints.next_number, question.hints.count, form)


def _to_question(attempt_id: str, task_id: str) -> ResponseReturnValue:
    return redirect(url_for("labs.attempt", attempt_id=attempt_id, _anchor=f"hints-{task_id}"), 303)
