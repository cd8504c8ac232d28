"""Routes of taking a class list: sending it, choosing its columns, and doing what the preview shows."""

from typing import Any

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from app.services import moving, roster_import
from app.services.roster_columns import Columns
from app.services.roster_import import Preview, Taken
from app.web import current
from app.web.access import Rule, access
from app.web.formatting import counted
from app.web.teaching import blueprint
from app.web.teaching.class_pages import cards_page, only_here
from app.web.teaching.classes import own_class
from app.web.teaching.people.forms import ColumnsForm, JoinForm, UploadForm
from app.web.teaching.people.pages import ListPage, ListUploadPage, RowsShown


def sent_file() -> UploadForm:
    """The upload form with what was sent."""
    sent: MultiDict[str, Any] = MultiDict([*request.form.items(), *request.files.items()])
    return UploadForm(sent)


@blueprint.get("/classes/<public_id:class_id>/class-list")
@access(Rule.INSTRUCTOR)
def class_list(class_id: str) -> ResponseReturnValue:
    page = _upload_page(class_id, UploadForm(), JoinForm())
    return render_template("teaching/class_list.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/class-list")
@access(Rule.INSTRUCTOR)
def send_class_list(class_id: str) -> ResponseReturnValue:
    own_class(class_id)
    form = sent_file()
    if form.validate():
        with form.shows_refusals():
            file_id = roster_import.receive(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                content=form.content,
                now=current.now(),
            )
            return redirect(url_for("teaching.look_at_list", class_id=class_id, file_id=file_id), 303)
    page = _upload_page(class_id, form, JoinForm())
    return render_template("teaching/class_list.html", page=page), form.status


@blueprint.post("/classes/<public_id:class_id>/class-list/join")
@access(Rule.INSTRUCTOR)
def join_class(class_id: str) -> ResponseReturnValue:
    """Students of other classes of this instructor, chosen from a list."""
    own_class(class_id)
    form = JoinForm(request.form)
    page = _upload_page(class_id, UploadForm(), form)
    if form.validate():
        count = moving.enrol_existing(
            current.database(),
            class_id=class_id,
            instructor=current.someone(),
            student_ids=form.students.data,
            now=current.now(),
        )
        flash(f"{counted(count, 'student')} joined, with the cards they have.")
        return redirect(url_for("teaching.class_page", class_id=class_id), 303)
    return render_template("teaching/class_list.html", page=page), form.status


def _upload_page(class_id: str, form: UploadForm, join_form: JoinForm) -> ListUploadPage:
    elsewhere = moving.students_elsewhere(current.database(), class_id=class_id, instructor=current.someone())
    join_form.students.offer([(each.public_id, each.sort_name) for each in elsewhere])
    return ListUploadPage(own_class(class_id), form, join_form, elsewhere)


@blueprint.get("/classes/<public_id:class_id>/class-list/<public_id:file_id>")
@access(Rule.INSTRUCTOR)
def look_at_list(class_id: str, file_id: str) -> ResponseReturnValue:
    own_class(class_id)
    preview = _preview(class_id, file_id, None)
    page = _list_page(class_id, preview, ColumnsForm().offer(preview, show=True))
    return render_template("teaching/class_list_preview.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/class-list/<public_id:file_id>")
@access(Rule.INSTRUCTOR)
def take_list(class_id: str, file_id: str) -> ResponseReturnValue:
    """Show what other columns would do or, for the button `take`, do it and show the new cards."""
    school_class = own_class(class_id)
    preview = _preview(class_id, file_id, None)
    form = ColumnsForm(request.form).offer(preview, show=False)
    if form.validate():
        with form.shows_refusals():
            preview = _preview(class_id, file_id, form.columns())
            if "take" in request.form:
                taken = roster_import.take(
                    current.database(),
                    class_id=class_id,
                    instructor=current.someone(),
                    file_id=file_id,
                    columns=form.columns(),
                    leave_out_faulty=form.leave_out.data,
                    now=current.now(),
                )
                if taken.cards:
                    cards = cards_page(school_class, list(taken.cards))
                    return render_template("teaching/cards.html", page=cards)
                flash(said_of(taken))
                return redirect(url_for("teaching.class_page", class_id=class_id), 303)
            page = _list_page(class_id, preview, form)
            return render_template("teaching/class_list_preview.html", page=page)
    page = _list_page(class_id, preview, form)
    return render_template("teaching/class_list_preview.html", page=page), form.status


def said_of(taken: Taken) -> str:
    """What a list did that made no new student."""
    if not taken.changed:
        return "The list is taken. Nothing has changed: everybody on it was here already."
    return f"The list is taken: {counted(taken.changed, 'change')}, no new student."


def _preview(class_id: str, file_id: str, columns: Columns | None) -> Preview:
    return roster_import.preview(
        current.database(),
        class_id=class_id,
        instructor=current.someone(),
        file_id=file_id,
        columns=columns,
        now=current.now(),
    )


def _list_page(class_id: str, preview: Preview, form: ColumnsForm) -> ListPage:
    return ListPage(own_class(class_id), preview, RowsShown(preview.rows), form, only_here())
