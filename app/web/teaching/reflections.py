"""Routes of a class's reflection sheets: who wrote one, reading them, and the packet to print."""

from flask import Response, render_template
from flask.typing import ResponseReturnValue

from app.exports.file_names import file_name
from app.exports.reflection_packet import reflection_packet
from app.exports.reflection_sheets import PacketHeading
from app.services import reflections
from app.services.assignments import AssignmentDetail
from app.services.errors import NotFound
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.local_times import in_zone
from app.web.teaching.packets import paper_for, printed_sheet
from app.web.teaching.reflection_pages import SheetsPage


@blueprint.get("/assignments/<public_id:assignment_id>/reflections")
@access(Rule.INSTRUCTOR)
def reflection_sheets(assignment_id: str) -> ResponseReturnValue:
    page = SheetsPage(own_assignment(assignment_id), _sheets(assignment_id))
    return render_template("teaching/reflections.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/all")
@access(Rule.INSTRUCTOR)
def read_reflections(assignment_id: str) -> ResponseReturnValue:
    page = SheetsPage(own_assignment(assignment_id), _sheets(assignment_id))
    return render_template("teaching/reflections_read.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def reflection_sheet(assignment_id: str, student_id: str) -> ResponseReturnValue:
    [sheet] = _sheets(assignment_id, student_id)
    page = SheetsPage(own_assignment(assignment_id), [sheet], title=sheet.student_name)
    return render_template("teaching/reflections_read.html", page=page)


@blueprint.get("/assignments/<public_id:assignment_id>/reflections.pdf")
@access(Rule.INSTRUCTOR)
def reflection_packet_pdf(assignment_id: str) -> Response:
    return _packet(own_assignment(assignment_id), _sheets(assignment_id))


@blueprint.get("/assignments/<public_id:assignment_id>/reflections/<public_id:student_id>.pdf")
@access(Rule.INSTRUCTOR)
def reflection_sheet_pdf(assignment_id: str, student_id: str) -> Response:
    return _packet(own_assignment(assignment_id), _sheets(assignment_id, student_id))


def _sheets(assignment_id: str, student_id: str | None = None) -> tuple[reflections.StudentSheet, ...]:
    return reflections.sheets(
        current.database(),
        assignment_id=assignment_id,
        instructor=current.someone(),
        student_id=student_id,
    )


def _packet(assignment: AssignmentDetail, sheets: tuple[reflections.StudentSheet, ...]) -> Response:
    if not sheets:
        raise NotFound("Nobody is in this class, so there is nothing to print.")
    heading = PacketHeading(f"Reflection sheets: {assignment.row.title}")
    content = reflection_packet(
        [printed_sheet(sheet) for sheet in sheets], heading=heading, paper=paper_for(assignment.units)
    )
    whose = [sheets[0].student_name] if len(sheets) == 1 else []
    name = file_name(
        "reflection",
        assignment.row.title,
        *whose,
        day=in_zone(current.now(), assignment.time_zone).date(),
        extension="pdf",
    )
    return download(content, name, "application/pdf")
