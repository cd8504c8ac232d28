"""Routes of drafts: their list, how one is begun, its outline, and throwing it away."""

from collections.abc import Callable

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.authored.checking import checked
from app.services import authoring, classes, scenarios
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.authoring.changes import changed
from app.web.teaching.authoring.forms import StartForm, revision_in
from app.web.teaching.authoring.pages import DraftsPage, OutlinePage, ThrowAwayPage


@blueprint.get("/scenarios/drafts")
@access(Rule.INSTRUCTOR)
def drafts() -> ResponseReturnValue:
    return _list(StartForm())


@blueprint.post("/scenarios/drafts")
@access(Rule.INSTRUCTOR)
def start_draft() -> ResponseReturnValue:
    """A blank draft."""
    form = StartForm(request.form)
    if form.validate():
        with form.shows_refusals():
            draft_id = authoring.start_blank(
                current.database(), author=current.someone(), title=form.title.data, now=current.now()
            )
            return redirect(url_for("teaching.draft", draft_id=draft_id), 303)
    return _list(form)


def _list(form: StartForm) -> ResponseReturnValue:
    rows = authoring.drafts_of(current.database(), author=current.someone())
    page = DraftsPage(rows, scenarios.library(current.database()), form, own_time_zone())
    status = form.status if form.errors else 200
    return render_template("teaching/authoring/drafts.html", page=page), status


@blueprint.post("/scenarios/<public_id:scenario_id>/copy")
@access(Rule.INSTRUCTOR)
def copy_scenario(scenario_id: str) -> ResponseReturnValue:
    """A draft that begins as a copy of a scenario."""
    return _begun(scenario_id, authoring.start_copy)


@blueprint.post("/scenarios/<public_id:scenario_id>/next")
@access(Rule.INSTRUCTOR)
def next_version(scenario_id: str) -> ResponseReturnValue:
    """The draft of the next version of one of the school's own scenarios."""
    return _begun(scenario_id, authoring.start_next_version)


def _begun(scenario_id: str, start: Callable[..., str]) -> ResponseReturnValue:
    form = SendForm(request.form)
    if not form.validate():
        flash(form.csrf_token.errors[0], "error")
        return redirect(url_for("teaching.scenario", scenario_id=scenario_id), 303)
    draft_id = start(current.database(), author=current.someone(), scenario_id=scenario_id, now=current.now())
    return redirect(url_for("teaching.draft", draft_id=draft_id), 303)


@blueprint.get("/scenarios/drafts/<public_id:draft_id>")
@access(Rule.INSTRUCTOR)
def draft(draft_id: str) -> ResponseReturnValue:
    """The outline of a draft with all that is still at fault."""
    return _outline(own_draft(draft_id), SendForm())


@blueprint.post("/scenarios/drafts/<public_id:draft_id>")
@access(Rule.INSTRUCTOR)
def change_draft(draft_id: str) -> ResponseReturnValue:
    """Add, move and take away what has sheets of its own."""
    shown, form = own_draft(draft_id), SendForm(request.form)
    if form.validate():
        with form.shows_refusals():
            _, target = changed(shown.document, request.form.get("do", ""))
            saved = authoring.save(
                current.database(),
                draft_id=draft_id,
                author=current.someone(),
                change=lambda document: changed(document, request.form.get("do", ""))[0],
                revision=revision_in(request.form),
                now=current.now(),
            )
            return redirect(place_of(saved, target, request.form.get("do", "")), 303)
    return _outline(shown, form)


def place_of(draft: authoring.Draft, target: str, asked: str) -> str:
    """Where to go on after a change: a new task, part or assembly opens; what was moved stays in sight."""
    if asked.startswith(("add ", "copy ")):
        return url_for("teaching.sheet", draft_id=draft.public_id, path=target)
    anchor = "line-" + target.replace(".", "-")
    return url_for("teaching.draft", draft_id=draft.public_id, _anchor=anchor)


def _outline(draft: authoring.Draft, form: SendForm) -> ResponseReturnValue:
    page = OutlinePage(draft, form, checked(draft.document).faults)
    status = form.status if form.errors else 200
    return render_template("teaching/authoring/draft.html", page=page), status


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/throw-away")
@access(Rule.INSTRUCTOR)
def throw_draft_away(draft_id: str) -> ResponseReturnValue:
    page = ThrowAwayPage(own_draft(draft_id), SendForm())
    return render_template("teaching/authoring/throw_draft_away.html", page=page)


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/throw-away")
@access(Rule.INSTRUCTOR)
def throw_draft_away_now(draft_id: str) -> ResponseReturnValue:
    form = SendForm(request.form)
    if not form.validate():
        page = ThrowAwayPage(own_draft(draft_id), form)
        return render_template("teaching/authoring/throw_draft_away.html", page=page), form.status
    title = authoring.throw_away(current.database(), draft_id=draft_id, author=current.someone())
    flash(f"The draft “{title}” is thrown away.")
    return redirect(url_for("teaching.drafts"), 303)


def own_time_zone() -> str:
    """Of the instructor's last class by name; without a class, UTC."""
    rows = classes.classes_of(current.database(), instructor=current.someone())
    return rows[-1].time_zone if rows else "UTC"


def own_draft(draft_id: str) -> authoring.Draft:
    """A draft of the signed-in instructor. Raises NotFound, which becomes the page for it."""
    return authoring.draft(current.database(), draft_id=draft_id, author=current.someone())
