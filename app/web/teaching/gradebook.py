"""Routes of a class's gradebook, as a page and as a table for a spreadsheet."""

from flask import Response, render_template
from flask.typing import ResponseReturnValue

from app.exports.file_names import file_name
from app.exports.tables import csv_text
from app.services import review
from app.web import current
from app.web.access import Rule, access
from app.web.downloads import download
from app.web.teaching import blueprint
from app.web.teaching.gradebook_pages import GradebookPage, gradebook_table
from app.web.teaching.local_times import in_zone


@blueprint.get("/classes/<public_id:class_id>/gradebook")
@access(Rule.INSTRUCTOR)
def gradebook(class_id: str) -> ResponseReturnValue:
    return render_template("teaching/gradebook.html", page=GradebookPage(_own_gradebook(class_id)))


@blueprint.get("/classes/<public_id:class_id>/gradebook.csv")
@access(Rule.INSTRUCTOR)
def gradebook_csv(class_id: str) -> Response:
    book = _own_gradebook(class_id)
    heads, rows = gradebook_table(book)
    name = file_name(
        "gradebook", book.class_name, day=in_zone(current.now(), book.time_zone).date(), extension="csv"
    )
    return download(csv_text(heads, rows, byte_order_mark=True).encode(), name, "text/csv")


def _own_gradebook(class_id: str) -> review.Gradebook:
    return review.gradebook(
        current.database(), class_id=class_id, instructor=current.someone(), now=current.now()
    )
