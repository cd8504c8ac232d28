"""Coming in and going out: sign-in, the first instructor, pass phrases."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from app.domain.pass_phrases import (
    LONGEST_PASS_PHRASE,
    WORDS_FOR_A_STUDENT,
    WORDS_FOR_AN_INSTRUCTOR,
    make_pass_phrase,
    normalised,
)
from app.domain.texts import can_be_shown
from app.services import hashing, tries
from app.services.errors import NotFound, Refused
from app.services.names import (
    LONGEST_NAME,
    LONGEST_SIGN_IN_NAME,
    SHORTEST_SIGN_IN_NAME,
    as_sign_in_name,
    read_name,
)
from app.store import audit, people
from app.store.choices import Role
from app.store.db import Database
from app.store.errors import Conflict

SIGN_IN_LASTS = timedelta(hours=12)  # a school day, so that a shared tablet is nobody's the next morning
SETUP_LINK_LASTS = timedelta(hours=24)
SEEN_EVERY = timedelta(minutes=1)

WORDS = {Role.INSTRUCTOR: WORDS_FOR_AN_INSTRUCTOR, Role.STUDENT: WORDS_FOR_A_STUDENT}
SHORTEST_PASS_PHRASE = {Role.INSTRUCTOR: 12, Role.STUDENT: 8}

WRONG = "The sign-in name and the pass phrase don't belong together. Check both against your card."


@dataclass(frozen=True)
class Person:
    id: int
    public_id: str
    role: Role
    display_name: str
    sign_in_name: str


@dataclass(frozen=True)
class SignedIn:
    """`token` is what the browser keeps; the database has only its hash."""

    token: str
    person: Person
    expires_at: datetime


def sign_in(
    database: Database,
    *,
    sign_in_name: str,
    pass_phrase: str,
    now: datetime,
    device: str | None = None,
    in_place_of: str = "",
) -> SignedIn:
    """device: its kind in a word, for the list of one's own devices. in_place_of: the token of whoever used
    this browser before, whose sign-in ends. Raises Refused for a wrong name or phrase, which take the same
    time, and TooManyTries for either."""
    name = as_sign_in_name(sign_in_name)
    with database.read() as session:
        row = people.person_by_sign_in_name(session, name)
    if row is None:
        count_unknown_name(database, hashing.token_hash(name), pass_phrase, now)
        raise Refused("pass_phrase", WRONG)
    right = tries.is_right(row, pass_phrase, now)
    new_hash = hashing.renewed(row.pass_phrase_hash, pass_phrase) if right else row.pass_phrase_hash
    with database.write() as session:
        current = people.known_person(session, row.id)
        if tries.count(current, right=right, checked_hash=row.pass_phrase_hash, now=now):
            current.pass_phrase_hash = new_hash
            return start_sign_in(session, current, device, now, in_place_of)
    raise Refused("pass_phrase", WRONG)


def start_sign_in(
    session: Any, row: Any, device: str | None, now: datetime, in_place_of: str = ""
) -> SignedIn:
    """Sign a person in on one device, inside a writing transaction that has found out who it is."""
    if in_place_of:
        people.revoke_sign_in(session, hashing.token_hash(in_place_of), now)
    token, expires_at = hashing.new_token(), now + SIGN_IN_LASTS
    people.add_sign_in(
        session,
        person_key=row.id,
        token_hash=hashing.token_hash(token),
        device=device,
        now=now,
        expires_at=expires_at,
    )
    return SignedIn(token, _person(row), expires_at)


def count_unknown_name(database: Database, name_hash: str, pass_phrase: str, now: datetime) -> None:
    """Do what is done for a person's wrong phrase, so that nobody learns that there is no such person. Raises
    TooManyTries."""
    with database.read() as session:
        row = people.unknown_name(session, name_hash)
    if row is not None:
        tries.refuse_while_waiting(row, now)
    hashing.is_right(hashing.NOBODYS_HASH, pass_phrase)
    with database.write() as session:
        row = people.unknown_name_to_count(
            session, name_hash, forget_before=now - tries.FORGOTTEN_AFTER, most=tries.MOST_UNKNOWN_NAMES
        )
        tries.count_wrong(row, now)


def who_is(database: Database, *, token: str, now: datetime) -> Person | None:
    """The person on whose device this token is; None when the sign-in is over, revoked or unknown."""
    with database.read() as session:
        row = people.valid_sign_in(session, hashing.token_hash(token), now)
    if row is None:
        return None
    if now - row.last_seen_at >= SEEN_EVERY:
        with database.write() as session:
            people.note_seen(session, row.sign_in_key, now)
    return _person(row)


def sign_out(database: Database, *, token: str, now: datetime) -> None:
    with database.write() as session:
        people.revoke_sign_in(session, hashing.token_hash(token), now)


def setup_link(database: Database, *, now: datetime) -> str | None:
    """A token, good once and for 24 hours, with which the first instructor makes an account; earlier ones
    end. None when there is an instructor."""
    token = hashing.new_token()
    with database.write() as session:
        if people.has_instructor(session):
            return None
        people.add_setup_link(
            session, token_hash=hashing.token_hash(token), now=now, expires_at=now + SETUP_LINK_LASTS
        )
    return token


def setup_link_is_valid(database: Database, *, link_token: str, now: datetime) -> bool:
    with database.read() as session:
        link = people.valid_setup_link(session, hashing.token_hash(link_token), now)
        return link is not None and not people.has_instructor(session)


def make_first_instructor(
    database: Database,
    *,
    link_token: str,
    display_name: str,
    sign_in_name: str,
    pass_phrase: str,
    now: datetime,
) -> SignedIn:
    """An account, signed in at once. Raises NotFound for a link that is used, over or unknown, and
    Refused."""
    require_good_pass_phrase(pass_phrase, Role.INSTRUCTOR)
    instructor = _new_instructor(display_name, sign_in_name, pass_phrase)
    with _refusing_a_taken_name(), database.write() as session:
        link = people.valid_setup_link(session, hashing.token_hash(link_token), now)
        if link is None or people.has_instructor(session):
            raise NotFound("This set-up link has been used or is too old.")
        link.used_at = now
        row = people.add_person(session, **instructor, now=now)
        audit.record(session, at=now, person_key=row.id, action="set up", subject=f"person:{row.public_id}")
        return start_sign_in(session, row, None, now)


def add_instructor(database: Database, *, display_name: str, sign_in_name: str, now: datetime) -> str:
    """Make an instructor from the command line; returns the pass phrase, shown this once. Raises Refused."""
    pass_phrase = make_pass_phrase(WORDS[Role.INSTRUCTOR])
    instructor = _new_instructor(display_name, sign_in_name, pass_phrase)
    with _refusing_a_taken_name(), database.write() as session:
        row = people.add_person(session, **instructor, now=now)
        audit.record(
            session, at=now, person_key=None, action="add instructor", subject=f"person:{row.public_id}"
        )
    return pass_phrase


def reset_pass_phrase(database: Database, *, sign_in_name: str, now: datetime) -> str:
    """Give a person a new pass phrase from the command line, and return it. Every device is signed out.
    Raises NotFound."""
    with database.read() as session:
        row = people.person_by_sign_in_name(session, as_sign_in_name(sign_in_name))
    if row is None:
        raise NotFound(f"Nobody signs in as {sign_in_name}.")
    pass_phrase = make_pass_phrase(WORDS[row.role])
    new_hash = hashing.hash_pass_phrase(pass_phrase)
    with database.write() as session:
        people.set_pass_phrase_hash(session, people.known_person(session, row.id), new_hash, now)
        audit.record(
            session, at=now, person_key=None, action="reset pass phrase", subject=f"person:{row.public_id}"
        )
    return pass_phrase


def change_pass_phrase(
    database: Database,
    *,
    person: Person,
    current_pass_phrase: str,
    pass_phrase: str,
    token: str,
    now: datetime,
) -> None:
    """Change one's own pass phrase. Other devices are signed out; the one with `token` stays signed in.
    Raises Refused, and TooManyTries as sign-in does: a tablet left signed in must not be a way to guess."""
    require_good_pass_phrase(pass_phrase, person.role)
    with database.read() as session:
        row = people.known_person(session, person.id)
    right = tries.is_right(row, current_pass_phrase, now)
    new_hash = hashing.hash_pass_phrase(pass_phrase)
    with database.write() as session:
        current = people.known_person(session, row.id)
        if tries.count(current, right=right, checked_hash=row.pass_phrase_hash, now=now):
            people.set_pass_phrase_hash(session, current, new_hash, now, keep=hashing.token_hash(token))
            audit.record(
                session,
                at=now,
                person_key=row.id,
                action="change pass phrase",
                subject=f"person:{row.public_id}",
            )
            return
    raise Refused("current_pass_phrase", "That isn't your pass phrase. Type the one you signed in with.")


def _person(row: Any) -> Person:
    return Person(row.id, row.public_id, row.role, row.display_name, row.sign_in_name)


def _new_instructor(display_name: str, sign_in_name: str, pass_phrase: str) -> dict[str, Any]:
    """The columns of a new instructor. Raises Refused."""
    name = read_name(display_name)
    if name is None or len(name.display_name) > LONGEST_NAME:
        raise Refused("display_name", f"Type the name students know, in at most {LONGEST_NAME} characters.")
    kept_name = as_sign_in_name(sign_in_name)
    if not SHORTEST_SIGN_IN_NAME <= len(kept_name) <= LONGEST_SIGN_IN_NAME:
        raise Refused(
            "sign_in_name",
            f"Use {SHORTEST_SIGN_IN_NAME} to {LONGEST_SIGN_IN_NAME} letters, digits or dots, like j.rivera.",
        )
    return {
        "role": Role.INSTRUCTOR,
        "display_name": name.display_name,
        "sort_name": name.sort_name,
        "sign_in_name": kept_name,
        "pass_phrase_hash": hashing.hash_pass_phrase(pass_phrase),
    }


def require_good_pass_phrase(pass_phrase: str, role: Role) -> None:
    """Raises Refused, on the field `pass_phrase`."""
    if len(pass_phrase) > LONGEST_PASS_PHRASE:
        raise Refused(
            "pass_phrase", f"Use at most {LONGEST_PASS_PHRASE} characters; this one has {len(pass_phrase)}."
        )
    if not all(can_be_shown(sign) for sign in pass_phrase):
        raise Refused("pass_phrase", "This one has a sign that can't be seen. Type it again, sign by sign.")
    length = len(normalised(pass_phrase))
    if length < SHORTEST_PASS_PHRASE[role]:
        raise Refused(
            "pass_phrase",
            f"Use at least {SHORTEST_PASS_PHRASE[role]} characters, as in four words; this one has {length}.",
        )


@contextmanager
def _refusing_a_taken_name() -> Iterator[None]:
    try:
        yield
    except Conflict as error:
        if error.columns != ("sign_in_name",):
            raise
        raise Refused("sign_in_name", "Someone signs in with this name already. Choose another.") from error
