"""Moving twenty thousand attempts to a version that gives one task other points: read, marked, compared, and
kept, by the service that an instructor's page calls."""

import resource
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import select

from app.commands.serving import lasting_app
from app.services import regrading
from app.settings import SCENARIOS
from app.store.models import Assignment, Enrolment
from tests.benchmarks.handed_in import Place, fill, worked
from tests.benchmarks.rows import Row
from tests.benchmarks.stage import make_school
from tests.services.new_version import new_version

SLUG = "two-plane-balance"
STUDENTS, EACH = 200, 100
DIFFERENT = 500
"""Different students' numbers among the attempts."""
MORE_POINTS = ('points = 2\nexplain = "The sum points', 'points = 4\nexplain = "The sum points')
MOST_MS = 0.5


def rows() -> list[Row]:
    now = datetime.now(UTC)
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder), students=STUDENTS)
        lasting_app(school.settings)  # the garbage collector as it is in a server
        assignment_id = school.assign(SLUG)
        content = (SCENARIOS / SLUG / "scenario.toml").read_text(encoding="utf-8")
        with school.database.read() as session:
            given = session.scalars(select(Assignment)).one()
            people = session.scalars(select(Enrolment.person_id)).all()
        places = (
            Place(given.id, given.scenario_version_id, person, number)
            for person in people
            for number in range(1, EACH + 1)
        )
        count = fill(school.database, places, worked(content, DIFFERENT), now)
        new_version(school.database, Path(folder), now, MORE_POINTS, slug=SLUG)
        wanted = {"assignment_id": assignment_id, "instructor": school.instructor, "to_version": 2}
        before_mb = _most_mb()
        began = time.process_time()
        preview = regrading.preview_regrade(school.database, **wanted)  # type: ignore[arg-type]
        looked = time.process_time()
        regrading.regrade(school.database, **wanted, expect=preview.stamp, now=now)  # type: ignore[arg-type]
        done = time.process_time()
        assert len(preview.changed) == count
    memory = f"{_most_mb() - before_mb:.0f} MB"
    return [
        _row(f"what a regrade of {count} would change, each", looked - began, count, memory),
        _row("and done, looked at once more and kept, each", done - looked, count, memory),
    ]


def _row(what: str, seconds: float, count: int, memory: str) -> Row:
    note = f"{seconds:.1f} s of processor time, {count / seconds:.0f} a second; {memory} more memory at most"
    return Row(what, 1000 * seconds / count, MOST_MS, "ms", note)


def _most_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
