"""Co-instructors, students in several classes, moving, and signing out."""

from datetime import timedelta

import pytest

from app.services import accounts, classes, co_instructors, devices, moving, practice
from app.services.errors import NotFound, Refused
from tests import factories
from tests.services.lessons import lesson


@pytest.fixture
def pupil(database, teacher, class_id):
    return factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")


def invite(database, teacher, class_id, name, now):
    return co_instructors.add_instructor(
        database, class_id=class_id, instructor=teacher, sign_in_name=name, now=now
    )


def test_a_co_instructor_may_do_what_the_first_may(database, teacher, class_id, now):
    other = factories.instructor(database, sign_in_name="k.wood")
    with pytest.raises(NotFound):
        classes.class_page(database, class_id=class_id, instructor=other)
    assert invite(database, teacher, class_id, "K.Wood", now) == other.display_name
    assert classes.class_page(database, class_id=class_id, instructor=other).name == "Auto 2"
    there = co_instructors.instructors_of(database, class_id=class_id, instructor=other)
    assert {each.sign_in_name for each in there} == {"k.wood", teacher.sign_in_name}


@pytest.mark.parametrize("name", ["nobody", "samo"])
def test_only_an_instructor_can_be_invited(database, teacher, class_id, now, name):
    factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")
    with pytest.raises(Refused, match="No instructor"):
        invite(database, teacher, class_id, name, now)


def test_nobody_is_invited_twice(database, teacher, class_id, now):
    with pytest.raises(Refused, match="already"):
        invite(database, teacher, class_id, teacher.sign_in_name, now)


def test_one_may_leave_and_the_last_may_not(database, teacher, class_id, now):
    other = factories.instructor(database)
    invite(database, teacher, class_id, other.sign_in_name, now)

    def remove(who, by):
        return co_instructors.remove_instructor(
            database, class_id=class_id, instructor=by, instructor_id=who.public_id, now=now
        )

    remove(teacher, by=teacher)
    with pytest.raises(NotFound):
        classes.class_page(database, class_id=class_id, instructor=teacher)
    with pytest.raises(Refused, match="needs an instructor"):
        remove(other, by=other)
    with pytest.raises(NotFound):
        remove(teacher, by=other)


def test_a_student_of_another_class_joins_by_choosing(database, teacher, pupil, now):
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    found = moving.students_elsewhere(database, class_id=second, instructor=teacher)
    assert [each.sort_name for each in found] == ["Okafor, Sam"]
    keys = {"class_id": second, "instructor": teacher, "student_ids": [pupil.public_id], "now": now}
    assert moving.enrol_existing(database, **keys) == 1
    assert moving.students_elsewhere(database, class_id=second, instructor=teacher) == ()
    assert len(classes.classes_of_student(database, student=pupil)) == 2
    with pytest.raises(NotFound):
        moving.enrol_existing(database, **keys)


def test_another_instructor_s_student_can_not_be_chosen(database, pupil, now):
    other = factories.instructor(database)
    own = factories.school_class(database, instructor=other)
    assert moving.students_elsewhere(database, class_id=own, instructor=other) == ()
    with pytest.raises(NotFound):
        moving.enrol_existing(
            database, class_id=own, instructor=other, student_ids=[pupil.public_id], now=now
        )


def move(database, given, to, now):
    return moving.move_student(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        to_class_id=to,
        now=now,
    )


def test_a_move_leaves_the_work_in_the_old_class_and_loses_none(database, now):
    given = lesson(database, now=now)
    attempt = practice.start_attempt(
        database, assignment_id=given.assignment_id, student=given.student, now=now
    )
    second = factories.school_class(database, instructor=given.instructor, name="Auto 3")
    assert move(database, given, second, now) == "Auto 3"
    old = classes.class_page(database, class_id=given.class_id, instructor=given.instructor)
    new = classes.class_page(database, class_id=second, instructor=given.instructor)
    assert [each.public_id for each in old.dropped] == [given.student.public_id]
    assert [each.public_id for each in new.students] == [given.student.public_id]
    classes.restore_student(
        database,
        class_id=given.class_id,
        instructor=given.instructor,
        student_id=given.student.public_id,
        now=now,
    )
    assert practice.lab(database, attempt_id=attempt, student=given.student).attempt_id == attempt


