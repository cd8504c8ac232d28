"""A class's results as a OneRoster 1.2 zip of CSV files (1EdTech, OneRoster CSV Binding 1.2): manifest,
categories, lineItems and results. Column names and their order are from memory of that document.

The files are for another program, so nothing in them is guarded against spreadsheets: an id must arrive as it
is. They hold no name of a student.
"""

import csv
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import StrEnum
from io import BytesIO, StringIO

from app.exports.errors import ExportError

LINE_ITEM_COLUMNS = (
    *("sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate"),
    *("classSourcedId", "categorySourcedId", "gradingPeriodSourcedId", "resultValueMin", "resultValueMax"),
    "schoolSourcedId",
)
RESULT_COLUMNS = (
    *("sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId", "scoreStatus"),
    *("score", "scoreDate", "comment", "classSourcedId", "inProgress", "incomplete", "late", "missing"),
)
CATEGORY_COLUMNS = ("sourcedId", "status", "dateLastModified", "title", "weight")
FILES = (
    *("academicSessions", "categories", "classes", "classResources", "courses", "courseResources"),
    *("demographics", "enrollments", "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales"),
    *("orgs", "resources", "resultLearningObjectiveIds", "results", "resultScoreScales", "roles"),
    *("scoreScales", "userProfiles", "userResources", "users"),
)


class ScoreStatus(StrEnum):
    """The standard's own words."""

    EXEMPT = "exempt"
    FULLY_GRADED = "fully graded"
    NOT_SUBMITTED = "not submitted"
    PARTIALLY_GRADED = "partially graded"
    SUBMITTED = "submitted"


@dataclass(frozen=True)
class Category:
    category_id: str
    title: str
    weight: float | None = None


USUAL_CATEGORY = Category("heavy-spot-labs", "Wheel-service labs")
"""Of every assignment that is in no other: the standard asks for one."""


@dataclass(frozen=True)
class LineItem:
    """An assignment. All ids as the receiving program knows them, or our own."""

    assignment_id: str
    class_id: str
    title: str
    assigned_on: date
    due_on: date
    out_of: float
    category: Category = USUAL_CATEGORY


@dataclass(frozen=True)
class Score:
    """One student at one assignment; points None while there are none."""

    assignment_id: str
    class_id: str
    student_id: str
    status: ScoreStatus
    points: float | None
    scored_on: date
    in_progress: bool = False
    late: bool = False
    missing: bool = False


def results_zip(items: Sequence[LineItem], scores: Iterable[Score], *, made_at: datetime) -> bytes:
    """The zip; the same input gives the same bytes. Raises ExportError without an assignment, and for a score
    of an assignment that isn't among `items`."""
    if not items:
        raise ExportError("items", "there is no assignment in this class yet; give it one first")
    known = {item.assignment_id for item in items}
    changed = made_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    results = []
    for number, score in enumerate(scores):
        if score.assignment_id not in known:
            raise ExportError(f"scores[{number}].assignment_id", "is none of the assignments")
        results.append(_result(score, changed))
    files = {
        "manifest": _csv(("propertyName", "value"), _manifest()),
        "categories": _csv(CATEGORY_COLUMNS, _categories(items, changed)),
        "lineItems": _csv(LINE_ITEM_COLUMNS, [_line_item(item, changed) for item in items]),
        "results": _csv(RESULT_COLUMNS, results),
    }
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in files.items():
            archive.writestr(zipfile.ZipInfo(f"{name}.csv"), text.encode(), zipfile.ZIP_DEFLATED)
    return packed.getvalue()


def _manifest() -> list[tuple[str, str]]:
    here = {"categories", "lineItems", "results"}
    return [
        ("manifest.version", "1.0"),
        ("oneroster.version", "1.2"),
        *((f"file.{name}", "bulk" if name in here else "absent") for name in FILES),
        ("source.systemName", "Heavy Spot"),
        ("source.systemCode", "heavy-spot"),
    ]


def _categories(items: Sequence[LineItem], changed: str) -> list[tuple[str, ...]]:
    """Each category once, in the order of the assignments."""
    return [
        (
            *(each.category_id, "active", changed, each.title),
            "" if each.weight is None else _number(each.weight),
        )
        for each in dict.fromkeys(item.category for item in items)
    ]


def _line_item(item: LineItem, changed: str) -> tuple[str, ...]:
    return (
        *(item.assignment_id, "active", changed, item.title, "", item.assigned_on.isoformat()),
        *(
            item.due_on.isoformat(),
            item.class_id,
            item.category.category_id,
            "",
            "0",
            _number(item.out_of),
            "",
        ),
    )


def _result(score: Score, changed: str) -> tuple[str, ...]:
    points = "" if score.points is None else _number(score.points)
    flags = (score.in_progress, False, score.late, score.missing)
    return (
        *(f"{score.assignment_id}-{score.student_id}", "active", changed, score.assignment_id),
        *(score.student_id, score.status.value, points, score.scored_on.isoformat(), "", score.class_id),
        *("true" if flag else "false" for flag in flags),
    )


def _number(value: float) -> str:
    """At most two decimals and no trailing zeros: what the gradebook shows."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _csv(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows(rows)
    return text.getvalue()
