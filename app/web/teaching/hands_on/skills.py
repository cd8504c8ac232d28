"""Routes of the list of skills of a class."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import hands_on, scenarios
from app.services.hands_on import Grid
from app.services.names import same_name
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.hands_on.checks import own_grid
from app.web.teaching.hands_on.forms import SkillsForm
from app.web.teaching.hands_on.pages import SkillsPage


@blueprint.get("/classes/<public_id:class_id>/hands-on/skills")
@access(Rule.INSTRUCTOR)
def hands_on_skills(class_id: str) -> ResponseReturnValue:
    page = _page(own_grid(class_id), SkillsForm())
    return render_template("teaching/hands_on_skills.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/hands-on/skills")
@access(Rule.INSTRUCTOR)
def add_skills(class_id: str) -> ResponseReturnValue:
    form = SkillsForm(request.form)
    page = _page(own_grid(class_id), form)
    if form.validate():
        with form.shows_refusals():
            count = hands_on.add_skills(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                lines=[*(form.lines.data or "").split("\n"), *(form.ticked.data or ())],
                now=current.now(),
            )
            flash(f"{counted(count, 'skill')} added." if count else "They are on the list already.")
            return redirect(url_for("teaching.hands_on_skills", class_id=class_id), 303)
    return render_template("teaching/hands_on_skills.html", page=page), form.status


def _page(grid: Grid, form: SkillsForm) -> SkillsPage:
    """With the skills of the scenarios that aren't on the list yet."""
    there = {same_name(skill.name) for skill in grid.skills}
    named = {
        same_name(skill): skill.capitalize()
        for card in scenarios.library(current.database())
        for skill in card.skills
    }
    offered = [skill for name, skill in sorted(named.items()) if name not in there]
    form.ticked.offer([(skill, skill) for skill in offered])
    return SkillsPage(grid, form, SendForm())


@blueprint.post("/classes/<public_id:class_id>/hands-on/skills/<public_id:skill_id>/put-away")
@access(Rule.INSTRUCTOR)
def put_skill_away(class_id: str, skill_id: str) -> ResponseReturnValue:
    return _put(class_id, skill_id, away=True, done="is off the list. Its checks are kept.")


@blueprint.post("/classes/<public_id:class_id>/hands-on/skills/<public_id:skill_id>/take-back")
@access(Rule.INSTRUCTOR)
def take_skill_back(class_id: str, skill_id: str) -> ResponseReturnValue:
    return _put(class_id, skill_id, away=False, done="is on the list again, with its checks.")


def _put(class_id: str, skill_id: str, *, away: bool, done: str) -> ResponseReturnValue:
    own_grid(class_id)
    form = SendForm(request.form)
    if form.validate():
        name = hands_on.put_skill_away(
            current.database(),
            class_id=class_id,
            instructor=current.someone(),
            skill_id=skill_id,
            away=away,
            now=current.now(),
        )
        flash(f"{name} {done}")
    else:
        flash(form.stale_message, "error")
    return redirect(url_for("teaching.hands_on_skills", class_id=class_id), 303)
