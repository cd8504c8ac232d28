"""Routes of one sheet of a draft: to write it, and to keep what is typed while it is typed."""

from dataclasses import replace

from flask import abort, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.authored.entries import NoSuchEntry
from app.services import authoring, classes
from app.services.authoring import ChangedElsewhere, Draft
from app.services.errors import NotFound
from app.web import current
from app.web.access import Rule, access
from app.web.errors import answer, wants_json
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.authoring.changes import changed
from app.web.teaching.authoring.drafts import own_draft
from app.web.teaching.authoring.forms import page_save_in, revision_in
from app.web.teaching.authoring.pages import SheetPage, sheet_page
from app.web.teaching.authoring.previews import Preview
from app.web.teaching.authoring.reading import document_from
from app.web.teaching.authoring.sections import Section, section_of, section_with
from app.web.teaching.scenario_pages import asked_sample, asked_units

SHEET = "teaching/authoring/sheet.html"


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/sheets/<path>")
@access(Rule.INSTRUCTOR)
def sheet(draft_id: str, path: str) -> ResponseReturnValue:
    """`?faults=1` tells of empty fields too; `?sample=` and `?units=` say which variant is drawn."""
    page = _page(own_draft(draft_id), path, strict="faults" in request.args)
    return render_template(SHEET, page=page)


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/sheets/<path>")
@access(Rule.INSTRUCTOR)
def save_sheet(draft_id: str, path: str) -> ResponseReturnValue:
    """Keep a sheet as it was typed; a button that changes a list does so afterwards."""
    draft, form = own_draft(draft_id), SendForm(request.form)
    section = _section(draft, path)
    typed = replace(draft, document=document_from(request.form, section, draft.document))
    if not form.validate():
        problem = form.csrf_token.errors[0]
        if wants_json():
            abort(answer(400, problem))
        return render_template(SHEET, page=_page(typed, path, stale=problem)), form.status
    try:
        saved = _keep(draft_id, path)
    except ChangedElsewhere as elsewhere:
        if wants_json():
            abort(answer(409, elsewhere.message))
        return render_template(SHEET, page=_page(typed, path, stale=elsewhere.message)), 409
    if wants_json():
        return _live(_page(saved, path, strict="faults" in request.args))
    asked = request.form.get("do", "")
    return redirect(_changed(saved, path, asked) if asked else _next(saved, path), 303)


def _keep(draft_id: str, path: str) -> Draft:
    return authoring.save(
        current.database(),
        draft_id=draft_id,
        author=current.someone(),
        change=lambda document: document_from(request.form, section_of(document, path), document),
        revision=revision_in(request.form),
        now=current.now(),
        page_save=page_save_in(request.form),
    )


def _changed(saved: Draft, path: str, asked: str) -> str:
    """Do what a button asks for; returns where to go on."""
    _, target = changed(saved.document, asked)
    after = authoring.save(
        current.database(),
        draft_id=saved.public_id,
        author=current.someone(),
        change=lambda document: changed(document, asked)[0],
        revision=saved.revision,
        now=current.now(),
    )
    opened = section_with(after.document, target)
    at = opened.path if opened and asked.startswith(("add ", "copy ")) else path
    return url_for(
        "teaching.sheet", draft_id=saved.public_id, path=at, _anchor="f-" + target.replace(".", "-")
    )


def _next(saved: Draft, path: str) -> str:
    """Where the button goes on to: the outline, else the same sheet."""
    if "done" in request.form:
        return url_for("teaching.draft", draft_id=saved.public_id)
    return url_for("teaching.sheet", draft_id=saved.public_id, path=path, faults=1)


def _live(page: SheetPage) -> ResponseReturnValue:
    """What the script puts into the page that it has just saved."""
    return jsonify(
        saved=True,
        revision=page.draft.revision,
        problems=page.problems,
        parts={
            "preview": render_template("teaching/authoring/_preview.html", page=page),
            "missing": render_template("teaching/authoring/_missing.html", page=page),
        },
    )


def _page(draft: Draft, path: str, *, strict: bool = False, stale: str = "") -> SheetPage:
    number = asked_sample(request.args.get("sample", ""))
    rows = classes.classes_of(current.database(), instructor=current.someone())
    units = asked_units(request.args.get("units", ""), rows)
    return sheet_page(
        draft, _section(draft, path), Preview(draft, path, number, units), strict=strict, stale=stale
    )


def _section(draft: Draft, path: str) -> Section:
    try:
        return section_of(draft.document, path)
    except NoSuchEntry as error:
        raise NotFound("There is no such sheet in this draft.") from error
