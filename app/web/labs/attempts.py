"""Routes of one attempt: working the lab, saving, handing in, the result.

An attempt that is handed in shows its result wherever its lab is asked for; an open one shows its lab.
"""

from collections.abc import Mapping

from flask import flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.answers import Raw
from app.services import due, practice
from app.services.errors import Refused, UnreadableAnswers
from app.services.labs import Lab
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.images import show_images_of_version
from app.web.lab_answers import answers_sent
from app.web.labs import blueprint
from app.web.labs.forms import answer_in_json, page_save_in_json
from app.web.labs.pages import HandInPage, ResultPage, lab_page

TOO_LATE = "The time was over: what you sent last came too late and is not kept. What was saved before is."


@blueprint.get("/attempts/<public_id:attempt_id>")
@access(Rule.STUDENT)
def attempt(attempt_id: str) -> ResponseReturnValue:
    lab = _own_lab(attempt_id)
    if lab.handed_in_at:
        return _to_result(attempt_id)
    return render_template("labs/lab.html", page=lab_page(lab, SendForm()))


@blueprint.post("/attempts/<public_id:attempt_id>")
@access(Rule.STUDENT)
def save_answers(attempt_id: str) -> ResponseReturnValue:
    """Keep every answer of the form; the button `check` goes on to handing in. The way without JavaScript."""
    lab, form = _own_lab(attempt_id), SendForm(request.form)
    if lab.handed_in_at:
        if lab.ended_by:
            flash(TOO_LATE)
        return _to_result(attempt_id)
    answers = answers_sent(request.form, lab.variant.scenario)
    problems = _keep(attempt_id, answers) if form.validate() else {}
    if form.errors or problems:
        page = lab_page(lab, form, answers=answers, problems=problems)
        return render_template("labs/lab.html", page=page), form.status
    if "check" in request.form:
        return redirect(url_for("labs.check", attempt_id=attempt_id), 303)
    flash("Your answers are saved.")
    return redirect(url_for("labs.attempt", attempt_id=attempt_id), 303)


@blueprint.post("/attempts/<public_id:attempt_id>/answer")
@access(Rule.STUDENT)
def save_answer(attempt_id: str) -> ResponseReturnValue:
    """Keep one answer, as static/js/modules/autosave.js sends it."""
    require_csrf_header()
    sent = json_sent()
    task_id, answer = answer_in_json(sent)
    saved = practice.save_answer(
        current.database(),
        attempt_id=attempt_id,
        student=current.someone(),
        task_id=task_id,
        answer=answer,
        now=current.now(),
        page_save=page_save_in_json(sent),
    )
    return jsonify(saved=True, problem=saved.problem)


@blueprint.get("/attempts/<public_id:attempt_id>/hand-in")
@access(Rule.STUDENT)
def check(attempt_id: str) -> ResponseReturnValue:
    lab = _own_lab(attempt_id)
    if lab.handed_in_at:
        return _to_result(attempt_id)
    if lab.put_away:
        return redirect(url_for("labs.attempt", attempt_id=attempt_id), 303)
    return render_template("labs/hand_in.html", page=HandInPage(lab, SendForm(), current.now()))


@blueprint.post("/attempts/<public_id:attempt_id>/hand-in")
@access(Rule.STUDENT)
def hand_in(attempt_id: str) -> ResponseReturnValue:
    """Hand in what is saved; a second time changes nothing. Answers that can't be read are shown again."""
    form = SendForm(request.form)
    if not form.validate():
        refused = HandInPage(_own_lab(attempt_id), form, current.now())
        return render_template("labs/hand_in.html", page=refused), form.status
    try:
        practice.hand_in(
            current.database(), attempt_id=attempt_id, student=current.someone(), now=current.now()
        )
    except UnreadableAnswers as unreadable:
        page = lab_page(_own_lab(attempt_id), SendForm(), problems=unreadable.problems)
        return render_template("labs/lab.html", page=page), form.status
    return _to_result(attempt_id)


@blueprint.get("/attempts/<public_id:attempt_id>/result")
@access(Rule.STUDENT)
def result(attempt_id: str) -> ResponseReturnValue:
    database, student = current.database(), current.someone()
    marked = practice.result(database, attempt_id=attempt_id, student=student)
    if marked is None:
        return redirect(url_for("labs.attempt", attempt_id=attempt_id), 303)
    show_images_of_version(marked.lab.version_id)
    given = due.assignment(
        database, assignment_id=marked.lab.assignment_id, student=student, now=current.now()
    )
    shows_solutions = marked.lab.rules.shows_solutions(current.now())
    return render_template("labs/result.html", page=ResultPage(marked, given, SendForm(), shows_solutions))


def _own_lab(attempt_id: str) -> Lab:
    """The lab, handed in as it is when its time is over."""
    lab = practice.lab(
        current.database(), attempt_id=attempt_id, student=current.someone(), now=current.now()
    )
    show_images_of_version(lab.version_id)
    return lab


def _to_result(attempt_id: str) -> ResponseReturnValue:
    return redirect(url_for("labs.result", attempt_id=attempt_id), 303)


def _keep(attempt_id: str, answers: Mapping[str, Raw]) -> dict[str, str]:
    """Save the answers; returns by task why one can't be kept or read."""
    try:
        practice.save_answers(
            current.database(),
            attempt_id=attempt_id,
            student=current.someone(),
            answers=answers,
            now=current.now(),
        )
    except Refused as refusal:
        return {refusal.field: refusal.message}
    return dict(_own_lab(attempt_id).problems)
