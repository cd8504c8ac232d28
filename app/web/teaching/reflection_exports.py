"""Routes that hand out reflection sheets as files: of one assignment, one class or one student.

`?names=hidden` calls students by number and takes names out of what they wrote.
"""

from collections.abc import Callable, Sequence
from typing import Any

from flask import Response, render_template, request
from flask.typing import ResponseReturnValue

from app.exports.file_names import Extension, file_name
from app.exports.reflection_packet import LINES_ON_A_BLANK_SHEET, reflection_packet
from app.exports.reflection_sheets import PacketHeading
from app.exports.tables import csv_text
from app.exports.typesetting import signs_without_a_font
from app.exports.workbook import workbook
from app.services import assignments, handing_in, reflections
from app.services.classes import ClassDetail
from app.services.errors import NotFound
from app.services.pseudonyms import Names, names_of
from app.services.reflections import StudentSheet
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.class_pages import only_here
from app.web.teaching.classes import own_class
from app.web.teaching.local_times import in_zone
from app.web.teaching.packets import WHO, blank_sheet, paper_for, printed_sheet
from app.web.teaching.reflection_pages import DownloadsPage
from app.web.teaching.reflection_tables import answers_table, sheets_table
from app.web.teaching.reflections import sheets_of

Students = Sequence[StudentSheet]

MEDIA_TYPES: dict[Extension, str] = {
    "pdf": "application/pdf",
    "docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def _in_every_format(address: str) -> Callable[[Any], Any]:
    """Route `address` with each of the formats as its ending; the view is told which as `kind`."""

    def mark(view: Any) -> Any:
        for kind in MEDIA_TYPES:
            view = blueprint.get(f"{address}.{kind}", defaults={"kind": kind})(view)
        return view

    return mark


@blueprint.get("/classes/<public_id:class_id>/reflections")
@access(Rule.INSTRUCTOR)
def class_reflections(class_id: str) -> ResponseReturnValue:
    given = assignments.of_class(current.database(), class_id=class_id, instructor=current.someone())
    school_class = own_class(class_id)
    undrawn = signs_without_a_font(student.display_name for student in school_class.students)
    page = DownloadsPage(school_class, given, only_here(), undrawn)
    return render_template("teaching/reflections_downloads.html", page=page)


@_in_every_format("/classes/<public_id:class_id>/reflections")
@access(Rule.INSTRUCTOR)
def class_reflections_file(class_id: str, kind: Extension) -> Response:
    students = _of_class(class_id)
    return _file(own_class(class_id), students, kind)


@_in_every_format("/classes/<public_id:class_id>/students/<public_id:student_id>/reflections")
@access(Rule.INSTRUCTOR)
def student_reflections_file(class_id: str, student_id: str, kind: Extension) -> Response:
    students = _of_class(class_id, student_id)
    return _file(own_class(class_id), students, kind, whose=student_id)


@_in_every_format("/assignments/<public_id:assignment_id>/reflections")
@access(Rule.INSTRUCTOR)
def reflections_file(assignment_id: str, kind: Extension) -> Response:
    detail = own_assignment(assignment_id)
    return _file(own_class(detail.class_id), sheets_of(assignment_id), kind, title=detail.row.title)


@_in_every_format("/assignments/<public_id:assignment_id>/reflections/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def reflection_sheet_file(assignment_id: str, student_id: str, kind: Extension) -> Response:
    detail, students = own_assignment(assignment_id), sheets_of(assignment_id, student_id)
    return _file(own_class(detail.class_id), students, kind, title=detail.row.title, whose=student_id)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/blank.pdf")
@access(Rule.INSTRUCTOR)
def blank_reflections(assignment_id: str) -> Response:
    """Sheets to write on by hand: one for each student, or with hidden names one without a name to copy."""
    detail, students = own_assignment(assignment_id), sheets_of(assignment_id, results=False)
    school_class = own_class(detail.class_id)
    names = _names(school_class)
    sheets = [
        blank_sheet(printed_sheet(student, names), WHO if names.hidden else None) for student in students
    ]
    content = reflection_packet(
        sheets[:1] if names.hidden else sheets,
        heading=PacketHeading(f"Blank reflection sheets: {detail.row.title}"),
        paper=paper_for(school_class.units),
        lines=LINES_ON_A_BLANK_SHEET,
    )
    name = _file_name(school_class, "pdf", "blank-reflection", detail.row.title)
    return download(content, name, MEDIA_TYPES["pdf"])


def _of_class(class_id: str, student_id: str | None = None) -> Students:
    database = current.database()
    handing_in.hand_in_what_is_over(database, now=current.now(), class_id=class_id)
    return reflections.sheets_of_class(
        database, class_id=class_id, instructor=current.someone(), student_id=student_id
    )


def _names(school_class: ClassDetail) -> Names:
    return names_of(
        school_class.public_id,
        school_class.students + school_class.dropped,
        hidden=request.args.get("names") == "hidden",
    )


def _file(
    school_class: ClassDetail,
    students: Students,
    kind: Extension,
    *,
    title: str | None = None,
    whose: str | None = None,
) -> Response:
    """title: of the one assignment, None for all of the class; whose: the id of the one student."""
    if not students:
        raise NotFound("There is no sheet yet, so there is nothing to print.")
    names = _names(school_class)
    if names.hidden:  # in the order of the numbers: the order of names would tell whose is whose
        students = sorted(students, key=lambda each: names.of(each.student_id, each.student_name))
    heading = f"Reflection sheets: {title or school_class.name}"
    called = [names.of(students[0].student_id, students[0].student_name)] if whose else []
    name = _file_name(school_class, kind, "reflection", title or school_class.name, *called)
    return download(_content(kind, students, names, heading), name, MEDIA_TYPES[kind])


def _content(kind: Extension, students: Students, names: Names, heading: str) -> bytes:
    if kind == "csv":
        table = answers_table(students, names)
        return csv_text(table.heads, table.rows, byte_order_mark=True).encode()
    if kind == "xlsx":
        return workbook(heading, [sheets_table(students, names), answers_table(students, names)])
    write = reflection_packet if kind == "pdf" else _document_writer()
    return write(
        [printed_sheet(student, names) for student in students],
        heading=PacketHeading(heading),
        paper=paper_for(students[0].sheet.units),
    )


def _document_writer() -> Callable[..., bytes]:
    from app.exports.reflection_document import reflection_document  # its library is slow to load

    return reflection_document


def _file_name(school_class: ClassDetail, kind: Extension, *titles: str) -> str:
    day = in_zone(current.now(), school_class.time_zone).date()
    return file_name(*titles, day=day, extension=kind)
