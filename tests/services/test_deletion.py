"""Deleting a student for good: what goes, what stays, and that no byte is left in the file."""

import sqlite3
from contextlib import closing

import pytest
from sqlalchemy import func, select, text

from app.domain.hands_on import Level
from app.services import classes, deletion, hands_on, heats, people_records, practice, reflections
from app.services.errors import NotFound, Refused
from app.store import person_rows
from app.store.models import Base, Event
from tests import factories
from tests.services.lessons import hand_in as hand_in_with
from tests.services.lessons import lesson, right_answers

NAME = "Zebulon Quackenbush"
WORDS = "The left front tire was mounted inside out, Zeb thinks."


@pytest.fixture
def given(database, now):
    """A class with one student who did everything that leaves a trace, and another who did the same."""
    given = lesson(database, now=now)
    student, _ = factories.student_and_card(
        database, class_id=given.class_id, instructor=given.instructor, name=NAME
    )
    for who, wrote in ((student, WORDS), (given.student, "Nothing special.")):
        work(database, given, who, wrote, now)
    return given, student


def work(database, given, who, wrote, now):
    attempt_id = practice.start_attempt(database, assignment_id=given.assignment_id, student=who, now=now)
    variant = practice.lab(database, attempt_id=attempt_id, student=who).variant
    hand_in_with(database, attempt_id=attempt_id, student=who, answers=right_answers(variant), now=now)
    sheet = reflections.sheet(database, assignment_id=given.assignment_id, student=who)
    reflections.save(
        database,
        assignment_id=given.assignment_id,
        student=who,
        prompt_id=sheet.prompts[0].id,
        text=wrote,
        now=now,
    )
    keys = {"class_id": given.class_id, "instructor": given.instructor, "now": now}
    hands_on.add_skills(database, lines=["Balance an assembly"], **keys) if who is not given.student else None
    [skill] = hands_on.grid(database, **keys).skills
    hands_on.check(
        database,
        student_id=who.public_id,
        skill_id=skill.skill_id,
        level=Level.ALONE,
        key=f"tap-{who.public_id}",
        note=f"{wrote} (seen)",
        **keys,
    )
    heats.make_contest(database, title="Wheel change", teams={"Red": [who.public_id]}, **keys)


def erase(database, given, student, now, typed=NAME):
    return deletion.erase_student(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=student.public_id,
        typed_name=typed,
        now=now,
    )


def every_byte(database):
    """The database's file with its log and whatever else lies beside it under its name."""
    return b"".join(path.read_bytes() for path in sorted(database.file.parent.glob(database.file.name + "*")))


@pytest.mark.only_sqlite
def test_no_byte_of_the_student_is_left_in_the_file_or_its_log(database, given, now):
    given, student = given
    secrets = [NAME.encode(), b"Quackenbush", b"zebulonq", WORDS.encode(), student.public_id.encode()]
    before = every_byte(database)
    assert [secret for secret in secrets if secret not in before] == [], "the test would prove nothing"
    receipt = erase(database, given, student, now)
    assert receipt.file_written_anew
    after = every_byte(database)
    assert [secret for secret in secrets if secret in after] == []
    assert given.student.display_name.encode() in after


@pytest.mark.only_sqlite
def test_texts_that_were_written_over_long_before_are_gone_too(database, given, now):
    """SQLite leaves what an update replaced in the free parts of its pages."""
    given, student = given
    earlier = "An earlier wording that was replaced."
    for words in (earlier, WORDS):
        sheet = reflections.sheet(database, assignment_id=given.assignment_id, student=student)
        reflections.save(
            database,
            assignment_id=given.assignment_id,
            student=student,
            prompt_id=sheet.prompts[0].id,
            text=words,
            now=now,
        )
    assert earlier.encode() in every_byte(database)
    erase(database, given, student, now)
    assert earlier.encode() not in every_byte(database)


def test_the_receipt_counts_what_the_record_holds(database, given, now):
    given, student = given
    record = people_records.record_of(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=student.public_id,
        now=now,
    )
    receipt = erase(database, given, student, now)
    deleted = {table: count for table, count in receipt.rows.items() if "," not in table}
    held = {table: len(rows) for table, rows in record.tables.items() if table != "audit"}
    assert deleted == held
    assert {"person", "attempt", "event", "mark", "reflection", "hands_on_check", "contest_member"} <= set(
        held
    )


def test_everybody_else_s_rows_are_as_they_were(database, given, now):
    given, student = given

    def of_the_other():
        with database.read() as session:
            key = given.student.id
            every_class = {row.id for row in _classes(session)}
            return person_rows.rows_by_table(session, key, class_keys=every_class)

    before = of_the_other()
    erase(database, given, student, now)
    assert of_the_other() == before
    page = classes.class_page(database, class_id=given.class_id, instructor=given.instructor)
    assert [each.public_id for each in page.students] == [given.student.public_id]


