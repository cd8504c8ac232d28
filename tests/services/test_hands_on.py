"""Hands-on checks: the list of skills, taps, and what stands of them."""

from datetime import date, timedelta

import pytest

from app.domain.hands_on import Level
from app.services import classes, hands_on
from app.services.errors import NotFound, Refused
from tests import factories


@pytest.fixture
def pupil(database, teacher, class_id):
    return factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")


@pytest.fixture
def skill(database, teacher, class_id, now):
    return add(database, teacher, class_id, now, "C.3: Balance an assembly")[0]


def add(database, teacher, class_id, now, *lines):
    hands_on.add_skills(database, class_id=class_id, instructor=teacher, lines=lines, now=now)
    return hands_on.grid(database, class_id=class_id, instructor=teacher, now=now).skills


def tap(database, teacher, class_id, pupil, skill, now, level=Level.SEEN, key="tap-number-1", **more):
    return hands_on.check(
        database,
        class_id=class_id,
        instructor=teacher,
        student_id=pupil.public_id,
        skill_id=skill.skill_id,
        level=level,
        key=key,
        now=now,
        **more,
    )


def stands(database, teacher, class_id, now):
    [row] = hands_on.grid(database, class_id=class_id, instructor=teacher, now=now).rows
    return row.standings[0]


@pytest.mark.parametrize(
    ("line", "name", "code"),
    [
        ("C.3: Balance an assembly", "Balance an assembly", "C.3"),
        ("Balance an assembly", "Balance an assembly", None),
        ("Careful: hot brake", "Careful: hot brake", None),
        ("  4   Torque  the nuts ", "4 Torque the nuts", None),
        ("12: Torque", "Torque", "12"),
    ],
)
def test_a_skill_is_read_with_its_code(database, teacher, class_id, now, line, name, code):
    [skill] = add(database, teacher, class_id, now, line)
    assert (skill.name, skill.code) == (name, code)


@pytest.mark.parametrize(
    ("lines", "message"), [([""], "at least one"), (["---"], "words"), (["x" * 121], "120")]
)
def test_a_skill_that_cannot_be_is_refused(database, teacher, class_id, now, lines, message):
    with pytest.raises(Refused, match=message):
        add(database, teacher, class_id, now, *lines)


def test_a_skill_is_on_the_list_once_and_comes_back_with_its_checks(
    database, teacher, class_id, pupil, skill, now
):
    assert len(add(database, teacher, class_id, now, "balance an ASSEMBLY")) == 1
    tap(database, teacher, class_id, pupil, skill, now)
    who = {"class_id": class_id, "instructor": teacher, "now": now}
    hands_on.put_skill_away(database, skill_id=skill.skill_id, away=True, **who)
    grid = hands_on.grid(database, **who)
    assert (grid.skills, len(grid.put_away)) == ((), 1)
    add(database, teacher, class_id, now, "Balance an assembly")
    assert stands(database, teacher, class_id, now).level is Level.SEEN


def test_the_newest_tap_stands(database, teacher, class_id, pupil, skill, now):
    for number, level in enumerate((Level.SEEN, Level.ALONE, Level.WITH_HELP)):
        tap(database, teacher, class_id, pupil, skill, now, level, f"tap-number-{number}")
    assert stands(database, teacher, class_id, now).level is Level.WITH_HELP


def test_a_tap_that_is_sent_again_changes_nothing(database, teacher, class_id, pupil, skill, now):
    first = tap(database, teacher, class_id, pupil, skill, now, Level.SEEN, "the-same-key")
    tap(database, teacher, class_id, pupil, skill, now, Level.ALONE, "a-later-key")
    again = tap(database, teacher, class_id, pupil, skill, now, Level.SEEN, "the-same-key")
    assert first.level is Level.SEEN
    assert again.level is Level.ALONE, "the answer to a repeated tap is what stands now"
    lines = hands_on.history(database, class_id=class_id, instructor=teacher, student_id=pupil.public_id)
    assert [line.level for line in lines] == [Level.ALONE, Level.SEEN]


