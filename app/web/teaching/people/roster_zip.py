"""Routes of OneRoster zips: taking classes from one, and giving a class's results as one."""

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.measures import UnitSystem
from app.exports.errors import ExportError
from app.exports.file_names import file_name
from app.exports.oneroster_results import results_zip
from app.services import classes as class_service
from app.services import handing_in, oneroster_import, oneroster_results
from app.services.oneroster_import import Offer, ZipPreview
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.class_pages import cards_sheet
from app.web.teaching.local_times import in_zone
from app.web.teaching.people.class_list import said_of, sent_file
from app.web.teaching.people.forms import UploadForm, ZipForm, class_options
from app.web.teaching.people.pages import RowsShown, ZipPage, ZipUploadPage


@blueprint.get("/roster")
@access(Rule.INSTRUCTOR)
def roster_zip() -> ResponseReturnValue:
    return render_template("teaching/roster_zip.html", page=ZipUploadPage(UploadForm()))


@blueprint.post("/roster")
@access(Rule.INSTRUCTOR)
def send_roster_zip() -> ResponseReturnValue:
    form = sent_file()
    if form.validate():
        with form.shows_refusals():
            file_id = oneroster_import.receive(
                current.database(), instructor=current.someone(), content=form.content, now=current.now()
            )
            return redirect(url_for("teaching.choose_classes", file_id=file_id), 303)
    return render_template("teaching/roster_zip.html", page=ZipUploadPage(form)), form.status


@blueprint.get("/roster/<public_id:file_id>")
@access(Rule.INSTRUCTOR)
def choose_classes(file_id: str) -> ResponseReturnValue:
    """Classes that were taken before are chosen again, into where they went."""
    offer = _offer(file_id)
    own = class_service.classes_of(current.database(), instructor=current.someone())
    form = ZipForm(data={"time_zone": own[-1].time_zone, "units": own[-1].units} if own else None)
    open_classes = {class_id for class_id, _ in offer.own}
    into = [each.known_as if each.known_as in open_classes else "" for each in offer.classes]
    page = ZipPage(offer, [each or "" for each in into], class_options(offer), form, None, None)
    return render_template("teaching/roster_zip_classes.html", page=page)


@blueprint.post("/roster/<public_id:file_id>")
@access(Rule.INSTRUCTOR)
def take_classes(file_id: str) -> ResponseReturnValue:
    """Show what the choice would do or, for the button `take`, do it and show the new cards."""
    offer, form = _offer(file_id), ZipForm(request.form)
    into = [request.form.get(f"class-{place}", "") for place in range(len(offer.classes))]
    chosen = {each.roster_id: where for each, where in zip(offer.classes, into, strict=True) if where}
    preview = None
    if form.validate():
        with form.shows_refusals():
            preview = _preview(file_id, chosen)
            if "take" in request.form:
                return _take(file_id, chosen, form, preview)
    shown = RowsShown(preview.rows) if preview else None
    page = ZipPage(offer, into, class_options(offer), form, preview, shown)
    status = form.status if form.errors else 200
    return render_template("teaching/roster_zip_classes.html", page=page), status


def _take(file_id: str, chosen: dict[str, str], form: ZipForm, preview: ZipPreview) -> ResponseReturnValue:
    taken = oneroster_import.take(
        current.database(),
        instructor=current.someone(),
        file_id=file_id,
        into=chosen,
        leave_out_faulty=form.leave_out.data,
        time_zone=form.time_zone.data,
        units=UnitSystem(form.units.data),
        now=current.now(),
    )
    if taken.cards:
        page = cards_sheet(", ".join(preview.class_names), list(taken.cards), url_for("teaching.classes"))
        return render_template("teaching/cards.html", page=page)
    flash(said_of(taken))
    return redirect(url_for("teaching.classes"), 303)


def _offer(file_id: str) -> Offer:
    return oneroster_import.offer(
        current.database(), instructor=current.someone(), file_id=file_id, now=current.now()
    )


def _preview(file_id: str, chosen: dict[str, str]) -> ZipPreview:
    return oneroster_import.preview(
        current.database(),
        instructor=current.someone(),
        file_id=file_id,
        into=chosen,
        now=current.now(),
    )


@blueprint.get("/classes/<public_id:class_id>/results-oneroster.zip")
@access(Rule.INSTRUCTOR)
def roster_results(class_id: str) -> ResponseReturnValue | Response:
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, class_id=class_id)
    results = oneroster_results.results_of_class(
        database, class_id=class_id, instructor=current.someone(), now=now
    )
    try:
        content = results_zip(results.items, results.scores, made_at=now)
    except ExportError:
        flash("This class has no assignment whose results could be given. Give it one first.", "error")
        return redirect(url_for("teaching.class_page", class_id=class_id), 303)
    day = in_zone(now, results.time_zone).date()
    name = file_name("results-oneroster", results.class_name, day=day, extension="zip")
    return download(content, name, "application/zip")
