"""Rows that tests of the store need, made without a service."""

from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from app.domain.measures import UnitSystem
from app.store import classes, people
from app.store.choices import Role
from app.store.models import Assignment, Attempt, Scenario, ScenarioVersion


def an_attempt(session: Session, now: datetime) -> Attempt:
    """An attempt with everything it stands on: a student and an instructor, a class, a scenario, an
    assignment."""
    teacher, student = (
        people.add_person(
            session,
            role=role,
            display_name=role.value,
            sort_name=role.value,
            sign_in_name=role.value,
            pass_phrase_hash="none",
            now=now,
        )
        for role in Role
    )
    a_class = classes.add_class(
        session,
        instructor_key=teacher.id,
        name="Auto 2",
        time_zone="America/Chicago",
        units=UnitSystem.US,
        now=now,
    )
    classes.enrol(session, class_key=a_class.id, person_key=student.id, now=now)
    scenario = Scenario(slug="two-plane", created_at=now)
    version = ScenarioVersion(
        scenario=scenario, number=1, content="title = 'x'", sha256="0" * 64, created_at=now
    )
    session.add(version)
    session.flush()
    assignment = Assignment(
        class_id=a_class.id,
        scenario_version_id=version.id,
        title="Two planes",
        opens_at=now,
        due_at=now + timedelta(days=7),
        created_at=now,
        created_by=teacher.id,
    )
    session.add(assignment)
    session.flush()
    attempt = Attempt(
        assignment_id=assignment.id,
        person_id=student.id,
        number=1,
        seed=str(2**64 - 1),
        drawing_version=1,
        scenario_version_id=version.id,
        units=UnitSystem.US,
        started_at=now,
    )
    session.add(attempt)
    session.flush()
    return attempt