def test_undoing_leaves_nothing_standing_and_the_history_keeps_both(
    database, teacher, class_id, pupil, skill, now
):
    tap(database, teacher, class_id, pupil, skill, now, Level.ALONE, note="by herself")
    assert tap(database, teacher, class_id, pupil, skill, now, Level.UNDONE, "undo-key-1").level is None
    assert stands(database, teacher, class_id, now) == hands_on.NOTHING
    lines = hands_on.history(database, class_id=class_id, instructor=teacher, student_id=pupil.public_id)
    assert [line.level for line in lines] == [Level.UNDONE, Level.ALONE]
    assert lines[0].by == teacher.display_name


def test_a_note_stays_with_later_taps_until_it_is_changed(database, teacher, class_id, pupil, skill, now):
    tap(database, teacher, class_id, pupil, skill, now, note="needs the long bar")
    assert tap(database, teacher, class_id, pupil, skill, now, Level.ALONE, "tap-number-2").note == (
        "needs the long bar"
    )
    assert (
        tap(database, teacher, class_id, pupil, skill, now, Level.ALONE, "tap-number-3", note="").note == ""
    )


def test_a_tap_is_of_today_in_the_class_s_time_zone(database, teacher, class_id, pupil, skill, now):
    late_evening_there = now.replace(hour=3)  # 9 PM of the day before in Chicago
    assert tap(database, teacher, class_id, pupil, skill, late_evening_there).done_on == date(2030, 3, 3)


def test_an_earlier_day_is_taken_and_one_to_come_is_not(database, teacher, class_id, pupil, skill, now):
    day = date(2030, 2, 28)
    assert tap(database, teacher, class_id, pupil, skill, now, done_on=day).done_on == day
    for wrong in (date(2030, 3, 5), date(2028, 1, 1)):
        with pytest.raises(Refused, match="past year"):
            tap(database, teacher, class_id, pupil, skill, now, key="tap-number-9", done_on=wrong)


@pytest.mark.parametrize("key", ["", "short", "with space", "x" * 41, "quote'quote"])
def test_a_key_that_no_page_makes_is_refused(database, teacher, class_id, pupil, skill, now, key):
    with pytest.raises(Refused, match="Reload"):
        tap(database, teacher, class_id, pupil, skill, now, key=key)


def test_another_s_class_student_or_skill_is_not_found(database, teacher, class_id, pupil, skill, now):
    other = factories.instructor(database)
    with pytest.raises(NotFound):
        tap(database, other, class_id, pupil, skill, now)
    theirs = factories.school_class(database, instructor=teacher, name="Auto 3")
    [foreign] = add(database, teacher, theirs, now, "Another skill")
    with pytest.raises(NotFound):
        tap(database, teacher, class_id, pupil, foreign, now)
    elsewhere = factories.student(database, class_id=theirs, instructor=teacher)
    with pytest.raises(NotFound):
        tap(database, teacher, class_id, elsewhere, skill, now)


def test_a_class_that_is_put_away_takes_no_tap(database, teacher, class_id, pupil, skill, now):
    classes.archive_class(database, class_id=class_id, instructor=teacher, archived=True, now=now)
    with pytest.raises(Refused, match="put away"):
        tap(database, teacher, class_id, pupil, skill, now)


def test_two_instructors_may_use_the_same_key(database, teacher, class_id, pupil, skill, now):
    from app.services import co_instructors

    other = factories.instructor(database)
    co_instructors.add_instructor(
        database, class_id=class_id, instructor=teacher, sign_in_name=other.sign_in_name, now=now
    )
    tap(database, teacher, class_id, pupil, skill, now, Level.SEEN)
    assert tap(database, other, class_id, pupil, skill, now, Level.ALONE).level is Level.ALONE


def test_the_grid_costs_the_same_however_many_students_there_are(
    database, teacher, class_id, pupil, skill, now, queries
):
    tap(database, teacher, class_id, pupil, skill, now)

    def count():
        with queries() as asked:
            hands_on.grid(database, class_id=class_id, instructor=teacher, now=now + timedelta(days=1))
        return len(asked)

    before = count()
    for number in range(3):
        factories.student(database, class_id=class_id, instructor=teacher, name=f"Kim Lee {number}x")
    assert count() == before
