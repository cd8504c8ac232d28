"""The OneRoster writer: exact ids, exact numbers. Words of scoreStatus: the 1.2 standard, from memory."""

import csv
import io
import zipfile
from datetime import UTC, date, datetime

import pytest

from app.exports.errors import ExportError
from app.exports.oneroster_results import Category, LineItem, Score, ScoreStatus, results_zip

MADE = datetime(2030, 3, 4, 15, 0, tzinfo=UTC)
ITEM = LineItem("a1", "c1", 'Lab "1", first', date(2030, 3, 1), date(2030, 3, 8), 12.0)


def score(**changed):
    given = {
        "assignment_id": "a1",
        "class_id": "c1",
        "student_id": "-u,1",
        "status": ScoreStatus.FULLY_GRADED,
        "points": 7.125,
        "scored_on": date(2030, 3, 7),
    }
    return Score(**(given | changed))


def rows(content, name):
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        heads, *cells = csv.reader(io.StringIO(archive.read(name).decode(), newline=""))
    return [dict(zip(heads, each, strict=True)) for each in cells]


def test_ids_and_titles_arrive_exactly_as_they_are():
    content = results_zip([ITEM], [score()], made_at=MADE)
    assert rows(content, "results.csv")[0]["studentSourcedId"] == "-u,1"
    assert rows(content, "lineItems.csv")[0]["title"] == 'Lab "1", first'
    assert rows(content, "lineItems.csv")[0]["dateLastModified"] == "2030-03-04T15:00:00.000Z"


@pytest.mark.parametrize(
    ("points", "text"), [(7.125, "7.12"), (7.0, "7"), (0.0, "0"), (10.5, "10.5"), (None, ""), (100.0, "100")]
)
def test_points_have_two_decimals_at_most(points, text):
    content = results_zip([ITEM], [score(points=points)], made_at=MADE)
    assert rows(content, "results.csv")[0]["score"] == text


def test_every_state_has_its_word_and_flag():
    given = [
        score(status=ScoreStatus.EXEMPT, points=None),
        score(status=ScoreStatus.NOT_SUBMITTED, points=None, missing=True),
        score(late=True),
        score(status=ScoreStatus.NOT_SUBMITTED, points=None, in_progress=True),
    ]
    found = [
        (row["scoreStatus"], row["missing"], row["late"], row["inProgress"])
        for row in rows(results_zip([ITEM], given, made_at=MADE), "results.csv")
    ]
    assert found == [
        ("exempt", "false", "false", "false"),
        ("not submitted", "true", "false", "false"),
        ("fully graded", "false", "true", "false"),
        ("not submitted", "false", "false", "true"),
    ]


def test_the_same_results_make_the_same_bytes():
    assert results_zip([ITEM], [score()], made_at=MADE) == results_zip([ITEM], [score()], made_at=MADE)


def test_nothing_to_write_and_a_stray_score_are_refused():
    with pytest.raises(ExportError, match="no assignment"):
        results_zip([], [], made_at=MADE)
    with pytest.raises(ExportError, match=r"scores\[0\]"):
        results_zip([ITEM], [score(assignment_id="a2")], made_at=MADE)


def test_each_category_is_written_once_and_named_by_its_assignments():
    from dataclasses import replace

    tests = Category("k1", "Tests", 40.0)
    items = [replace(ITEM, assignment_id=name, category=tests) for name in ("a1", "a2")]
    content = results_zip([*items, replace(ITEM, assignment_id="a3")], [], made_at=MADE)
    assert [(row["sourcedId"], row["title"], row["weight"]) for row in rows(content, "categories.csv")] == [
        ("k1", "Tests", "40"),
        ("heavy-spot-labs", "Wheel-service labs", ""),
    ]
    named = [row["categorySourcedId"] for row in rows(content, "lineItems.csv")]
    assert named == ["k1", "k1", "heavy-spot-labs"]
