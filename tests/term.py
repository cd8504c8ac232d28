"""A term of a class as data: something of everything, made through the services as people make it.

For tests that go over all there is: who reaches which page, whether a migration keeps every row.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from app.domain.hands_on import Level
from app.domain.heats import Act
from app.domain.standing import Exceptional
from app.services import (
    assignments,
    authoring,
    authoring_images,
    authoring_publishing,
    bench,
    categories,
    classes,
    co_instructors,
    exceptions,
    hand_grades,
    hands_on,
    heats,
    hints,
    pass_phrase_codes,
    practice,
    received_files,
    reflection_prompts,
    reflection_workflow,
    reflections,
    review,
    scenarios,
)
from app.services.accounts import Person
from app.store.db import Database
from tests import factories
from tests.library.pictures import picture
from tests.services import lessons

WORKED, HINTED, AT_THE_BENCH = "four-assemblies", "one-plane", "bench-four-assemblies"
TEXT_TASK, HINTED_TASK = "customer", "static-size"
IMAGE = "a-wheel"
SECRET = "Only I and my instructor may read this"
"""Begins what a student writes; the student's name follows."""


@dataclass(frozen=True)
class Term:
    """`student` handed in one lab, worked the others half and handed a reflection sheet in; so did `mate`.
    `dropped` did too and left the class. `arguments` names things as the parts of addresses do."""

    teacher: Person
    second: Person
    """Teaches the class too."""
    stranger: Person
    """Teaches another class, with `outsider` in it."""
    student: Person
    mate: Person
    dropped: Person
    outsider: Person
    worked: str
    hinted: str
    at_the_bench: str
    own: str
    """Assignments."""
    attempts: Mapping[str, Mapping[str, str]]
    """By the student's sign-in name and the assignment."""
    arguments: Mapping[str, Any]


def a_term(database: Database, now: datetime, *, hinted: bool = True) -> Term:
    """Needs the shipped scenarios in the database. hinted: whether students take hints, without which the
    first release can be gone back to."""
    teacher, second, stranger = (factories.instructor(database) for _ in range(3))
    class_id = factories.school_class(database, instructor=teacher)
    student, mate, dropped = (
        factories.student(database, class_id=class_id, instructor=teacher, name=name)
        for name in ("Sam Okafor", "Mira Castellan", "Dag Whitlock")
    )
    other_class = factories.school_class(database, instructor=stranger, name="Auto 9")
    outsider = factories.student(database, class_id=other_class, instructor=stranger, name="Ola Quist")
    by_teacher: dict[str, Any] = {"class_id": class_id, "instructor": teacher, "now": now}
    co_instructors.add_instructor(database, sign_in_name=second.sign_in_name, **by_teacher)
    category_id = categories.add_category(database, name="Labs", weight=60, drop_lowest=0, **by_teacher)
    made = own_scenario(database, teacher, now)
    ids = [
        give(database, by_teacher, title, scenario)
        for title, scenario in (
            ("Lab 1: Four", shipped(database, WORKED)),
            ("Lab 2: One plane", shipped(database, HINTED)),
            ("Lab 3: The bench", shipped(database, AT_THE_BENCH)),
            ("Lab 4: Our own", made.scenario_id),
        )
    ]
    worked, in_work, at_the_bench, own = ids
    labs = (worked, in_work, at_the_bench)
    categories.put_in_category(database, assignment_id=worked, category_id=category_id, **by_teacher)
    by_assignment: dict[str, Any] = {"assignment_id": worked, "instructor": teacher, "now": now}
    prompt_id = reflection_prompts.add_prompt(database, text="What surprised you?", **by_assignment)
    reflection_prompts.set_points(database, out_of=5, **by_assignment)
    attempts = {
        each.sign_in_name: work(database, each, now, labs, hinted=hinted) for each in (student, mate, dropped)
    }
    attempts[student.sign_in_name] |= {
        own: practice.start_attempt(database, assignment_id=own, student=student, now=now)
    }
    grade(database, teacher, student, worked, attempts[student.sign_in_name][worked], now)
    classes.drop_student(database, student_id=dropped.public_id, **by_teacher)
    exceptions.set_exception(
        database,
        assignment_id=in_work,
        instructor=teacher,
        student_id=mate.public_id,
        exception=Exceptional(due_at=now + timedelta(days=9), reason="was ill"),
        now=now,
    )
    pass_phrase_codes.make_code(database, student_id=mate.public_id, **by_teacher)
    arguments = at_the_machine(database, by_teacher, (student, mate))
    draft_id = draft_with_an_image(database, teacher, now)
    file_id = received_files.keep(
        database, instructor=teacher, content=b"Last name;First name\nA;B\n", now=now
    )
    arguments |= {
        "class_id": class_id,
        "student_id": student.public_id,
        "assignment_id": worked,
        "attempt_id": attempts[student.sign_in_name][worked],
        "task_id": TEXT_TASK,
        "prompt_id": prompt_id,
        "category_id": category_id,
        "instructor_id": second.public_id,
        "scenario_id": made.scenario_id,
        "version_id": version_of(database, made.scenario_id, teacher),
        "draft_id": draft_id,
        "file_id": file_id,
        "name": IMAGE,
        "slug": "balance",
        "path": "about",
    }
    return Term(
        teacher,
        second,
        stranger,
        student,
        mate,
        dropped,
        outsider,
        *ids,
        attempts=attempts,
        arguments=arguments,
    )


