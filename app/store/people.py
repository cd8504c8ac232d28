"""Questions about people and their sign-ins."""

from collections.abc import Collection, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, bindparam, delete, exists, select, update
from sqlalchemy.orm import Session

from app.store.choices import Role
from app.store.models import Enrolment, PassPhraseCode, Person, SetupLink, SignIn, UnknownName


def add_person(
    session: Session,
    *,
    role: Role,
    display_name: str,
    sort_name: str,
    sign_in_name: str,
    pass_phrase_hash: str,
    now: datetime,
) -> Person:
    """Raises Conflict when the transaction ends, or at this flush, if the sign-in name is taken."""
    person = Person(
        role=role,
        display_name=display_name,
        sort_name=sort_name,
        sign_in_name=sign_in_name,
        pass_phrase_hash=pass_phrase_hash,
        created_at=now,
    )
    session.add(person)
    session.flush()
    return person


def known_person(session: Session, person_key: int) -> Person:
    """A person who is known to exist, as the row is now."""
    return session.get_one(Person, person_key)


def rename(session: Session, person_key: int, *, display_name: str, sort_name: str) -> None:
    person = known_person(session, person_key)
    person.display_name, person.sort_name = display_name, sort_name


def person_by_sign_in_name(session: Session, sign_in_name: str) -> Person | None:
    return session.scalar(select(Person).where(Person.sign_in_name == sign_in_name))


def unknown_name(session: Session, name_hash: str) -> UnknownName | None:
    return session.scalar(select(UnknownName).where(UnknownName.name_hash == name_hash))


def unknown_name_to_count(
    session: Session, name_hash: str, *, forget_before: datetime, most: int
) -> UnknownName:
    """The row of a name that nobody has, made when there is none. Rows whose last try was before
    `forget_before` go, and the oldest beyond `most`: anyone can make up names."""
    session.execute(delete(UnknownName).where(UnknownName.refused_until < forget_before))
    row = unknown_name(session, name_hash)
    if row is None:
        row = UnknownName(name_hash=name_hash)
        session.add(row)
        session.flush()
        session.execute(delete(UnknownName).where(UnknownName.id <= row.id - most))
    return row


def has_instructor(session: Session) -> bool:
    return bool(session.scalar(select(exists().where(Person.role == Role.INSTRUCTOR))))


def sign_in_names(session: Session) -> set[str]:
    return set(session.scalars(select(Person.sign_in_name)))


def add_sign_in(
    session: Session,
    *,
    person_key: int,
    token_hash: str,
    device: str | None,
    now: datetime,
    expires_at: datetime,
) -> None:
    session.add(
        SignIn(
            person_id=person_key,
            token_hash=token_hash,
            device=device,
            created_at=now,
            last_seen_at=now,
            expires_at=expires_at,
        )
    )


_VALID_SIGN_IN = (
    select(
        SignIn.id.label("sign_in_key"),
        SignIn.last_seen_at,
        Person.id,
        Person.public_id,
        Person.role,
        Person.display_name,
        Person.sign_in_name,
    )
    .join(SignIn.person)
    .where(
        SignIn.token_hash == bindparam("token_hash"),
        SignIn.revoked_at.is_(None),
        SignIn.expires_at > bindparam("now"),
    )
)
"""Every page asks it first: made once, and asked of the connection itself, without the mapper."""


def valid_sign_in(session: Session, token_hash: str, now: datetime) -> Row[Any] | None:
    """The sign-in with this token that is neither over nor revoked: its key, when it was last seen, and what
    a page tells of its person."""
    wanted = {"token_hash": token_hash, "now": now}
    return session.connection().execute(_VALID_SIGN_IN, wanted).one_or_none()


def note_seen(session: Session, sign_in_key: int, now: datetime) -> None:
    session.execute(update(SignIn).where(SignIn.id == sign_in_key).values(last_seen_at=now))


def revoke_sign_in(session: Session, token_hash: str, now: datetime) -> None:
    session.execute(
        update(SignIn)
        .where(SignIn.token_hash == token_hash, SignIn.revoked_at.is_(None))
        .values(revoked_at=now)
    )


def sign_ins_of(session: Session, person_key: int, now: datetime) -> Sequence[SignIn]:
    """The devices on which a person is signed in now, the last seen first."""
    return session.scalars(
        select(SignIn)
        .where(SignIn.person_id == person_key, SignIn.revoked_at.is_(None), SignIn.expires_at > now)
        .order_by(SignIn.last_seen_at.desc(), SignIn.id.desc())
    ).all()


def revoke_sign_ins(session: Session, sign_in_keys: Collection[int], now: datetime) -> int:
    """End these sign-ins; returns how many were open."""
    open_ones = [
        row.id
        for row in session.scalars(select(SignIn).where(SignIn.id.in_(sign_in_keys)))
        if row.revoked_at is None and row.expires_at > now
    ]
    session.execute(update(SignIn).where(SignIn.id.in_(open_ones)).values(revoked_at=now))
    return len(open_ones)


def sign_ins_in_class(session: Session, class_key: int) -> list[int]:
    """Every sign-in of the students who are in a class now."""
    return list(
        session.scalars(
            select(SignIn.id)
            .join(Enrolment, Enrolment.person_id == SignIn.person_id)
            .where(
                Enrolment.class_id == class_key, Enrolment.dropped_at.is_(None), SignIn.revoked_at.is_(None)
            )
        )
    )


def set_code(
    session: Session, *, person_key: int, code_hash: str, made_by: int, expires_at: datetime
) -> None:
    """Give a person a one-time code in place of an earlier one."""
    session.merge(
        PassPhraseCode(person_id=person_key, code_hash=code_hash, made_by=made_by, expires_at=expires_at)
    )


def code_of(session: Session, person_key: int, now: datetime) -> PassPhraseCode | None:
    """A person's one-time code while it is good."""
    return session.scalar(
        select(PassPhraseCode).where(PassPhraseCode.person_id == person_key, PassPhraseCode.expires_at > now)
    )


def drop_code(session: Session, person_key: int) -> None:
    session.execute(delete(PassPhraseCode).where(PassPhraseCode.person_id == person_key))


def set_pass_phrase_hash(
    session: Session, person: Person, new_hash: str, now: datetime, *, keep: str = ""
) -> None:
    """Change the pass phrase. A wait after wrong tries ends, and so does every sign-in but that with the
    token hash `keep`."""
    person.pass_phrase_hash, person.failed_sign_ins, person.refused_until = new_hash, 0, None
    session.execute(
        update(SignIn)
        .where(SignIn.person_id == person.id, SignIn.revoked_at.is_(None), SignIn.token_hash != keep)
        .values(revoked_at=now)
    )


def add_setup_link(session: Session, *, token_hash: str, now: datetime, expires_at: datetime) -> None:
    """Make a link; the unused ones before it end now."""
    session.execute(
        update(SetupLink)
        .where(SetupLink.used_at.is_(None), SetupLink.expires_at > now)
        .values(expires_at=now)
    )
    session.add(SetupLink(token_hash=token_hash, created_at=now, expires_at=expires_at))


def valid_setup_link(session: Session, token_hash: str, now: datetime) -> SetupLink | None:
    return session.scalar(
        select(SetupLink).where(
            SetupLink.token_hash == token_hash, SetupLink.used_at.is_(None), SetupLink.expires_at > now
        )
    )
