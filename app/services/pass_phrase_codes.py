"""A lost card in the middle of a lesson: the instructor makes a code, the student types it and has a new pass
phrase. The code is good once and for ten minutes, and wrong tries of it make the name wait as wrong pass
phrases do."""

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from app.domain.pass_phrases import make_pass_phrase
from app.services import hashing, tries
from app.services.accounts import (
    Person,
    SignedIn,
    count_unknown_name,
    require_good_pass_phrase,
    start_sign_in,
)
from app.services.errors import NotFound, Refused
from app.services.names import as_sign_in_name
from app.services.reach import note, own_class
from app.store import audit, classes, people
from app.store.choices import Role
from app.store.db import Database

GOOD_FOR = timedelta(minutes=10)
DIGITS = 6

WRONG = (
    "The sign-in name and the code don’t belong together, or the code is used or too old. Check both, or ask "
    "your instructor for a new code."
)


@dataclass(frozen=True)
class OneTimeCode:
    """`code` is shown this once: six digits, in two groups."""

    display_name: str
    sign_in_name: str
    code: str
    expires_at: datetime


@dataclass(frozen=True)
class NewPhrase:
    """`made` is the pass phrase that was made for the student; None when they chose one."""

    signed_in: SignedIn
    made: str | None


def make_code(
    database: Database, *, class_id: str, instructor: Person, student_id: str, now: datetime
) -> OneTimeCode:
    """A code for a student who is in the class now. An earlier code ends, and so does a wait after wrong
    tries; the card stays good until the code is used. Raises NotFound."""
    digits = f"{secrets.randbelow(10**DIGITS):0{DIGITS}}"
    code_hash = hashing.hash_pass_phrase(digits)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        enrolment = classes.enrolment_of(session, row.id, student_id)
        if enrolment is None or enrolment.dropped_at is not None:
            raise NotFound("This student isn't in this class now.")
        student = enrolment.person
        student.failed_sign_ins, student.refused_until = 0, None
        expires_at = now + GOOD_FOR
        people.set_code(
            session,
            person_key=student.id,
            code_hash=code_hash,
            made_by=instructor.id,
            expires_at=expires_at,
        )
        note(session, now, instructor, "make code", row, student=student_id)
        return OneTimeCode(
            student.display_name, student.sign_in_name, f"{digits[:3]} {digits[3:]}", expires_at
        )


def use_code(
    database: Database,
    *,
    sign_in_name: str,
    code: str,
    pass_phrase: str | None,
    now: datetime,
    device: str | None = None,
    in_place_of: str = "",
) -> NewPhrase:
    """Set a new pass phrase, `pass_phrase` or one that is made, and sign in; every other device is signed
    out. `device` and `in_place_of` as for `sign_in`. Raises Refused, and TooManyTries as sign-in does."""
    chosen = make_pass_phrase() if pass_phrase is None else pass_phrase
    require_good_pass_phrase(chosen, Role.STUDENT)
    digits = "".join(sign for sign in code if sign.isdecimal())
    name = as_sign_in_name(sign_in_name)
    with database.read() as session:
        row = people.person_by_sign_in_name(session, name)
        known = people.code_of(session, row.id, now) if row else None
    if row is None:
        count_unknown_name(database, hashing.token_hash(name), digits, now)
        raise Refused("code", WRONG)
    tries.refuse_while_waiting(row, now)
    right = hashing.is_right(known.code_hash if known else hashing.NOBODYS_HASH, digits)
    new_hash = hashing.hash_pass_phrase(chosen) if right else ""  # or a wrong code would take twice the time
    with database.write() as session:
        current = people.known_person(session, row.id)
        still = people.code_of(session, row.id, now)
        if not (right and known and still and still.code_hash == known.code_hash):
            tries.count_wrong(current, now)
        else:
            tries.refuse_while_waiting(current, now)
            people.drop_code(session, row.id)
            people.set_pass_phrase_hash(session, current, new_hash, now)
            audit.record(
                session,
                at=now,
                person_key=row.id,
                action="use code",
                subject=f"person:{row.public_id}",
            )
            signed_in = start_sign_in(session, current, device, now, in_place_of)
            return NewPhrase(signed_in, chosen if pass_phrase is None else None)
    raise Refused("code", WRONG)
