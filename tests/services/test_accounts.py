"""Signing in and out, the first instructor, and pass phrases."""

import statistics
import threading
import time
from datetime import timedelta
from types import SimpleNamespace

import pytest
from argon2 import PasswordHasher, extract_parameters
from sqlalchemy import event, select

from app.services import accounts, cards, hashing, tries
from app.services.errors import NotFound, Refused, TooManyTries
from app.store.choices import Role
from app.store.models import Audit, Person, SignIn, UnknownName
from tests import factories

PHRASE = "three quiet wheels spin"
REAL_HASHER = hashing.HASHER


@pytest.fixture(autouse=True)
def real_hashes(quick_hashes, monkeypatch):  # noqa: ARG001
    """What is tested here is what people's pass phrases are kept with."""
    monkeypatch.setattr(hashing, "HASHER", REAL_HASHER)


@pytest.fixture
def link(database, now):
    return accounts.setup_link(database, now=now)


@pytest.fixture
def robin(database, link, now):
    return first_instructor(database, link, now)


def first_instructor(database, link, now, **changed):
    fields = {"display_name": "Robin Lang", "sign_in_name": "robin", "pass_phrase": PHRASE} | changed
    return accounts.make_first_instructor(database, link_token=link, now=now, **fields).person


def sign_in(database, now, phrase=PHRASE, name="robin"):
    return accounts.sign_in(database, sign_in_name=name, pass_phrase=phrase, now=now)


def fail(database, now, times, name="robin"):
    for _ in range(times):
        with pytest.raises(Refused):
            sign_in(database, now, "wrong words here", name)


# The first instructor


def test_the_set_up_link_makes_the_first_instructor_who_can_sign_in(database, robin, now):
    assert (robin.role, robin.display_name, robin.sign_in_name) == (Role.INSTRUCTOR, "Robin Lang", "robin")
    assert sign_in(database, now).person == robin


def test_the_set_up_link_works_once(database, link, robin, now):  # noqa: ARG001
    assert not accounts.setup_link_is_valid(database, link_token=link, now=now)
    with pytest.raises(NotFound):
        first_instructor(database, link, now, sign_in_name="second")


def test_no_set_up_link_is_made_once_there_is_an_instructor(database, robin, now):  # noqa: ARG001
    assert accounts.setup_link(database, now=now) is None


def test_the_set_up_link_ends_after_a_day(database, link, now):
    almost, over = now + timedelta(hours=23, minutes=59), now + timedelta(hours=24)
    assert accounts.setup_link_is_valid(database, link_token=link, now=almost)
    assert not accounts.setup_link_is_valid(database, link_token=link, now=over)
    with pytest.raises(NotFound):
        first_instructor(database, link, over)


def test_a_new_set_up_link_ends_the_one_before(database, link, now):
    newer = accounts.setup_link(database, now=now + timedelta(minutes=5))
    later = now + timedelta(minutes=6)
    assert not accounts.setup_link_is_valid(database, link_token=link, now=later)
    assert accounts.setup_link_is_valid(database, link_token=newer, now=later)


def test_a_made_up_link_is_not_valid(database, link, now):  # noqa: ARG001
    assert not accounts.setup_link_is_valid(database, link_token="x" * 43, now=now)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("pass_phrase", "11 letters."),
        ("pass_phrase", "a - - - - - - - - - b"),  # spaces and hyphens are one space
        ("pass_phrase", "x" * 201),
        ("pass_phrase", "\0" * 12),
        ("pass_phrase", "three quiet\u200bwheels"),
        ("sign_in_name", "!"),
        ("sign_in_name", "x" * 41),
        ("display_name", "  "),
        ("display_name", "x" * 81),
    ],
)
def test_a_wrong_entry_is_named_and_leaves_the_link_usable(database, link, now, field, value):
    with pytest.raises(Refused) as caught:
        first_instructor(database, link, now, **{field: value})
    assert caught.value.field == field
    assert accounts.setup_link_is_valid(database, link_token=link, now=now)


# Signing in


@pytest.mark.parametrize(
    "typed",
    [
        "three quiet wheels spin",
        "Three quiet wheels spin ",
        "three-quiet-wheels-spin",
        " THREE  QUIET\twheels—spin",
    ],
)
def test_a_tablet_keyboard_locks_nobody_out(database, robin, now, typed):
    assert sign_in(database, now, typed).person == robin


@pytest.mark.parametrize("typed", ["robin", "Robin", " ROBIN ", "Röbin"])
def test_a_sign_in_name_may_be_typed_in_any_case(database, robin, now, typed):
    assert sign_in(database, now, name=typed).person == robin


