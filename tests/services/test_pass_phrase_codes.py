"""A one-time code lets a student choose a new pass phrase, once and for ten minutes."""

from datetime import timedelta

import pytest

from app.services import accounts, classes, hashing, pass_phrase_codes
from app.services.errors import NotFound, Refused, TooManyTries
from tests import factories


@pytest.fixture
def pupil(database, teacher, class_id):
    return factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")


@pytest.fixture
def code(database, teacher, class_id, pupil, now):
    return pass_phrase_codes.make_code(
        database, class_id=class_id, instructor=teacher, student_id=pupil.public_id, now=now
    )


def use(database, name, code, now, phrase="maple river cat"):
    return pass_phrase_codes.use_code(
        database, sign_in_name=name, code=code, pass_phrase=phrase, now=now, device="phone"
    )


def test_a_code_is_six_digits_in_two_groups(code, now):
    assert [len(part) for part in code.code.split(" ")] == [3, 3]
    assert code.code.replace(" ", "").isdigit()
    assert code.expires_at == now + timedelta(minutes=10)


@pytest.mark.parametrize("typed", ["{}", " {} ", "no spaces"])
def test_a_student_chooses_a_new_phrase_and_is_in(database, pupil, code, now, typed):
    digits = code.code.replace(" ", "") if typed == "no spaces" else typed.format(code.code)
    new = use(database, "SamO", digits, now)
    assert new.made is None
    assert accounts.who_is(database, token=new.signed_in.token, now=now) == pupil
    accounts.sign_in(database, sign_in_name="samo", pass_phrase="maple river cat", now=now)


def test_a_phrase_is_made_for_whoever_chooses_none(database, code, now):
    new = use(database, code.sign_in_name, code.code, now, phrase=None)
    assert len(new.made.split()) == 3
    accounts.sign_in(database, sign_in_name="samo", pass_phrase=new.made, now=now)


def test_a_code_works_once(database, code, now):
    use(database, code.sign_in_name, code.code, now)
    with pytest.raises(Refused, match="used or too old"):
        use(database, code.sign_in_name, code.code, now)


def test_a_code_is_over_after_ten_minutes(database, code, now):
    with pytest.raises(Refused, match="too old"):
        use(database, code.sign_in_name, code.code, now + timedelta(minutes=10))


def test_a_newer_code_ends_the_older(database, teacher, class_id, pupil, code, now):
    newer = code
    while newer.code == code.code:
        newer = pass_phrase_codes.make_code(
            database, class_id=class_id, instructor=teacher, student_id=pupil.public_id, now=now
        )
    with pytest.raises(Refused):
        use(database, "samo", code.code, now)
    use(database, "samo", newer.code, now)


def test_a_code_is_for_one_student(database, teacher, class_id, code, now):
    factories.student(database, class_id=class_id, instructor=teacher, name="Bo Diaz")
    with pytest.raises(Refused):
        use(database, "bod", code.code, now)


def test_guessing_makes_the_name_wait_and_then_even_the_right_code_waits(database, code, now):
    wrong = "000 000" if code.code != "000 000" else "111 111"
    for _ in range(5):
        with pytest.raises(Refused):
            use(database, "samo", wrong, now)
    with pytest.raises(TooManyTries):
        use(database, "samo", code.code, now)
    use(database, "samo", code.code, now + timedelta(seconds=31))


def test_a_name_that_nobody_has_waits_the_same(database, now):
    for _ in range(5):
        with pytest.raises(Refused):
            use(database, "nobody", "123 456", now)
    with pytest.raises(TooManyTries):
        use(database, "nobody", "123 456", now)


def test_making_a_code_ends_the_wait_after_wrong_phrases(database, teacher, class_id, pupil, now):
    for _ in range(5):
        with pytest.raises(Refused):
            accounts.sign_in(database, sign_in_name="samo", pass_phrase="wrong wrong wrong", now=now)
    made = pass_phrase_codes.make_code(
        database, class_id=class_id, instructor=teacher, student_id=pupil.public_id, now=now
    )
    use(database, "samo", made.code, now)


def test_the_card_stays_good_until_the_code_is_used(database, teacher, class_id, now):
    _, card = factories.student_and_card(database, class_id=class_id, instructor=teacher, name="Bo Diaz")
    student = factories.person_named(database, card.sign_in_name)
    old = accounts.sign_in(database, sign_in_name=card.sign_in_name, pass_phrase=card.pass_phrase, now=now)
    made = pass_phrase_codes.make_code(
        database, class_id=class_id, instructor=teacher, student_id=student.public_id, now=now
    )
    assert accounts.who_is(database, token=old.token, now=now)
    use(database, card.sign_in_name, made.code, now)
    assert accounts.who_is(database, token=old.token, now=now) is None


def test_a_short_phrase_is_refused_and_the_code_stays_good(database, code, now):
    with pytest.raises(Refused, match="at least 8"):
        use(database, code.sign_in_name, code.code, now, phrase="cat")
    use(database, code.sign_in_name, code.code, now)


def test_no_code_for_another_s_student_nor_for_one_who_left(database, teacher, class_id, pupil, now):
    who = {"class_id": class_id, "student_id": pupil.public_id, "now": now}
    with pytest.raises(NotFound):
        pass_phrase_codes.make_code(database, instructor=factories.instructor(database), **who)
    classes.drop_student(database, instructor=teacher, **who)
    with pytest.raises(NotFound):
        pass_phrase_codes.make_code(database, instructor=teacher, **who)


@pytest.mark.only_sqlite
def test_the_code_itself_is_kept_nowhere(database, code):
    stored = database.file.read_bytes() + database.file.with_name(database.file.name + "-wal").read_bytes()
    assert code.code.encode() not in stored
    assert code.code.replace(" ", "").encode() not in stored


def test_a_wrong_code_costs_one_hash_whether_the_name_is_anybodys_or_has_a_code(
    database, code, teacher, now, monkeypatch
):
    hashed = []
    for name in ("is_right", "hash_pass_phrase"):
        real = getattr(hashing, name)
        monkeypatch.setattr(hashing, name, lambda *given, real=real: hashed.append(given) or real(*given))
    for name in (code.sign_in_name, teacher.sign_in_name, "nobody"):
        hashed.clear()
        with pytest.raises(Refused, match="used or too old"):
            use(database, name, "12 34", now)
        assert len(hashed) == 1, name
