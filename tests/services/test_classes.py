"""Classes: their settings, their students, and that an instructor reaches only own ones."""

from datetime import timedelta

import pytest
from sqlalchemy import event, select

from app.domain.measures import UnitSystem
from app.services import accounts, cards, classes
from app.services.errors import NotAllowed, NotFound, Refused
from app.store.models import Audit
from tests import factories


@pytest.fixture
def robin(database):
    return factories.instructor(database)


@pytest.fixture
def auto(database, robin):
    return factories.school_class(database, instructor=robin)


@pytest.fixture
def sam(database, robin, auto):
    return factories.student(database, class_id=auto, instructor=robin, name="Sam Okafor")


def page(database, class_id, instructor):
    return classes.class_page(database, class_id=class_id, instructor=instructor)


def test_a_new_class_shows_what_was_entered(database, robin, now):
    class_id = classes.make_class(
        database,
        instructor=robin,
        name="  Auto 2,  period 3 ",
        time_zone="America/Denver",
        units=UnitSystem.METRIC,
        now=now,
    )
    shown = page(database, class_id, robin)
    assert (shown.public_id, shown.name, shown.time_zone) == (class_id, "Auto 2, period 3", "America/Denver")
    assert shown.units is UnitSystem.METRIC
    assert shown.calculators_on
    assert shown.archived_at is None
    assert shown.students == shown.dropped == ()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", " "),
        ("name", "x" * 81),
        ("time_zone", ""),
        ("time_zone", "Mars/Olympus"),
        ("time_zone", "../../etc/passwd"),
    ],
)
def test_a_wrong_entry_is_named_and_changes_nothing(database, robin, auto, now, field, value):
    fields = {"name": "Auto 3", "time_zone": "America/Chicago", "units": UnitSystem.US} | {field: value}
    before = page(database, auto, robin)
    with pytest.raises(Refused) as making:
        classes.make_class(database, instructor=robin, now=now, **fields)
    with pytest.raises(Refused) as changing:
        classes.update_class(
            database, class_id=auto, instructor=robin, calculators_on=True, now=now, **fields
        )
    assert making.value.field == changing.value.field == field
    assert page(database, auto, robin) == before
    assert len(classes.classes_of(database, instructor=robin)) == 1


def test_a_student_makes_no_class(database, sam, now):
    with pytest.raises(NotAllowed):
        classes.make_class(
            database, instructor=sam, name="Mine", time_zone="America/Chicago", units=UnitSystem.US, now=now
        )


def test_settings_are_changed_together(database, robin, auto, now):
    classes.update_class(
        database,
        class_id=auto,
        instructor=robin,
        name="Auto 2 evening",
        time_zone="Pacific/Honolulu",
        units=UnitSystem.METRIC,
        calculators_on=False,
        now=now,
    )
    shown = page(database, auto, robin)
    assert (shown.name, shown.time_zone, shown.units, shown.calculators_on) == (
        "Auto 2 evening",
        "Pacific/Honolulu",
        UnitSystem.METRIC,
        False,
    )


def test_classes_are_listed_by_name_with_the_students_that_are_in_them(database, robin, auto, sam, now):
    early = factories.school_class(database, instructor=robin, name="Auto 1")
    factories.student(database, class_id=auto, instructor=robin)
    move(classes.drop_student, database, auto, robin, sam, now)
    rows = [(row.public_id, row.name, row.students) for row in classes.classes_of(database, instructor=robin)]
    assert rows == [(early, "Auto 1", 0), (auto, "Auto 2", 1)]


def test_an_archived_class_is_put_away_for_students_and_can_be_reopened(database, robin, auto, sam, now):
    archive(database, auto, robin, now, archived=True)
    assert page(database, auto, robin).archived_at == now
    assert classes.classes_of_student(database, student=sam) == []
    archive(database, auto, robin, now + timedelta(days=1), archived=True)
    assert page(database, auto, robin).archived_at == now
    archive(database, auto, robin, now, archived=False)
    assert [row.public_id for row in classes.classes_of_student(database, student=sam)] == [auto]


def archive(database, class_id, instructor, now, *, archived):
    classes.archive_class(database, class_id=class_id, instructor=instructor, archived=archived, now=now)


# Students


def move(act, database, class_id, instructor, student, now, **more):
    act(
        database,
        class_id=class_id,
        instructor=instructor,
        student_id=student.public_id,
        now=now,
        **more,
    )


def test_students_are_listed_by_family_name_whatever_the_case(database, robin, auto, now):
    names = ["Zoe adams", "Ana de la Cruz", "Bo Young", "Cher", "Öz, Ali"]
    cards.add_students(database, class_id=auto, instructor=robin, names=names, now=now)
    shown = [student.display_name for student in page(database, auto, robin).students]
    assert shown == ["Zoe adams", "Cher", "Ana de la Cruz", "Bo Young", "Ali Öz"]


def test_a_dropped_student_leaves_the_class_and_can_come_back(database, robin, auto, sam, now):
    move(classes.drop_student, database, auto, robin, sam, now)
    shown = page(database, auto, robin)
    assert shown.students == ()
    assert [(row.public_id, row.dropped_at) for row in shown.dropped] == [(sam.public_id, now)]
    assert classes.classes_of_student(database, student=sam) == []
    move(classes.restore_student, database, auto, robin, sam, now)
    assert [row.public_id for row in page(database, auto, robin).students] == [sam.public_id]
    assert [row.name for row in classes.classes_of_student(database, student=sam)] == ["Auto 2"]


