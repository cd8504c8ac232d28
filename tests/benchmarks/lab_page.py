"""A lab page and a saved answer, each against a bare Flask route on the same server."""

import itertools
import tempfile
from pathlib import Path

from tests.benchmarks.rows import Row, medians
from tests.benchmarks.stage import Visitor, make_school, served

SLUG = "two-plane-balance"


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        school = make_school(Path(folder))
        assignment = school.assign(SLUG)
        with served(school) as address:
            student, bare = address.visitor(), address.visitor()
            card = school.students[0]
            student.sign_in(card.sign_in_name, card.pass_phrase)
            about = f"/labs/assignments/{assignment}"
            lab = begin(student, about)
            page = medians(
                {"bare": lambda: bare.get("/bare/page"), "lab": lambda: student.get(lab)}, rounds=200
            )
            numbers = itertools.count()
            save = medians(
                {
                    "bare": lambda: bare.save("/bare/save", {"task": "a", "answer": "12 g"}),
                    "save": lambda: student.save(
                        f"{lab}/answer", {"task": "static-size", "answer": f"{next(numbers)} gmm"}
                    ),
                },
                rounds=200,
            )
    return [
        Row("lab page against a bare page", page["lab"] / page["bare"], 2.5, "times", spent(page)),
        Row("saved answer against a durable insert", save["save"] / save["bare"], 2, "times", spent(save)),
    ]


def begin(student: Visitor, about: str) -> str:
    student.open(about)
    lab = student.send(f"{about}/attempts")
    student.open(lab)
    return lab


def spent(seconds: dict[str, float]) -> str:
    return ", ".join(f"{name} {1000 * each:.2f} ms" for name, each in seconds.items())