@pytest.mark.parametrize(
    "phrase", ["", "three quiet wheels", "threequietwheelsspin", "three quiet wheels spin s"]
)
def test_a_wrong_phrase_is_refused(database, robin, now, phrase):  # noqa: ARG001
    with pytest.raises(Refused) as caught:
        sign_in(database, now, phrase)
    assert caught.value.field == "pass_phrase"


def test_a_wrong_name_is_refused_with_the_same_words(database, robin, now):  # noqa: ARG001
    with pytest.raises(Refused) as wrong_phrase:
        sign_in(database, now, "wrong words here")
    with pytest.raises(Refused) as wrong_name:
        sign_in(database, now, name="nobody")
    assert (wrong_name.value.field, wrong_name.value.message) == (
        wrong_phrase.value.field,
        wrong_phrase.value.message,
    )


def test_an_unknown_name_costs_one_hash_like_a_wrong_phrase(database, robin, now, monkeypatch):  # noqa: ARG001
    checked = []
    real = hashing.is_right
    monkeypatch.setattr(hashing, "is_right", lambda *given: checked.append(given) or real(*given))
    fail(database, now, 1)
    fail(database, now, 1, name="nobody")
    assert len(checked) == 2
    parameters = [one[0].rpartition("$")[0].rpartition("$")[0] for one in checked]
    assert parameters[0] == parameters[1] == "$argon2id$v=19$m=19456,t=2,p=1"


def test_nobodys_hash_costs_what_a_persons_does_and_belongs_to_no_phrase():
    persons = extract_parameters(hashing.hash_pass_phrase("right"))
    assert extract_parameters(hashing.NOBODYS_HASH) == persons
    assert not hashing.is_right(hashing.NOBODYS_HASH, "right")


def test_a_hash_takes_long_enough_to_slow_a_thief_and_short_enough_for_a_class():
    times = []
    for _ in range(5):
        started = time.perf_counter()
        hashing.is_right(hashing.NOBODYS_HASH, "wrong")
        times.append(time.perf_counter() - started)
    assert 0.002 < statistics.median(times) < 0.5


@pytest.mark.only_sqlite
def test_pass_phrases_and_tokens_are_nowhere_in_the_file(database, robin, now):  # noqa: ARG001
    token = sign_in(database, now).token
    database.close()
    content = database.file.read_bytes()
    assert b"robin" in content
    assert PHRASE.encode() not in content
    assert token.encode() not in content


def test_thirty_five_students_sign_in_within_a_minute(database, now):
    teacher = factories.instructor(database)
    class_id = factories.school_class(database, instructor=teacher)
    names = [f"Student {chr(65 + number % 26)}{number}x" for number in range(35)]
    made = cards.add_students(database, class_id=class_id, instructor=teacher, names=names, now=now)
    people, failures = set(), []

    def come_in(card):
        try:
            signed_in = sign_in(database, now, card.pass_phrase, card.sign_in_name)
            people.add(accounts.who_is(database, token=signed_in.token, now=now).sign_in_name)
        except Exception as error:
            failures.append(error)

    started = time.monotonic()
    threads = [threading.Thread(target=come_in, args=(card,)) for card in made]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert people == {card.sign_in_name for card in made}
    assert time.monotonic() - started < 60


def test_a_hash_of_an_earlier_release_is_made_again_at_the_next_sign_in(database, robin, now):
    old = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(PHRASE)
    with database.write() as session:
        session.get(Person, robin.id).pass_phrase_hash = old
    sign_in(database, now)
    with database.read() as session:
        assert "m=19456" in session.get(Person, robin.id).pass_phrase_hash
    sign_in(database, now)


def test_a_phrase_longer_than_any_that_was_set_is_wrong_without_being_hashed(
    database, robin, now, monkeypatch
):
    def refuse(*_):
        raise AssertionError("a text of any length was hashed")

    assert robin
    monkeypatch.setattr(hashing, "HASHER", SimpleNamespace(verify=refuse, hash=refuse))
    for name in ("robin", "nobody"):
        with pytest.raises(Refused, match="belong together"):
            sign_in(database, now, PHRASE + " " * 200, name)
    with pytest.raises(Refused, match="at most 200"):
        change(database, robin, now, new="x" * 1_000_000)


# Waiting after wrong tries


def test_the_first_wrong_tries_cost_no_wait(database, robin, now):
    fail(database, now, tries.TRIES_BEFORE_WAITING - 1)
    assert sign_in(database, now).person == robin


