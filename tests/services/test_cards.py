"""Adding students by a list, and their cards."""

import pytest
from sqlalchemy import func, select

from app.services import accounts, cards, classes
from app.services.errors import NotFound, Refused, TooManyTries
from app.store.choices import Role
from app.store.models import Enrolment, Person
from tests import factories


@pytest.fixture
def robin(database):
    return factories.instructor(database)


@pytest.fixture
def auto(database, robin):
    return factories.school_class(database, instructor=robin)


@pytest.fixture
def add(database, robin, auto, now):
    def add(*names, class_id=auto):
        return cards.add_students(database, class_id=class_id, instructor=robin, names=list(names), now=now)

    return add


def sign_in(database, card, now):
    return accounts.sign_in(
        database, sign_in_name=card.sign_in_name, pass_phrase=card.pass_phrase, now=now
    ).person


def students(database):
    with database.read() as session:
        return session.scalar(select(func.count()).where(Person.role == Role.STUDENT))


def test_a_card_lets_its_student_in(database, add, now):
    [card] = add("Sam Okafor")
    person = sign_in(database, card, now)
    assert (person.role, person.display_name) == (Role.STUDENT, "Sam Okafor")
    assert person.sign_in_name == card.sign_in_name
    assert len(card.pass_phrase.split()) == 3


def test_cards_come_in_the_order_of_the_list_and_empty_lines_are_skipped(add):
    made = add("Young, Bo", "", "Ana Ruiz", "   ")
    assert [card.display_name for card in made] == ["Bo Young", "Ana Ruiz"]


def test_sign_in_names_are_the_given_name_and_a_letter_and_never_the_same(add):
    marias = ("Maria Kowalska", "Maria B Kim", "Maria J Kim")
    made = add(*marias, "José Núñez", "李 明", "王 芳", "Mary-Ann O'Neil")
    assert [card.sign_in_name for card in made] == [
        "mariak",
        "mariak2",
        "mariak3",
        "josen",
        "student",
        "student2",
        "maryanno",
    ]


def test_a_name_that_is_taken_in_another_class_gets_a_number(database, robin, add):
    other = factories.school_class(database, instructor=robin, name="Auto 1")
    [first] = add("Sam Okafor", class_id=other)
    [second] = add("Sam Okafor")
    assert (first.sign_in_name, second.sign_in_name) == ("samo", "samo2")


def test_a_repeated_name_refuses_the_whole_list_and_names_the_lines(database, add):
    with pytest.raises(Refused) as caught:
        add("Sam Okafor", "Ana Ruiz", "", "okafor, SAM")
    assert caught.value.field == "names"
    assert "Line 4: SAM okafor stands on line 1 already." in caught.value.message
    assert students(database) == 0


def test_a_name_that_is_in_the_class_already_refuses_the_whole_list(database, add):
    add("Sam Okafor")
    with pytest.raises(Refused, match=r"Line 2: Sam Okafor is in this class already\."):
        add("Ana Ruiz", "Sam Okafor")
    assert students(database) == 1


def test_a_dropped_student_of_that_name_is_to_be_restored(database, robin, auto, add, now):
    [card] = add("Sam Okafor")
    sam = factories.person_named(database, card.sign_in_name)
    classes.drop_student(database, class_id=auto, instructor=robin, student_id=sam.public_id, now=now)
    with pytest.raises(Refused, match="restore"):
        add("Sam Okafor")


def test_every_fault_of_a_list_is_told_at_once(database, add):
    with pytest.raises(Refused) as caught:
        add("1234", "Ana Ruiz", "x" * 81)
    assert "Line 1:" in caught.value.message
    assert "Line 3:" in caught.value.message
    assert students(database) == 0


@pytest.mark.parametrize("names", [[], ["", "  "]])
def test_an_empty_list_is_refused(add, names):
    with pytest.raises(Refused, match="at least one name"):
        add(*names)


def test_a_list_that_is_far_too_long_is_refused(add):
    with pytest.raises(Refused, match="at most 200"):
        add(*(f"Student {'x' * number}" for number in range(1, 202)))


def test_a_list_of_nothing_but_faults_is_told_in_a_few_lines(add):
    with pytest.raises(Refused) as caught:
        add(*["123"] * 60)
    assert caught.value.message.count("Line ") == 5
    assert caught.value.message.endswith("And 55 more.")


def test_a_fault_in_the_middle_of_saving_leaves_nobody_behind(database, add, monkeypatch):
    real = cards.classes.enrol
    calls = []

    def fail_at_the_third(*given, **named):
        calls.append(1)
        if len(calls) == 3:
            raise OSError("no more disk")
        real(*given, **named)

    monkeypatch.setattr(cards.classes, "enrol", fail_at_the_third)
    with pytest.raises(OSError, match="no more disk"):
        add("Ana Ruiz", "Bo Young", "Sam Okafor")
    assert students(database) == 0
    with database.read() as session:
        assert session.scalars(select(Enrolment)).all() == []


def test_a_new_card_ends_the_old_phrase_the_open_sign_in_and_the_wait(database, robin, auto, add, now):
    old, other = add("Sam Okafor", "Ana Ruiz")
    token = accounts.sign_in(
        database, sign_in_name=old.sign_in_name, pass_phrase=old.pass_phrase, now=now
    ).token
    for _ in range(5):
        with pytest.raises(Refused):
            accounts.sign_in(database, sign_in_name=old.sign_in_name, pass_phrase="wrong", now=now)
    with pytest.raises(TooManyTries):
        sign_in(database, old, now)
    sam = factories.person_named(database, old.sign_in_name)
    [new] = cards.new_cards(database, class_id=auto, instructor=robin, student_ids=[sam.public_id], now=now)
    assert (new.display_name, new.sign_in_name) == (old.display_name, old.sign_in_name)
    assert sign_in(database, new, now) == sam
    assert accounts.who_is(database, token=token, now=now) is None
    with pytest.raises(Refused):
        sign_in(database, old, now)
    assert sign_in(database, other, now).display_name == "Ana Ruiz"


def test_new_cards_come_by_family_name_and_once_each(database, robin, auto, add, now):
    add("Sam Okafor", "Ana Ruiz", "Zoe Adams")
    page = classes.class_page(database, class_id=auto, instructor=robin)
    wanted = [student.public_id for student in reversed(page.students)] * 2
    made = cards.new_cards(database, class_id=auto, instructor=robin, student_ids=wanted, now=now)
    assert [card.display_name for card in made] == ["Zoe Adams", "Sam Okafor", "Ana Ruiz"]


def test_one_unknown_student_among_the_ticked_changes_no_phrase(database, robin, auto, add, now):
    [card] = add("Sam Okafor")
    sam = factories.person_named(database, card.sign_in_name)
    with pytest.raises(NotFound):
        cards.new_cards(
            database,
            class_id=auto,
            instructor=robin,
            student_ids=[sam.public_id, "a" * 20],
            now=now,
        )
    assert sign_in(database, card, now) == sam