def shipped(database: Database, slug: str) -> str:
    return next(card.public_id for card in scenarios.library(database) if card.slug == slug)


def give(database: Database, by_teacher: Mapping[str, Any], title: str, scenario_id: str) -> str:
    now = by_teacher["now"]
    return assignments.assign(
        database,
        scenario_id=scenario_id,
        title=title,
        opens_at=now - timedelta(days=1),
        due_at=now + timedelta(days=3),
        attempts_allowed=2,
        **by_teacher,
    )


def own_scenario(database: Database, teacher: Person, now: datetime) -> authoring_publishing.Published:
    """Written, with an image, and published."""
    draft_id = draft_with_an_image(database, teacher, now)
    return authoring_publishing.publish(
        database, draft_id=draft_id, author=teacher, note="The first", now=now
    )


def draft_with_an_image(database: Database, teacher: Person, now: datetime) -> str:
    draft_id = authoring.start_copy(database, author=teacher, scenario_id=shipped(database, HINTED), now=now)
    authoring_images.add(
        database, draft_id=draft_id, author=teacher, name=IMAGE, alt="A wheel", upload=picture(), now=now
    )
    return draft_id


def version_of(database: Database, scenario_id: str, teacher: Person) -> str:
    history = authoring_publishing.history(database, scenario_id=scenario_id, instructor=teacher)
    return history.versions[0].public_id


def work(
    database: Database, student: Person, now: datetime, labs: tuple[str, str, str], *, hinted: bool
) -> dict[str, str]:
    """Hand the first in with one blank answer and a sheet of reflections, take a hint in the second, do
    something at the bench of the third. Returns the attempts by assignment."""
    worked, in_work, at_the_bench = labs
    attempts = {
        assignment_id: practice.start_attempt(database, assignment_id=assignment_id, student=student, now=now)
        for assignment_id in labs
    }
    own: dict[str, Any] = {"student": student, "now": now}
    lab = practice.lab(database, attempt_id=attempts[worked], student=student)
    answers = lessons.right_answers(lab.variant) | {
        TEXT_TASK: f"{SECRET}, {student.display_name}.",
        "why-comfort": "",
    }
    lessons.hand_in(database, attempt_id=attempts[worked], answers=answers, **own)
    sheet = reflections.sheet(database, assignment_id=worked, student=student)
    for prompt in sheet.prompts:
        reflections.save(
            database,
            assignment_id=worked,
            prompt_id=prompt.id,
            text=f"{SECRET}: {student.display_name} on {prompt.id}.",
            **own,
        )
    reflection_workflow.hand_in(database, assignment_id=worked, **own)
    if hinted:
        hints.show_hint(database, attempt_id=attempts[in_work], task_id=HINTED_TASK, number=1, **own)
    practice.save_answers(database, attempt_id=attempts[in_work], answers={HINTED_TASK: "1.5 oz.in"}, **own)
    for number, action in enumerate(
        ({"do": "bring", "assembly": "A", "to": "balancer"}, {"do": "clamp", "grip": "firm"})
    ):
        bench.act(database, attempt_id=attempts[at_the_bench], action=action, expect=number, **own)
    return attempts


def grade(
    database: Database, teacher: Person, student: Person, assignment_id: str, attempt_id: str, now: datetime
) -> None:
    review.mark_text(
        database,
        attempt_id=attempt_id,
        instructor=teacher,
        task_id=TEXT_TASK,
        points=1,
        comment="Say which side.",
        now=now,
    )
    hand_grades.set_by_hand(
        database,
        assignment_id=assignment_id,
        student_id=student.public_id,
        instructor=teacher,
        points=4,
        reason="Shown at the machine",
        comment="Well done",
        now=now,
    )
    reflection_workflow.give_back(
        database,
        assignment_id=assignment_id,
        student_id=student.public_id,
        instructor=teacher,
        points=4,
        comment="Clear",
        again=False,
        seen_steps=1,
        now=now,
    )


def at_the_machine(
    database: Database, by_teacher: Mapping[str, Any], students: tuple[Person, Person]
) -> dict[str, Any]:
    """Checks and a contest that was timed; the parts of their addresses."""
    hands_on.add_skills(database, lines=["4.2 Balance a wheel", "Torque the nuts"], **by_teacher)
    in_class = {key: by_teacher[key] for key in ("class_id", "instructor")}
    skill = hands_on.grid(database, **by_teacher).skills[0]
    for place, student in enumerate(students):
        hands_on.check(
            database,
            student_id=student.public_id,
            skill_id=skill.skill_id,
            level=Level.ALONE,
            key=f"check-{place}-key",
            note="steady hands",
            **by_teacher,
        )
    teams = {f"Bay {place}": [student.public_id] for place, student in enumerate(students, 1)}
    contest_id = heats.make_contest(database, title="Wheels off and on", teams=teams, **by_teacher)
    contest = heats.contest(database, contest_id=contest_id, **by_teacher)
    heat_id = contest.heats[0].heat_id
    pressing = by_teacher | {"contest_id": contest_id, "heat_id": heat_id}
    heats.press(database, act=Act.START, key="start-key", **pressing)
    for place, team in enumerate(contest.teams):
        heats.press(database, act=Act.STOP, key=f"stop-key-{place}", team_id=team.team_id, **pressing)
    assert heats.contests_of(database, **in_class)
    return {"skill_id": skill.skill_id, "contest_id": contest_id, "heat_id": heat_id}