def _classes(session):
    from app.store.models import SchoolClass

    return session.scalars(select(SchoolClass)).all()


@pytest.mark.parametrize("act", ["UPDATE event SET number = number + 100", "DELETE FROM event"])
def test_rows_that_are_written_once_are_guarded_again_afterwards(database, given, now, act):
    from app.store.errors import Immutable

    given, student = given
    erase(database, given, student, now)
    with pytest.raises(Immutable), database.write() as session:
        session.execute(text(act))


def test_an_error_half_way_leaves_everything_and_every_guard(database, given, now, monkeypatch):
    from app.store import erasing

    given, student = given

    def fail(*_):
        raise ZeroDivisionError

    monkeypatch.setattr(erasing, "_forget_in_audit", fail)
    with pytest.raises(ZeroDivisionError):
        erase(database, given, student, now)
    with database.read() as session:
        assert session.scalar(select(func.count()).select_from(Event)) > 0
    from app.store.errors import Immutable

    with pytest.raises(Immutable), database.write() as session:
        session.execute(text("DELETE FROM event"))
    page = classes.class_page(database, class_id=given.class_id, instructor=given.instructor)
    assert NAME in {each.display_name for each in page.students}


def test_the_audit_keeps_a_receipt_without_the_name(database, given, now):
    given, student = given
    receipt = erase(database, given, student, now)
    with database.read() as session:
        rows = session.execute(text("SELECT action, detail FROM audit")).all()
    kept = [str(detail) for action, detail in rows if action == "delete student"]
    assert len(kept) == 1
    assert receipt.number in kept[0]
    everything = str(rows)
    assert not any(word in everything for word in (NAME, student.public_id, student.sign_in_name))


def test_where_others_wrote_the_name_is_told(database, given, now):
    given, student = given
    [skill] = hands_on.grid(database, class_id=given.class_id, instructor=given.instructor, now=now).skills
    hands_on.check(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        skill_id=skill.skill_id,
        level=Level.SEEN,
        key="another-tap",
        note=f"Together with {NAME}.",
        now=now,
    )
    assert erase(database, given, student, now).mentions == {"hands_on_check": 1}


@pytest.mark.parametrize("typed", ["", "Zebulon", "Sam Okafor"])
def test_the_name_must_be_typed(database, given, now, typed):
    given, student = given
    with pytest.raises(Refused, match=NAME):
        erase(database, given, student, now, typed=typed)


def test_a_student_with_work_for_another_instructor_stays(database, given, now):
    given, student = given
    other = factories.instructor(database)
    theirs = factories.school_class(database, instructor=other)
    from app.store import classes as store

    with database.write() as session:
        row = store.class_taught_by(session, theirs, other.id)
        store.enrol(session, class_key=row.id, person_key=student.id, now=now)
    page = deletion.erasable(
        database, class_id=given.class_id, instructor=given.instructor, student_id=student.public_id
    )
    assert page.elsewhere
    with pytest.raises(Refused, match="another instructor"):
        erase(database, given, student, now)


def test_another_s_student_is_not_found(database, given, now):
    given, student = given
    with pytest.raises(NotFound):
        deletion.erase_student(
            database,
            class_id=given.class_id,
            instructor=factories.instructor(database),
            student_id=student.public_id,
            typed_name=NAME,
            now=now,
        )


def test_every_table_that_points_to_a_person_is_covered():
    """A reference that may be empty is taken out, any other row goes: nothing else can point to a person."""
    covered = {table.name for table in person_rows.belonging_to(1)}
    pointing = {
        table.name: reference.parent
        for table in Base.metadata.sorted_tables
        for reference in table.foreign_keys
        if reference.column.table.name == "person"
    }
    assert {name for name, column in pointing.items() if not column.nullable} <= covered
    assert {"attempt", "event", "mark", "reflection", "enrolment", "sign_in"} <= covered
    assert "class" not in covered


@pytest.mark.only_sqlite
def test_a_busy_file_is_written_anew_at_the_next_try(database, given, now, monkeypatch):
    from app.store import db

    monkeypatch.setattr(db, "BUSY_TIMEOUT_MS", 1)
    given, student = given
    database.close()
    with closing(sqlite3.connect(database.file)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT * FROM person").fetchall()
        receipt = erase(database, given, student, now)
        assert not receipt.file_written_anew
    assert deletion.write_file_anew(database, class_id=given.class_id, instructor=given.instructor)
    assert b"Quackenbush" not in every_byte(database)
