"""Classes for the browser tests, made through the services on the server's own database."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count

from app.domain.measures import UnitSystem
from app.services import assignments, classes, practice, scenarios
from app.services.accounts import Person
from app.services.cards import Card
from app.services.labs import Lab, Result
from app.store.db import Database
from tests import factories

numbers = count(1)


@dataclass(frozen=True)
class Classroom:
    """A class with its instructor and one student; each with the card to sign in with."""

    database: Database
    instructor: Person
    instructor_card: Card
    class_id: str
    student: Person
    card: Card

    def assign(
        self,
        slug: str = "two-plane-balance",
        *,
        title: str = "Lab 1",
        opens_in: timedelta = timedelta(days=-1),
        due_in: timedelta = timedelta(days=2),
        attempts_allowed: int | None = 2,
    ) -> str:
        """Give a scenario to the class; returns the assignment's id."""
        now = datetime.now(UTC)
        return assignments.assign(
            self.database,
            class_id=self.class_id,
            instructor=self.instructor,
            scenario_id=scenario_id(self.database, slug),
            title=title,
            opens_at=now + opens_in,
            due_at=now + due_in,
            attempts_allowed=attempts_allowed,
            now=now,
        )

    def start(self, assignment_id: str) -> str:
        """The student starts an attempt; returns its id."""
        return practice.start_attempt(
            self.database, assignment_id=assignment_id, student=self.student, now=datetime.now(UTC)
        )

    def lab(self, attempt_id: str) -> Lab:
        """The student's attempt as the server has it."""
        return practice.lab(self.database, attempt_id=attempt_id, student=self.student)

    def result(self, attempt_id: str, *, student: Person | None = None) -> Result:
        """The marks of an attempt that is handed in."""
        result = practice.result(self.database, attempt_id=attempt_id, student=student or self.student)
        assert result
        return result

    def another_student(self, name: str) -> tuple[Person, Card]:
        return factories.student_and_card(
            self.database,
            class_id=self.class_id,
            instructor=self.instructor,
            name=name,
            now=datetime.now(UTC),
        )


def new_instructor(database: Database) -> tuple[Person, Card]:
    number = next(numbers)
    person, phrase = factories.instructor_and_phrase(
        database, sign_in_name=f"instructor{number}", now=datetime.now(UTC)
    )
    return person, Card(person.display_name, person.sign_in_name, phrase)


def new_classroom(
    database: Database,
    *,
    units: UnitSystem = UnitSystem.US,
    name: str = "Auto 2, period 3",
    student: str = "Sam Okafor",
) -> Classroom:
    instructor, instructor_card = new_instructor(database)
    class_id = classes.make_class(
        database,
        instructor=instructor,
        name=name,
        time_zone="America/Chicago",
        units=units,
        now=datetime.now(UTC),
    )
    person, card = factories.student_and_card(
        database, class_id=class_id, instructor=instructor, name=student, now=datetime.now(UTC)
    )
    return Classroom(database, instructor, instructor_card, class_id, person, card)


def scenario_id(database: Database, slug: str) -> str:
    return next(card.public_id for card in scenarios.library(database) if card.slug == slug)
