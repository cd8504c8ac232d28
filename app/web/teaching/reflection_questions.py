"""Routes of what reflection sheets ask and are worth."""

from typing import Any

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import reflection_prompts
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.reflection_forms import PointsForm, PromptForm
from app.web.teaching.reflection_pages import PromptsPage


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/questions")
@access(Rule.INSTRUCTOR)
def reflection_questions(assignment_id: str) -> ResponseReturnValue:
    return _page(assignment_id)


@blueprint.post("/assignments/<public_id:assignment_id>/reflections/questions")
@access(Rule.INSTRUCTOR)
def add_reflection_question(assignment_id: str) -> ResponseReturnValue:
    form = PromptForm(request.form)
    if form.validate():
        with form.shows_refusals():
            reflection_prompts.add_prompt(**_whose(assignment_id), text=form.text.data)
            flash("The question stands on every sheet now.")
            return _back(assignment_id)
    return _page(assignment_id, prompt_form=form)


@blueprint.post("/assignments/<public_id:assignment_id>/reflections/points")
@access(Rule.INSTRUCTOR)
def set_reflection_points(assignment_id: str) -> ResponseReturnValue:
    form = PointsForm(request.form)
    if form.validate():
        with form.shows_refusals():
            reflection_prompts.set_points(**_whose(assignment_id), out_of=form.out_of.data)
            flash("The points are kept.")
            return _back(assignment_id)
    return _page(assignment_id, points_form=form)


@blueprint.post("/assignments/<public_id:assignment_id>/reflections/questions/<prompt_id>/close")
@access(Rule.INSTRUCTOR)
def close_reflection_question(assignment_id: str, prompt_id: str) -> ResponseReturnValue:
    return _change(reflection_prompts.close_prompt, assignment_id, prompt_id)


@blueprint.post("/assignments/<public_id:assignment_id>/reflections/questions/<prompt_id>/reopen")
@access(Rule.INSTRUCTOR)
def reopen_reflection_question(assignment_id: str, prompt_id: str) -> ResponseReturnValue:
    return _change(reflection_prompts.reopen_prompt, assignment_id, prompt_id)


def _change(change: Any, assignment_id: str, prompt_id: str) -> ResponseReturnValue:
    form = SendForm(request.form)
    if form.validate():
        with form.shows_refusals():
            change(**_whose(assignment_id), prompt_id=prompt_id)
            return _back(assignment_id)
    return _page(assignment_id, button=form)


def _whose(assignment_id: str) -> dict[str, Any]:
    return {
        "database": current.database(),
        "assignment_id": assignment_id,
        "instructor": current.someone(),
        "now": current.now(),
    }


def _back(assignment_id: str) -> ResponseReturnValue:
    return redirect(url_for("teaching.reflection_questions", assignment_id=assignment_id), 303)


def _page(
    assignment_id: str,
    *,
    prompt_form: PromptForm | None = None,
    points_form: PointsForm | None = None,
    button: SendForm | None = None,
) -> ResponseReturnValue:
    """The page; with the form that could not be kept and its status, where there is one."""
    asked = reflection_prompts.asked(
        current.database(), assignment_id=assignment_id, instructor=current.someone()
    )
    page = PromptsPage(
        own_assignment(assignment_id),
        asked,
        prompt_form or PromptForm(),
        points_form or PointsForm(data={"out_of": asked.out_of}),
        button or SendForm(),
    )
    faulty = prompt_form or points_form or button
    return render_template("teaching/reflections_questions.html", page=page), faulty.status if faulty else 200
