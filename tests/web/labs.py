"""A student with a lab, and short ways around its pages, for the tests of `app.web.labs`."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from flask import Flask

from app.domain.answers import Raw
from app.services import assignments, practice, scenarios
from app.services.labs import Lab
from app.settings import SCENARIOS
from app.store.db import Database
from tests import factories
from tests.services.lessons import Lesson, right_answers
from tests.web.conftest import CheckedClient, signed_in

OTHER_TASKS = """
[[parts.tasks]]
id = "too-much"
kind = "several"
title = "Above the limit"
prompt = "Which assemblies are above the limit?"
key = "car.over_limit"
points = 2

[[parts.tasks]]
id = "fitting-order"
kind = "order"
title = "Fitting a wheel"
prompt = "In which order is a wheel fitted?"
points = 3
hints = [{ text = "Clean things **first**.", cost = 1 }, { text = "Torque last.", cost = 0.5 }]
steps = [
  { id = "clean", text = "Clean the hub face" },
  { id = "hang", text = "Hang the wheel on the hub", after = ["clean"], because = "dirt would tilt it." },
  { id = "nuts", text = "Turn all nuts on by hand", after = ["hang"] },
  { id = "torque", text = "Tighten crosswise to the maker's torque", after = ["nuts"] },
  { id = "pressure", text = "Set the tire's pressure" },
]

[[parts.tasks]]
id = "high-spot"
kind = "spots"
title = "High point and low point"
prompt = "Mark the high and the low point of assembly A's force."
points = 2
keys = ["assembly[A].force.high_deg", "assembly[A].force.high_deg + 180 deg"]
tolerance = { absolute = 10 }

[[parts.tasks]]
id = "cleaners"
kind = "several"
title = "Cleaning the hub"
prompt = "What cleans a hub face?"
points = 2
right = ["brush", "cloth"]
options = [
  { id = "brush", text = "A wire brush" },
  { id = "hammer", text = "A hammer", because = "A hammer leaves dents." },
  { id = "cloth", text = "A cloth" },
]

[[parts.tasks]]
id = "tell"
kind = "text"
title = "Tell the customer"
prompt = "Why does a wheel need weights at all?"
points = 3
rubric = [
  { id = "what", text = "Says what is heavy", points = 1 },
  { id = "why", text = "Says why it shakes", points = 2, levels = [
    { text = "in own words", points = 2 },
    { text = "only repeats the rule", points = 1 },
    { text = "not at all", points = 0 },
  ] },
]
"""


@dataclass(frozen=True)
class Pupil:
    """The lesson's student on a client."""

    lesson: Lesson
    client: CheckedClient
    database: Database

    def start(self) -> str:
        """The address of a fresh attempt's lab."""
        response = self.client.send(f"{self.about}/attempts", page=self.about)
        assert response.status_code == 303
        return str(response.location)

    @property
    def about(self) -> str:
        return f"/labs/assignments/{self.lesson.assignment_id}"

    def lab(self, address: str) -> Lab:
        return practice.lab(self.database, attempt_id=address.split("/")[3], student=self.lesson.student)

    def right(self, address: str) -> dict[str, Raw]:
        return right_answers(self.lab(address).variant)

    def save(self, address: str, task: str, answer: Any, **page_save: Any) -> Any:
        """One answer as the script sends it."""
        self.client.get(address)
        return self.client.post(
            f"{address}/answer",
            json={"task": task, "answer": answer, **page_save},
            headers={"X-CSRF-Token": self.client.csrf_token, "Accept": "application/json"},
        )

    def send(self, address: str, answers: dict[str, Raw], **buttons: str) -> Any:
        """The whole answer sheet as a browser without JavaScript sends it."""
        return self.client.send(address, **{**as_form(answers), **buttons})

    def hand_in(self, address: str, answers: dict[str, Raw] | None = None) -> Any:
        if answers:
            assert self.send(address, answers, check="1").status_code == 303
        return self.client.send(f"{address}/hand-in")


def as_form(answers: dict[str, Raw]) -> dict[str, Any]:
    entries: dict[str, Any] = {}
    for task, answer in answers.items():
        if isinstance(answer, dict):
            between = "-position-" if set(answer) <= {"LF", "RF", "LR", "RR"} else "."
            entries |= {f"answer-{task}{between}{key}": entry for key, entry in answer.items()}
        elif answer is not None:
            entries[f"answer-{task}"] = answer
    return entries


def pupil_of(app: Flask, lesson: Lesson, database: Database) -> Pupil:
    return Pupil(lesson, signed_in(app, lesson.student), database)


def another_student(database: Database, lesson: Lesson) -> Lesson:
    """The same lesson for a second student of the class."""
    student = factories.student(database, class_id=lesson.class_id, instructor=lesson.instructor)
    return Lesson(lesson.instructor, student, lesson.class_id, lesson.scenario_id, lesson.assignment_id)


def lesson_of_every_kind(database: Database, lesson: Lesson, folder: Path, now: datetime) -> Lesson:
    """The class is also given the lab on four assemblies, with tasks of the kinds that it has none of."""
    text = (SCENARIOS / "four-assemblies" / "scenario.toml").read_text()
    place = text.index("[[reflection]]")
    (folder / "every-kind").mkdir()
    (folder / "every-kind" / "scenario.toml").write_text(
        text[:place].replace('id = "four-assemblies"', 'id = "every-kind"') + OTHER_TASKS + text[place:]
    )
    scenarios.load_shipped(database, folder=folder, now=now)
    scenario_id = next(card.public_id for card in scenarios.library(database) if card.slug == "every-kind")
    assignment_id = assignments.assign(
        database,
        class_id=lesson.class_id,
        instructor=lesson.instructor,
        scenario_id=scenario_id,
        title="Lab of every kind",
        opens_at=now - timedelta(days=1),
        due_at=now + timedelta(days=1),
        attempts_allowed=2,
        now=now,
    )
    return Lesson(lesson.instructor, lesson.student, lesson.class_id, scenario_id, assignment_id)
