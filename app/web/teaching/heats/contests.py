"""Routes of contests: their list, a new one, its results."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import heats
from app.services.errors import Refused
from app.services.heats import ContestView
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.hands_on.checks import own_grid
from app.web.teaching.heats.forms import ContestForm, shared_out, teams_typed
from app.web.teaching.heats.pages import ContestPage, ContestsPage, NewContestPage


def own_contest(class_id: str, contest_id: str) -> ContestView:
    return heats.contest(
        current.database(),
        class_id=class_id,
        instructor=current.someone(),
        contest_id=contest_id,
        now=current.now(),
    )


@blueprint.get("/classes/<public_id:class_id>/heats")
@access(Rule.INSTRUCTOR)
def contests(class_id: str) -> ResponseReturnValue:
    rows = heats.contests_of(current.database(), class_id=class_id, instructor=current.someone())
    return render_template("teaching/contests.html", page=ContestsPage(own_grid(class_id), rows))


@blueprint.get("/classes/<public_id:class_id>/heats/new")
@access(Rule.INSTRUCTOR)
def new_contest(class_id: str) -> ResponseReturnValue:
    form = ContestForm()
    page = NewContestPage(own_grid(class_id), form, form.team_names({}), {})
    return render_template("teaching/new_contest.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/heats/new")
@access(Rule.INSTRUCTOR)
def make_contest(class_id: str) -> ResponseReturnValue:
    """Make it or, for the button `share`, draw the teams and for `count-teams` offer as many as chosen."""
    grid, form = own_grid(class_id), ContestForm(request.form)
    valid = form.validate()
    names = form.team_names(request.form)
    teams = teams_typed(request.form, grid, len(names))
    if "share" in request.form:
        teams = shared_out([row.student_id for row in grid.rows], len(names))
    elif valid and "make" in request.form:
        with form.shows_refusals():
            if len(set(names)) < len(names):
                raise Refused("title", "Two teams have the same name. Give each its own.")
            members = {
                name: [student for student, number in teams.items() if number == str(place)]
                for place, name in enumerate(names)
            }
            contest_id = heats.make_contest(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                title=form.title.data,
                teams=members,
                now=current.now(),
            )
            return redirect(url_for("teaching.contest", class_id=class_id, contest_id=contest_id), 303)
    page = NewContestPage(grid, form, names, teams)
    failed = "make" in request.form or "csrf_token" in form.errors
    if not failed:
        form.title.errors = []
    return render_template("teaching/new_contest.html", page=page), form.status if failed else 200


@blueprint.get("/classes/<public_id:class_id>/heats/<public_id:contest_id>")
@access(Rule.INSTRUCTOR)
def contest(class_id: str, contest_id: str) -> ResponseReturnValue:
    page = ContestPage(own_contest(class_id, contest_id), SendForm())
    return render_template("teaching/contest.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/heats/<public_id:contest_id>/another")
@access(Rule.INSTRUCTOR)
def add_heat(class_id: str, contest_id: str) -> ResponseReturnValue:
    own_contest(class_id, contest_id)
    form = SendForm(request.form)
    if not form.validate():
        flash(form.stale_message, "error")
    else:
        try:
            heats.add_heat(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                contest_id=contest_id,
                now=current.now(),
            )
        except Refused as refusal:
            flash(refusal.message, "error")
    return redirect(url_for("teaching.contest", class_id=class_id, contest_id=contest_id), 303)
