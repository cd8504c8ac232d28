"""A lab's page, a saved answer and a hand-in, each against a bare Flask route on the same server."""

import itertools
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from app.services import practice
from tests.benchmarks.rows import Row, medians
from tests.benchmarks.stage import School, Visitor, make_school, served
from tests.factories import person_named
from tests.services.lessons import right_answers

SLUG = "two-plane-balance"
LABS = 40
WARM_UP = 5


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder))
        given = [school.assign(SLUG, title=f"Lab {number}") for number in range(LABS)]
        with served(school) as address:
            student, bare = address.visitor(), address.visitor()
            card = school.students[0]
            student.sign_in(card.sign_in_name, card.pass_phrase)
            labs = [start(student, f"/labs/assignments/{assignment}") for assignment in given]
            new, lab, open_labs = iter(labs), labs[0], iter(labs)

            def bare_page() -> str:
                return bare.get("/bare/page")

            def bare_save() -> None:
                bare.save("/bare/save", {"task": "a", "answer": "12 g"})

            first = medians(
                {"bare": bare_page, "first": lambda: student.get(next(new))}, rounds=LABS - WARM_UP
            )
            student.open(lab)
            again = medians({"bare": bare_page, "again": lambda: student.get(lab)}, rounds=200)
            numbers = itertools.count()
            save = medians(
                {
                    "bare": bare_save,
                    "save": lambda: student.save(
                        f"{lab}/answer", {"task": "static-size", "answer": f"{next(numbers)} gmm"}
                    ),
                },
                rounds=200,
            )
            answer_all(school, labs)
            hand_in = medians(
                {"bare": bare_save, "hand in": lambda: student.send(f"{next(open_labs)}/hand-in")},
                rounds=LABS - WARM_UP,
            )
    return [
        Row("lab page against a bare page", again["again"] / again["bare"], 2.5, "times", spent(again)),
        Row(
            "a new attempt's first page against it", first["first"] / first["bare"], 15, "times", spent(first)
        ),
        Row("saved answer against a durable insert", save["save"] / save["bare"], 2, "times", spent(save)),
        Row(
            "hand-in, marked, against a durable insert",
            hand_in["hand in"] / hand_in["bare"],
            4,
            "times",
            spent(hand_in),
        ),
    ]


def start(student: Visitor, about: str) -> str:
    """The address of a lab that nobody has opened yet."""
    student.open(about)
    return student.send(f"{about}/attempts")


def begin(student: Visitor, about: str) -> str:
    lab = start(student, about)
    student.open(lab)
    return lab


def answer_all(school: School, labs: list[str]) -> None:
    """Save an answer to each task of these labs of the first student."""
    student = person_named(school.database, school.students[0].sign_in_name)
    for lab in labs:
        attempt_id = lab.rsplit("/", 1)[1]
        variant = practice.lab(school.database, attempt_id=attempt_id, student=student).variant
        practice.save_answers(
            school.database,
            attempt_id=attempt_id,
            student=student,
            answers=right_answers(variant),
            now=datetime.now(UTC),
        )


def spent(seconds: dict[str, float]) -> str:
    return ", ".join(f"{name} {1000 * each:.2f} ms" for name, each in seconds.items())
