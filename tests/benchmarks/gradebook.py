"""The gradebook of 200 students by 60 assignments: its time, its queries, and its growth with the cells."""

import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import event, insert, select
from sqlalchemy.engine import Engine

from app.factory import create_app
from app.services import accounts
from app.store.choices import AttemptState
from app.store.models import Assignment, Attempt, Enrolment
from app.web.current import SIGN_IN
from tests.benchmarks.rows import Row, medians
from tests.benchmarks.stage import School, make_school, served

STUDENTS, ASSIGNMENTS = 200, 60
SMALL = (50, 15)
SLUG = "two-plane-balance"


def rows() -> list[Row]:
    small, _ = measured(*SMALL)
    large, queries = measured(STUDENTS, ASSIGNMENTS)
    cells = STUDENTS * ASSIGNMENTS / (SMALL[0] * SMALL[1])
    size = f"{STUDENTS} x {ASSIGNMENTS}"
    return [
        Row(f"gradebook {size}", 1000 * large, 400, "ms"),
        Row(f"gradebook {size}: queries", queries, 8, ""),
        Row(f"its growth for {cells:g} times the cells", large / small, cells, "times"),
    ]


def measured(students: int, assignments: int) -> tuple[float, int]:
    """Median seconds of the page, and its queries."""
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder), students=students)
        for number in range(assignments):
            school.assign(SLUG, title=f"Lab {number}")
        fill(school)
        with served(school) as address:
            instructor = address.visitor()
            instructor.sign_in(school.instructor.sign_in_name, school.instructor_phrase)
            path = f"/teaching/classes/{school.class_id}/gradebook"
            seconds = medians({"gradebook": lambda: instructor.get(path)}, rounds=7, warm_up=1)["gradebook"]
        return seconds, queries_of(school, path)


def fill(school: School) -> None:
    """Three of four students have handed in at each assignment, some late, some twice."""
    now = datetime.now(UTC)
    with school.database.write() as session:
        given = session.scalars(select(Assignment)).all()
        people = session.scalars(select(Enrolment.person_id)).all()
        rows = [
            attempt(each, person, number, now)
            for at, each in enumerate(given)
            for place, person in enumerate(people)
            for number in range(1, ((at + place) % 4 > 0) + ((at * place) % 5 == 1) + 1)
        ]
        session.execute(insert(Attempt), rows)


def attempt(given: Any, person: int, number: int, now: datetime) -> dict[str, Any]:
    return {
        "public_id": f"{given.id}x{person}x{number}".ljust(20, "a"),
        "assignment_id": given.id,
        "person_id": person,
        "number": number,
        "seed": "1",
        "drawing_version": 1,
        "scenario_version_id": given.scenario_version_id,
        "units": "us",
        "state": AttemptState.HANDED_IN,
        "started_at": now - timedelta(hours=20),
        "handed_in_at": now - timedelta(hours=19),
        "points": (given.id * 7 + person * 3 + number) % 31 / 2,
        "out_of": 15.0,
    }


def queries_of(school: School, path: str) -> int:
    """How many SELECTs the whole page asks, the sign-in's among them."""
    token = accounts.sign_in(
        school.database,
        sign_in_name=school.instructor.sign_in_name,
        pass_phrase=school.instructor_phrase,
        now=datetime.now(UTC),
    ).token
    client = create_app(school.settings).test_client()
    with client.session_transaction() as session:
        session[SIGN_IN] = token
    asked: list[str] = []

    def note(_: Any, __: Any, statement: str, *___: Any) -> None:
        asked.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    assert client.get(path).status_code == 200
    event.remove(Engine, "before_cursor_execute", note)
    return sum(statement.startswith("SELECT") for statement in asked)
