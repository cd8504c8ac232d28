"""A year of a large school: two thousand students, sixty labs each, three hundred thousand attempts.

Each page is asked for in turn at it and at a school that has one of its ten classes alone; it may take twice
as long. All takes about ten minutes and three gigabytes of disk.
"""

import itertools
import shutil
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

from sqlalchemy import insert, select

from app.services.accounts import Person
from app.settings import SCENARIOS, Settings
from app.store.db import Database
from app.store.models import Assignment, Enrolment
from app.store.models import Person as PersonRow
from tests import factories
from tests.benchmarks.handed_in import Place, fill, worked
from tests.benchmarks.lab_page import answer_all, begin
from tests.benchmarks.rows import Row, medians
from tests.benchmarks.stage import School, Visitor, make_school, served

SLUG = "trial-weight"
CLASSES, STUDENTS, LABS = 10, 200, 60
EACH = (2, 3)
"""Attempts at each lab, in turns."""
DIFFERENT = 200
"""Different students' numbers among the attempts."""
MOST_TIMES = 2.0
ROUNDS = 20


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory() as small_folder, tempfile.TemporaryDirectory() as large_folder:
        small = make_school(Path(small_folder), students=STUDENTS)
        lab_ids = [small.assign(SLUG, title=f"Lab {number}") for number in range(LABS)]
        content = (SCENARIOS / SLUG / "scenario.toml").read_text(encoding="utf-8")
        done = worked(content, DIFFERENT)
        attempts = {"small": fill(small.database, places(small.database, set()), done, now())}
        large = copied(small, Path(large_folder))
        first_class = set(keys_of_assignments(large.database))
        for number in range(1, CLASSES):
            another_class(large, number)
        added = fill(large.database, places(large.database, first_class), done, now())
        attempts["large"] = attempts["small"] + added
        seconds = compared({"small": small, "large": large}, lab_ids)
    sizes = " and ".join(f"{count:,} attempts" for count in attempts.values())
    return [
        Row(
            f"{what}: a large school against one class of it",
            each["large"] / each["small"],
            MOST_TIMES,
            "times",
            f"{1000 * each['small']:.1f} and {1000 * each['large']:.1f} ms with {sizes}",
        )
        for what, each in seconds.items()
    ]


def now() -> datetime:
    return datetime.now(UTC)


def copied(school: School, folder: Path) -> School:
    """The same school in another folder."""
    school.database.close()
    for each in school.settings.data_folder.iterdir():
        if each.is_file():
            shutil.copy(each, folder)
    settings = Settings.from_environment({"HEAVYSPOT_DATA": str(folder)})
    return replace(school, settings=settings, database=Database(settings.database_url))


def another_class(school: School, number: int) -> None:
    """A class of another instructor, given the same labs; its students sign in with the first one's phrase,
    since to hash two thousand takes minutes."""
    instructor, _ = factories.instructor_and_phrase(school.database, now=now())
    class_id = factories.school_class(
        school.database, instructor=instructor, name=f"Auto {number}", now=now()
    )
    own = replace(school, instructor=instructor, class_id=class_id)
    for lab in range(LABS):
        own.assign(SLUG, title=f"Lab {lab}")
    add_students(school.database, instructor, class_id, number)


def add_students(database: Database, instructor: Person, class_id: str, number: int) -> None:
    first = factories.student(database, class_id=class_id, instructor=instructor, now=now())
    with database.write() as session:
        person, seat = (
            dict(session.execute(select(model.__table__).where(condition)).mappings().one())
            for model, condition in (
                (PersonRow, PersonRow.public_id == first.public_id),
                (Enrolment, Enrolment.person.has(public_id=first.public_id)),
            )
        )
        del seat["id"]
        key = person["id"]
        people = [
            {
                **person,
                "id": key + place,
                "public_id": f"{key + place:020d}".translate(str.maketrans("01", "zy")),
                "sign_in_name": f"{person['sign_in_name']}x{number}x{place}",
            }
            for place in range(1, STUDENTS)
        ]
        session.execute(insert(PersonRow.__table__), people)
        session.execute(insert(Enrolment.__table__), [{**seat, "person_id": each["id"]} for each in people])


def keys_of_assignments(database: Database) -> list[int]:
    with database.read() as session:
        return list(session.scalars(select(Assignment.id)))


def places(database: Database, without: set[int]) -> Iterator[Place]:
    """Where attempts are still to be handed in: everywhere but at the assignments `without`."""
    with database.read() as session:
        seats: list[Any] = list(
            session.execute(
                select(Assignment.id, Assignment.scenario_version_id, Enrolment.person_id)
                .join(Enrolment, Enrolment.class_id == Assignment.class_id)
                .order_by(Assignment.id, Enrolment.person_id)
            )
        )
    for (assignment, version, person), count in zip(seats, itertools.cycle(EACH), strict=False):
        if assignment not in without:
            for number in range(1, count + 1):
                yield Place(assignment, version, person, number)


def compared(schools: dict[str, School], lab_ids: list[str]) -> dict[str, dict[str, float]]:
    """Median seconds of each page and each thing done, by the school."""
    with served(schools["small"]) as small, served(schools["large"]) as large:
        visits: dict[str, dict[str, Callable[[], object]]] = {}
        for name, address in (("small", small), ("large", large)):
            for what, act in acts(schools[name], address.visitor(), address.visitor(), lab_ids).items():
                visits.setdefault(what, {})[name] = act
        return {what: medians(each, rounds=ROUNDS, warm_up=2) for what, each in visits.items()}


def acts(
    school: School, student: Visitor, instructor: Visitor, lab_ids: list[str]
) -> dict[str, Callable[[], object]]:
    """What is measured, as one student and as the instructor of the first class."""
    card = school.students[0]
    student.sign_in(card.sign_in_name, card.pass_phrase)
    instructor.sign_in(school.instructor.sign_in_name, school.instructor_phrase)
    labs = [begin(student, f"/labs/assignments/{lab_id}") for lab_id in lab_ids[: ROUNDS + 3]]
    answer_all(school, labs)
    lab, still_open, numbers = labs[-1], iter(labs), itertools.count()
    task = "mass"
    of_class, of_lab = f"/teaching/classes/{school.class_id}", f"/teaching/assignments/{lab_ids[0]}"
    looks = {
        "a lab's page": partial(student.get, lab),
        "a student's labs": partial(student.get, "/labs"),
        "a student's grades": partial(student.get, "/labs/grades"),
        "the gradebook": partial(instructor.get, f"{of_class}/gradebook"),
        "a class's page": partial(instructor.get, of_class),
        "a lab's page for the instructor": partial(instructor.get, of_lab),
        "a running lab": partial(instructor.get, f"{of_lab}/room"),
        "what a class understood": partial(instructor.get, f"{of_lab}/understanding"),
    }
    return {
        **looks,
        "a saved answer": lambda: student.save(
            f"{lab}/answer", {"task": task, "answer": f"{next(numbers)} g"}
        ),
        "a hand-in": lambda: student.send(f"{next(still_open)}/hand-in"),
    }