def test_moving_back_and_forth_makes_no_second_place(database, now):
    given = lesson(database, now=now)
    second = factories.school_class(database, instructor=given.instructor, name="Auto 3")
    move(database, given, second, now)
    moving.move_student(
        database,
        class_id=second,
        instructor=given.instructor,
        student_id=given.student.public_id,
        to_class_id=given.class_id,
        now=now,
    )
    move(database, given, second, now)
    new = classes.class_page(database, class_id=second, instructor=given.instructor)
    assert len(new.students) == 1


def test_a_move_into_the_same_a_foreign_or_a_closed_class_is_refused(database, now):
    given = lesson(database, now=now)
    with pytest.raises(Refused, match="another class"):
        move(database, given, given.class_id, now)
    foreign = factories.school_class(database, instructor=factories.instructor(database))
    with pytest.raises(NotFound):
        move(database, given, foreign, now)
    away = factories.school_class(database, instructor=given.instructor, name="Auto 1")
    classes.archive_class(database, class_id=away, instructor=given.instructor, archived=True, now=now)
    with pytest.raises(Refused, match="put away"):
        move(database, given, away, now)


def signed_in(database, teacher, class_id, now, name="Ana Lund"):
    student, card = factories.student_and_card(database, class_id=class_id, instructor=teacher, name=name)
    signed = accounts.sign_in(
        database,
        sign_in_name=card.sign_in_name,
        pass_phrase=card.pass_phrase,
        now=now,
        device="phone",
    )
    return student, signed.token


def test_everyone_of_a_class_is_signed_out_and_nobody_else(database, teacher, class_id, now):
    _, here = signed_in(database, teacher, class_id, now)
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    _, elsewhere = signed_in(database, teacher, second, now, name="Bo Diaz")
    assert devices.sign_out_class(database, class_id=class_id, instructor=teacher, now=now) == 1
    assert accounts.who_is(database, token=here, now=now) is None
    assert accounts.who_is(database, token=elsewhere, now=now)
    assert devices.sign_out_class(database, class_id=class_id, instructor=teacher, now=now) == 0


def test_one_sees_one_s_own_devices_and_ends_one(database, teacher, class_id, now):
    student, first = signed_in(database, teacher, class_id, now)
    phrase = accounts.reset_pass_phrase(database, sign_in_name=student.sign_in_name, now=now)
    tokens = [
        accounts.sign_in(
            database, sign_in_name=student.sign_in_name, pass_phrase=phrase, now=now, device=kind
        ).token
        for kind in ("phone", "computer")
    ]
    assert accounts.who_is(database, token=first, now=now) is None
    own = devices.devices_of(database, person=student, token=tokens[0], now=now)
    assert [(each.kind, each.this_one) for each in own] == [("computer", False), ("phone", True)]
    devices.end_device(database, person=student, number=own[0].number, now=now)
    assert accounts.who_is(database, token=tokens[1], now=now) is None
    assert accounts.who_is(database, token=tokens[0], now=now)


def test_another_s_device_can_not_be_ended(database, teacher, class_id, now):
    ana, token = signed_in(database, teacher, class_id, now)
    bo, _ = signed_in(database, teacher, class_id, now, name="Bo Diaz")
    [own] = devices.devices_of(database, person=ana, token=token, now=now)
    with pytest.raises(NotFound):
        devices.end_device(database, person=bo, number=own.number, now=now)


def test_a_device_whose_sign_in_is_over_is_not_listed(database, teacher, class_id, now):
    ana, token = signed_in(database, teacher, class_id, now)
    later = now + timedelta(hours=13)
    assert devices.devices_of(database, person=ana, token=token, now=later) == ()
