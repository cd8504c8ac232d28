"""Routes of paper worksheets: the students' sheets and, as a file of its own, the instructor's key."""

from flask import Response, url_for

from app.exports.file_names import file_name
from app.exports.worksheets import Lab, key_packet, worksheet_packet
from app.services import worksheets as service
from app.services.assignments import AssignmentDetail
from app.services.errors import NotFound
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.assignments import own_assignment
from app.web.teaching.local_times import in_zone
from app.web.teaching.packets import paper_for
from app.web.teaching.worksheet_sheets import printed_key, printed_lab, printed_worksheet


@blueprint.get("/assignments/<public_id:assignment_id>/worksheets.pdf")
@access(Rule.INSTRUCTOR)
def worksheets(assignment_id: str) -> Response:
    detail = own_assignment(assignment_id)
    sheets = _sheets(assignment_id)
    content = worksheet_packet(
        [printed_worksheet(sheet) for sheet in sheets],
        lab=_lab(detail, sheets),
        paper=paper_for(detail.units),
    )
    return download(content, _file_name("worksheets", detail), "application/pdf")


@blueprint.get("/assignments/<public_id:assignment_id>/worksheets/key.pdf")
@access(Rule.INSTRUCTOR)
def worksheet_key(assignment_id: str) -> Response:
    detail = own_assignment(assignment_id)
    sheets = _sheets(assignment_id)
    content = key_packet(
        [printed_key(sheet) for sheet in sheets], lab=_lab(detail, sheets), paper=paper_for(detail.units)
    )
    return download(content, _file_name("answer-key", detail), "application/pdf")


def _sheets(assignment_id: str) -> tuple[service.Worksheet, ...]:
    sheets = service.worksheets(current.database(), assignment_id=assignment_id, instructor=current.someone())
    if not sheets:
        raise NotFound("Nobody is in this class, so there is nothing to print.")
    return sheets


def _lab(detail: AssignmentDetail, sheets: tuple[service.Worksheet, ...]) -> Lab:
    """With the address of the lab under the name by which the instructor reached this server: a code that
    says "localhost" is the instructor's to avoid, and the page of files says so."""
    address = url_for("labs.assignment", assignment_id=detail.row.public_id, _external=True)
    return printed_lab(detail, sheets[0].variant.scenario, address)


def _file_name(kind: str, detail: AssignmentDetail) -> str:
    day = in_zone(current.now(), detail.time_zone).date()
    return file_name(kind, detail.row.title, day=day, extension="pdf")