def test_dropping_twice_keeps_the_first_date(database, robin, auto, sam, now):
    move(classes.drop_student, database, auto, robin, sam, now)
    move(classes.drop_student, database, auto, robin, sam, now + timedelta(days=1))
    assert page(database, auto, robin).dropped[0].dropped_at == now


def test_extra_time_is_kept_for_the_class(database, robin, auto, sam, now):
    assert page(database, auto, robin).students[0].extra_time_factor == 1
    move(classes.set_extra_time, database, auto, robin, sam, now, extra_time_factor=1.5)
    assert page(database, auto, robin).students[0].extra_time_factor == 1.5


@pytest.mark.parametrize("factor", [0, 0.99, 4.01, float("nan"), float("inf"), -1])
def test_extra_time_outside_one_to_four_is_refused(database, robin, auto, sam, now, factor):
    with pytest.raises(Refused) as caught:
        move(classes.set_extra_time, database, auto, robin, sam, now, extra_time_factor=factor)
    assert caught.value.field == "extra_time_factor"


def test_the_list_tells_when_a_student_was_last_seen_on_any_device(database, robin, auto, now):
    _, card = factories.student_and_card(database, class_id=auto, instructor=robin)
    assert page(database, auto, robin).students[0].last_seen is None
    for minutes in (0, 30):
        accounts.sign_in(
            database,
            sign_in_name=card.sign_in_name,
            pass_phrase=card.pass_phrase,
            now=now + timedelta(minutes=minutes),
        )
    assert page(database, auto, robin).students[0].last_seen == now + timedelta(minutes=30)


def test_the_pages_ask_as_many_questions_for_thirty_students_as_for_one(database, robin, auto, sam, now):  # noqa: ARG001
    def questions():
        asked = []

        def note(*given):
            asked.append(given[2])

        event.listen(database._engine, "before_cursor_execute", note)  # noqa: SLF001
        page(database, auto, robin)
        classes.classes_of(database, instructor=robin)
        event.remove(database._engine, "before_cursor_execute", note)  # noqa: SLF001
        return [statement for statement in asked if statement.startswith("SELECT")]

    few = questions()
    names = [f"Student Number {number}x" for number in range(30)]
    cards.add_students(database, class_id=auto, instructor=robin, names=names, now=now)
    assert len(questions()) == len(few) == 4


# Whose class it is

REACHING = {
    "page": lambda database, class_id, instructor, **_: page(database, class_id, instructor),
    "change": lambda database, now, class_id, instructor, **_: classes.update_class(
        database,
        class_id=class_id,
        instructor=instructor,
        name="x",
        time_zone="UTC",
        units=UnitSystem.US,
        calculators_on=True,
        now=now,
    ),
    "archive": lambda database, now, class_id, instructor, **_: archive(
        database, class_id, instructor, now, archived=True
    ),
    "add": lambda database, now, class_id, instructor, **_: cards.add_students(
        database, class_id=class_id, instructor=instructor, names=["Al Bo"], now=now
    ),
}
REACHING_A_STUDENT = {
    "drop": lambda database, student, **given: classes.drop_student(database, student_id=student, **given),
    "restore": lambda database, student, **given: classes.restore_student(
        database, student_id=student, **given
    ),
    "extra time": lambda database, student, **given: classes.set_extra_time(
        database, student_id=student, extra_time_factor=2, **given
    ),
    "cards": lambda database, student, **given: cards.new_cards(database, student_ids=[student], **given),
}


@pytest.mark.parametrize("act", [*REACHING, *REACHING_A_STUDENT])
def test_another_instructor_a_student_and_a_made_up_class_find_nothing(database, robin, auto, sam, now, act):
    other = factories.instructor(database)
    before = page(database, auto, robin)
    for class_id, person in ((auto, other), (auto, sam), ("a" * 20, robin)):
        given = {"class_id": class_id, "instructor": person}
        with pytest.raises(NotFound):
            (REACHING | REACHING_A_STUDENT)[act](database, student=sam.public_id, now=now, **given)
    assert page(database, auto, robin) == before


@pytest.mark.parametrize("act", REACHING_A_STUDENT)
def test_a_student_of_another_class_is_not_found_in_this_one(database, robin, auto, now, act):
    other_class = factories.school_class(database, instructor=robin, name="Auto 1")
    stranger = factories.student(database, class_id=other_class, instructor=robin)
    with pytest.raises(NotFound):
        REACHING_A_STUDENT[act](
            database, student=stranger.public_id, now=now, class_id=auto, instructor=robin
        )


def test_every_change_of_a_class_is_in_the_audit(database, robin, auto, sam, now):
    move(classes.drop_student, database, auto, robin, sam, now)
    move(classes.restore_student, database, auto, robin, sam, now)
    archive(database, auto, robin, now, archived=True)
    with database.read() as session:
        rows = session.scalars(select(Audit).where(Audit.subject == f"class:{auto}").order_by(Audit.id)).all()
    assert [row.action for row in rows] == [
        "make class",
        "add students",
        "drop student",
        "restore student",
        "archive class",
    ]
    assert {row.person_id for row in rows} == {robin.id}
    assert rows[2].detail == {"student": sam.public_id}
