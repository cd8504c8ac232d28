"""Routes that write a scenario as one file and read one into a new draft."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import authoring_files
from app.services.authoring_files import Export, NotImportable
from app.services.errors import Refused
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.authoring.forms import FileForm
from app.web.teaching.authoring.pages import ImportPage
from app.web.teaching.authoring.uploads import TOO_LARGE, allow_a_file, file_sent

PAGE = "teaching/authoring/import_scenario.html"


@blueprint.get("/scenarios/<public_id:scenario_id>/file")
@access(Rule.INSTRUCTOR)
def scenario_file(scenario_id: str) -> ResponseReturnValue:
    return _download(authoring_files.export_scenario(current.database(), scenario_id=scenario_id))


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/file")
@access(Rule.INSTRUCTOR)
def draft_file(draft_id: str) -> ResponseReturnValue:
    try:
        export = authoring_files.export_draft(current.database(), draft_id=draft_id, author=current.someone())
    except Refused as refusal:
        flash(refusal.message, "error")
        return redirect(url_for("teaching.draft", draft_id=draft_id), 303)
    return _download(export)


def _download(export: Export) -> ResponseReturnValue:
    file = export.file
    return download(file.content, f"{export.name}.{file.ending}", file.media_type)


@blueprint.get("/scenarios/drafts/import")
@access(Rule.INSTRUCTOR)
def import_scenario() -> ResponseReturnValue:
    return render_template(PAGE, page=ImportPage(FileForm()))


@blueprint.post("/scenarios/drafts/import")
@access(Rule.INSTRUCTOR)
def import_scenario_now() -> ResponseReturnValue:
    """The file becomes a draft, wholly checked; a file with anything at fault is refused with its reasons."""
    if not allow_a_file():
        form = FileForm()
        form.add_error("file", TOO_LARGE)
        return render_template(PAGE, page=ImportPage(form)), 413
    form = FileForm(request.form)
    faults: tuple[tuple[str, str], ...] = ()
    if form.validate():
        with form.shows_refusals():
            _, content = file_sent()
            form.need_file(content)
            try:
                draft_id = authoring_files.import_file(
                    current.database(), author=current.someone(), content=content, now=current.now()
                )
            except NotImportable as refusal:
                faults = tuple((fault.place, fault.message) for fault in refusal.faults)
                raise
            flash("The file is a draft of yours now. Publish it to give it to a class.")
            return redirect(url_for("teaching.draft", draft_id=draft_id), 303)
    return render_template(PAGE, page=ImportPage(form, faults)), form.status