def test_after_five_wrong_tries_even_the_right_phrase_waits_half_a_minute(database, robin, now):
    fail(database, now, 5)
    with pytest.raises(TooManyTries) as caught:
        sign_in(database, now)
    assert caught.value.until == now + timedelta(seconds=30)
    assert sign_in(database, now + timedelta(seconds=30)).person == robin


def test_each_further_wrong_try_doubles_the_wait_up_to_a_quarter_of_an_hour(database, robin, now):
    fail(database, now, 5)
    waits = []
    for _ in range(8):
        with pytest.raises(TooManyTries) as caught:
            sign_in(database, now)
        waits.append((caught.value.until - now).total_seconds())
        now = caught.value.until
        fail(database, now, 1)
    assert waits == [30, 60, 120, 240, 480, 900, 900, 900]
    assert sign_in(database, now + timedelta(minutes=15)).person == robin


def said_to(database, name, times):
    """What a stranger is told who tries a wrong phrase at these moments."""
    said = []
    for at in times:
        try:
            sign_in(database, at, "wrong words here", name)
        except Refused as refused:
            said.append(refused.message)
        except TooManyTries as waiting:
            said.append(waiting.until)
    return said


@pytest.mark.parametrize(
    "seconds",
    [
        [0] * 8,
        [0, 0, 0, 0, 0, 30, 31, 90, 91],
        [0, 0, 0, 0, 86_400, 86_400],
        [0, 0, 0, 0, 0, 86_400, 86_429, 86_430],
        [0, 0, 0, 0, 0, 30, 86_489, 86_490, 86_490],
        [0, 0, 0, 0, 0, 30, 86_490, 86_490, 86_490],
    ],
)
def test_waiting_does_not_tell_which_names_there_are(database, robin, now, seconds):  # noqa: ARG001
    times = [now + timedelta(seconds=each) for each in seconds]
    assert said_to(database, "robin", times) == said_to(database, "nobody", times)


def test_after_a_day_without_a_try_the_wrong_ones_are_forgotten(database, robin, now):
    fail(database, now, 5)
    later = now + timedelta(days=1, seconds=30)
    fail(database, later, 4)
    assert sign_in(database, later).person == robin


def test_names_that_are_made_up_are_kept_as_hashes_for_a_day_and_no_more_than_so_many(
    database, now, monkeypatch
):
    def kept():
        with database.read() as session:
            return [row.name_hash for row in session.scalars(select(UnknownName).order_by(UnknownName.id))]

    monkeypatch.setattr(tries, "MOST_UNKNOWN_NAMES", 3)
    for name in ("a", "b", "c", "c", "d", "e"):
        fail(database, now, 1, name)
    assert kept() == [hashing.token_hash(name) for name in ("c", "d", "e")]
    fail(database, now + timedelta(days=1, seconds=1), 1, "f")
    assert kept() == [hashing.token_hash("f")]


def test_a_right_sign_in_starts_the_count_again(database, robin, now):
    fail(database, now, 4)
    sign_in(database, now)
    fail(database, now, 4)
    assert sign_in(database, now).person == robin


def test_one_account_that_waits_keeps_no_other_out(database, robin, now):  # noqa: ARG001
    other, phrase = factories.instructor_and_phrase(database, sign_in_name="kim")
    fail(database, now, 5)
    assert sign_in(database, now, phrase, "kim").person == other


def test_many_guesses_at_once_get_no_more_tries_than_one_by_one(database, robin, now):  # noqa: ARG001
    """All are checked before any is counted; the right one comes sixth and must not pass."""
    with database.read() as session:
        account = session.scalars(select(Person)).one()
    with database.write() as session:
        row = session.scalars(select(Person)).one()
        for _ in range(5):
            assert not tries.count(row, right=False, checked_hash=account.pass_phrase_hash, now=now)
        with pytest.raises(TooManyTries):
            tries.count(row, right=True, checked_hash=account.pass_phrase_hash, now=now)


def test_a_phrase_that_is_changed_while_it_is_checked_does_not_pass(database, robin, now, monkeypatch):  # noqa: ARG001
    real = tries.is_right

    def slow(account, phrase, at):
        right = real(account, phrase, at)
        accounts.reset_pass_phrase(database, sign_in_name="robin", now=now)
        return right

    monkeypatch.setattr(tries, "is_right", slow)
    with pytest.raises(Refused):
        sign_in(database, now)


# Being signed in


