"""Routes of what is held about a student: the record as a page and as a file, and deleting all of it."""

import json
import zipfile
from collections.abc import Sequence
from dataclasses import asdict
from io import BytesIO

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.exports.file_names import file_name
from app.services import deletion, handing_in, people_records
from app.services.people_records import StudentRecord
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.forms import SendForm
from app.web.teaching import blueprint
from app.web.teaching.classes import own_class
from app.web.teaching.local_times import in_zone
from app.web.teaching.people.forms import DeleteForm
from app.web.teaching.people.pages import DeletePage, ReceiptPage, RecordFilePage, RecordPage


@blueprint.get("/classes/<public_id:class_id>/students/<public_id:student_id>/record")
@access(Rule.INSTRUCTOR)
def student_record(class_id: str, student_id: str) -> ResponseReturnValue:
    page = RecordPage(own_class(class_id), _record(class_id, student_id))
    return render_template("teaching/student_record.html", page=page)


@blueprint.get("/classes/<public_id:class_id>/students/<public_id:student_id>/record.zip")
@access(Rule.INSTRUCTOR)
def student_record_zip(class_id: str, student_id: str) -> Response:
    record = _record(class_id, student_id)
    name = file_name(
        "record", record.display_name, day=in_zone(record.made_at, record.time_zone).date(), extension="zip"
    )
    return download(_packed([record]), name, "application/zip")


@blueprint.get("/classes/<public_id:class_id>/records.zip")
@access(Rule.INSTRUCTOR)
def class_records_zip(class_id: str) -> Response:
    """Everybody's record in one file: what a school keeps of a term that is over."""
    school_class = own_class(class_id)
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, class_id=class_id)
    records = people_records.records_of_class(
        database, class_id=class_id, instructor=current.someone(), now=now
    )
    day = in_zone(now, school_class.time_zone).date()
    name = file_name("records", school_class.name, day=day, extension="zip")
    return download(_packed(records), name, "application/zip")


def _record(class_id: str, student_id: str) -> StudentRecord:
    database, now = current.database(), current.now()
    handing_in.hand_in_what_is_over(database, now=now, class_id=class_id)
    return people_records.record_of(
        database, class_id=class_id, instructor=current.someone(), student_id=student_id, now=now
    )


def _packed(records: Sequence[StudentRecord]) -> bytes:
    """A zip with two files for each record: JSON for programs, and a page for people."""
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for record in records:
            stem = f"{record.sign_in_name}-{record.student_id}"
            page = render_template("teaching/record_file.html", page=RecordFilePage(record))
            archive.writestr(f"{stem}.html", page)
            archive.writestr(
                f"{stem}.json", json.dumps(asdict(record), ensure_ascii=False, indent=2, default=str)
            )
    return packed.getvalue()


@blueprint.get("/classes/<public_id:class_id>/students/<public_id:student_id>/delete")
@access(Rule.INSTRUCTOR)
def delete_student(class_id: str, student_id: str) -> ResponseReturnValue:
    page = _delete_page(class_id, student_id, DeleteForm())
    return render_template("teaching/delete_student.html", page=page)


@blueprint.post("/classes/<public_id:class_id>/students/<public_id:student_id>/delete")
@access(Rule.INSTRUCTOR)
def delete_student_now(class_id: str, student_id: str) -> ResponseReturnValue:
    """The answer to the form is the receipt; its number and counts stay in the audit."""
    form = DeleteForm(request.form)
    page = _delete_page(class_id, student_id, form)
    if form.validate():
        with form.shows_refusals():
            receipt = deletion.erase_student(
                current.database(),
                class_id=class_id,
                instructor=current.someone(),
                student_id=student_id,
                typed_name=form.typed_name.data,
                now=current.now(),
            )
            told = ReceiptPage(own_class(class_id), receipt, SendForm())
            return render_template("teaching/deleted_student.html", page=told)
    return render_template("teaching/delete_student.html", page=page), form.status


@blueprint.post("/classes/<public_id:class_id>/write-file-anew")
@access(Rule.INSTRUCTOR)
def write_file_anew(class_id: str) -> ResponseReturnValue:
    """What a deletion could not do while others kept the database busy."""
    own_class(class_id)
    form = SendForm(request.form)
    if not form.validate():
        flash(form.stale_message, "error")
    elif deletion.write_file_anew(current.database(), class_id=class_id, instructor=current.someone()):
        flash("The database’s file is written anew: no byte of what was deleted is left in it.")
    else:
        flash("The database is too busy just now. Try again when nobody is working.", "error")
    return redirect(url_for("teaching.class_settings", class_id=class_id), 303)


def _delete_page(class_id: str, student_id: str, form: DeleteForm) -> DeletePage:
    student = deletion.erasable(
        current.database(), class_id=class_id, instructor=current.someone(), student_id=student_id
    )
    return DeletePage(own_class(class_id), student, form)
