"""Questions about people and their sign-ins."""

from datetime import datetime

from sqlalchemy import delete, exists, select, update
from sqlalchemy.orm import Session, joinedload

from app.store.choices import Role
from app.store.models import Person, SetupLink, SignIn, UnknownName


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


def known_person(session: Session, person_id: int) -> Person:
    """A person who is known to exist, as the row is now."""
    return session.get_one(Person, person_id)


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
    session: Session, *, person_id: int, token_hash: str, now: datetime, expires_at: datetime
) -> None:
    session.add(
        SignIn(
            person_id=person_id,
            token_hash=token_hash,
            created_at=now,
            last_seen_at=now,
            expires_at=expires_at,
        )
    )


def valid_sign_in(session: Session, token_hash: str, now: datetime) -> SignIn | None:
    """The sign-in with this token that is neither over nor revoked, with its person."""
    return session.scalar(
        select(SignIn)
        .where(SignIn.token_hash == token_hash, SignIn.revoked_at.is_(None), SignIn.expires_at > now)
        .options(joinedload(SignIn.person))
    )


def note_seen(session: Session, sign_in_key: int, now: datetime) -> None:
    session.execute(update(SignIn).where(SignIn.id == sign_in_key).values(last_seen_at=now))


def revoke_sign_in(session: Session, token_hash: str, now: datetime) -> None:
    session.execute(
        update(SignIn)
        .where(SignIn.token_hash == token_hash, SignIn.revoked_at.is_(None))
        .values(revoked_at=now)
    )


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
