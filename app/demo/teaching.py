"""What the invented instructor does beside giving labs: categories, exceptions, grades and sheets."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from app.demo import people
from app.domain.standing import Exceptional
from app.services import (
    categories,
    exceptions,
    gradebook,
    hand_grades,
    reflection_prompts,
    reflection_workflow,
    reflections,
)
from app.services.accounts import Person
from app.store.choices import ReflectionState
from app.store.db import Database

OWN_QUESTION = "What was hard today, and what will you do about it?"
SHEET_POINTS = 5.0
COMMENTS = (
    "Clear, and in your own words. Say next time which reading told you.",
    "Right about the two sides. What did the check spin show?",
    "Good start: a drawing of the arrows would make it easier to follow.",
)


@dataclass(frozen=True)
class Desk:
    """The class as its instructor works on it; students: their ids by name as on the card."""

    database: Database
    class_id: str
    instructor: Person
    students: dict[str, str]
    now: datetime


def ask_on_the_sheets(desk: Desk, assignment_id: str, now: datetime) -> None:
    """An own question and points, before the first student writes."""
    reflection_prompts.add_prompt(
        desk.database, assignment_id=assignment_id, instructor=desk.instructor, text=OWN_QUESTION, now=now
    )
    reflection_prompts.set_points(
        desk.database, assignment_id=assignment_id, instructor=desk.instructor, out_of=SHEET_POINTS, now=now
    )


def weigh(desk: Desk, name: str, weight: float, assignment_ids: list[str]) -> None:
    """A category of the gradebook with the assignments in it; none is left out of a total."""
    category_id = categories.add_category(
        desk.database,
        class_id=desk.class_id,
        instructor=desk.instructor,
        name=name,
        weight=weight,
        drop_lowest=0,
        now=desk.now,
    )
    for assignment_id in assignment_ids:
        categories.put_in_category(
            desk.database,
            class_id=desk.class_id,
            instructor=desk.instructor,
            assignment_id=assignment_id,
            category_id=category_id,
            now=desk.now,
        )


def make_exceptions(desk: Desk, *, excused_from: str, longer_for: str) -> None:
    """One student joined after the first lab; one was away and has more time for the second."""
    joined_late = Exceptional(excused=True, reason="Joined after this lab")
    was_away = Exceptional(
        due_at=people.last_time_of_day(desk.now + timedelta(days=4), people.LAST_MINUTE),
        reason="Away for a week",
    )
    for name, assignment_id, exception in (
        (people.JOINED_LATE, excused_from, joined_late),
        (people.AWAY, longer_for, was_away),
    ):
        exceptions.set_exception(
            desk.database,
            assignment_id=assignment_id,
            instructor=desk.instructor,
            student_id=desk.students[name],
            exception=exception,
            now=desk.now,
        )


def set_a_grade(desk: Desk, assignment_id: str) -> None:
    """The student told at the machine what the lab has wrong: four points more, by hand."""
    student_id = desk.students[people.TOLD_AT_THE_MACHINE]
    book = gradebook.gradebook(
        desk.database,
        class_id=desk.class_id,
        instructor=desk.instructor,
        now=desk.now,
        student_id=student_id,
    )
    place = [column.assignment_id for column in book.columns].index(assignment_id)
    cell = book.rows[0].cells[place]
    hand_grades.set_by_hand(
        desk.database,
        assignment_id=assignment_id,
        student_id=student_id,
        instructor=desk.instructor,
        points=min(cell.out_of, (cell.points or 0.0) + 4),
        reason="Explained the turn of the tire at the machine",
        comment="Write it down as you told it, and it is yours next time.",
        now=desk.now,
    )


def read_sheets(desk: Desk, assignment_id: str) -> None:
    """Return the first sheets that were handed in, ask for one again; the rest wait to be read."""
    handed_in = [
        each.student_id
        for each in reflections.sheets(
            desk.database, assignment_id=assignment_id, instructor=desk.instructor, results=False
        )
        if each.sheet.state is ReflectionState.HANDED_IN
    ]
    for place, student_id in enumerate(handed_in[:8]):
        again = place == 3
        reflection_workflow.give_back(
            desk.database,
            assignment_id=assignment_id,
            student_id=student_id,
            instructor=desk.instructor,
            again=again,
            comment="Say how you found the place for the weight." if again else COMMENTS[place % 3],
            points=None if again else SHEET_POINTS - place % 3,
            seen_steps=1,
            now=desk.now,
        )