def test_a_token_says_who_is_signed_in_until_the_school_day_is_over(database, robin, now):
    token = sign_in(database, now).token
    assert accounts.who_is(database, token=token, now=now + timedelta(hours=11, minutes=59)) == robin
    assert accounts.who_is(database, token=token, now=now + timedelta(hours=12)) is None


@pytest.mark.parametrize("token", ["", "x", "é" * 43])
def test_an_unknown_token_is_nobody(database, robin, now, token):  # noqa: ARG001
    assert accounts.who_is(database, token=token, now=now) is None


def test_signing_out_ends_this_device_only(database, robin, now):
    here, there = sign_in(database, now).token, sign_in(database, now).token
    accounts.sign_out(database, token=here, now=now)
    assert accounts.who_is(database, token=here, now=now) is None
    assert accounts.who_is(database, token=there, now=now) == robin
    accounts.sign_out(database, token=here, now=now)  # twice does no harm


def test_being_seen_is_written_down_once_a_minute(database, robin, now):  # noqa: ARG001
    token = sign_in(database, now).token
    commits = []
    event.listen(database._engine, "commit", lambda _: commits.append(1))  # noqa: SLF001
    for seconds in (1, 30, 59, 60, 61, 119, 120):
        accounts.who_is(database, token=token, now=now + timedelta(seconds=seconds))
    assert len(commits) == 2
    with database.read() as session:
        own = select(SignIn.last_seen_at).where(SignIn.token_hash == hashing.token_hash(token))
        assert session.scalars(own).one() == now + timedelta(seconds=120)


# Changing and resetting


def change(database, person, now, *, old=PHRASE, new="five loud wagons roll", token=""):
    accounts.change_pass_phrase(
        database, person=person, current_pass_phrase=old, pass_phrase=new, token=token, now=now
    )


def test_changing_the_phrase_signs_other_devices_out_and_keeps_this_one(database, robin, now):
    here, there = sign_in(database, now).token, sign_in(database, now).token
    change(database, robin, now, token=here)
    assert accounts.who_is(database, token=here, now=now) == robin
    assert accounts.who_is(database, token=there, now=now) is None
    fail(database, now, 1)
    assert sign_in(database, now, "five loud wagons roll").person == robin


def test_a_wrong_present_phrase_changes_nothing_and_counts_as_a_try(database, robin, now):
    for _ in range(5):
        with pytest.raises(Refused) as caught:
            change(database, robin, now, old="wrong words here")
        assert caught.value.field == "current_pass_phrase"
    with pytest.raises(TooManyTries):
        change(database, robin, now)
    assert sign_in(database, now + timedelta(minutes=1)).person == robin


def test_a_new_phrase_that_is_too_short_is_refused(database, robin, now):
    with pytest.raises(Refused) as caught:
        change(database, robin, now, new="too short")
    assert caught.value.field == "pass_phrase"
    assert sign_in(database, now).person == robin


def test_a_reset_from_the_command_line_ends_every_sign_in_and_every_wait(database, robin, now):
    token = sign_in(database, now).token
    fail(database, now, 5)
    phrase = accounts.reset_pass_phrase(database, sign_in_name="Robin", now=now)
    assert accounts.who_is(database, token=token, now=now) is None
    assert sign_in(database, now, phrase).person == robin
    assert len(phrase.split()) == 5


def test_a_reset_of_an_unknown_name_is_not_found(database, now):
    with pytest.raises(NotFound, match="nobody"):
        accounts.reset_pass_phrase(database, sign_in_name="nobody", now=now)


def test_the_command_line_adds_instructors_under_different_names(database, robin, now):  # noqa: ARG001
    phrase = accounts.add_instructor(database, display_name="Kim, Jo", sign_in_name="jo.kim", now=now)
    signed_in = sign_in(database, now, phrase, "jo.kim")
    assert (signed_in.person.role, signed_in.person.display_name) == (Role.INSTRUCTOR, "Jo Kim")
    with pytest.raises(Refused) as caught:
        accounts.add_instructor(database, display_name="Jo Kim", sign_in_name="JO.KIM", now=now)
    assert caught.value.field == "sign_in_name"


def test_what_changes_an_account_is_kept_in_the_audit(database, robin, now):
    change(database, robin, now)
    accounts.reset_pass_phrase(database, sign_in_name="robin", now=now)
    with database.read() as session:
        rows = (
            session.execute(select(Audit.action, Audit.person_id, Audit.subject).order_by(Audit.id))
            .tuples()
            .all()
        )
    subject = f"person:{robin.public_id}"
    assert rows == [
        ("set up", robin.id, subject),
        ("change pass phrase", robin.id, subject),
        ("reset pass phrase", None, subject),
    ]
