"""People and how they come in."""

from datetime import datetime

from sqlalchemy import ForeignKey, LargeBinary, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.store.choices import KeyKind, Role
from app.store.models.base import Base, Key, Name, PublicId, Sha256, Word, one_of


class Person(Base):
    __tablename__ = "person"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    role: Mapped[Role] = mapped_column(one_of(Role, "role"))
    display_name: Mapped[Name]
    sort_name: Mapped[Name]
    sign_in_name: Mapped[Word] = mapped_column(unique=True)
    pass_phrase_hash: Mapped[str] = mapped_column(String(255))
    failed_sign_ins: Mapped[int] = mapped_column(default=0)
    refused_until: Mapped[datetime | None]
    created_at: Mapped[datetime]


class SignIn(Base):
    """One device on which a person is signed in. The token itself is only ever in that device's cookie;
    `device` is the kind of device in a word."""

    __tablename__ = "sign_in"

    id: Mapped[Key]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    token_hash: Mapped[Sha256] = mapped_column(unique=True)
    device: Mapped[str | None] = mapped_column(String(60))
    created_at: Mapped[datetime]
    last_seen_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]

    person: Mapped[Person] = relationship()


class UnknownName(Base):
    """Wrong tries for a sign-in name that nobody has, counted as a person's are. The name itself isn't kept:
    it may be a pass phrase that was typed into the wrong field."""

    __tablename__ = "unknown_name"

    id: Mapped[Key]
    name_hash: Mapped[Sha256] = mapped_column(unique=True)
    failed_sign_ins: Mapped[int] = mapped_column(default=0)
    refused_until: Mapped[datetime | None] = mapped_column(index=True)


class SetupLink(Base):
    """The link that lets the first instructor in."""

    __tablename__ = "setup_link"

    id: Mapped[Key]
    token_hash: Mapped[Sha256] = mapped_column(unique=True)
    created_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    used_at: Mapped[datetime | None]


class PersonKey(Base):
    """What a school's own lists know a student by, so that the same list can be read again."""

    __tablename__ = "person_key"
    __table_args__ = (UniqueConstraint("kind", "value"), UniqueConstraint("person_id", "kind"))

    id: Mapped[Key]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"))
    kind: Mapped[KeyKind] = mapped_column(one_of(KeyKind, "kind"))
    value: Mapped[Name]

    person: Mapped[Person] = relationship()


class PassPhraseCode(Base):
    """A code that lets a student choose a new pass phrase, once and for a few minutes. Only its slow hash is
    kept; a newer code takes the place of the older."""

    __tablename__ = "pass_phrase_code"

    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), primary_key=True)
    code_hash: Mapped[str] = mapped_column(String(255))
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))
    expires_at: Mapped[datetime]


class ReceivedFile(Base):
    """A list that an instructor sent, to look at before it is taken; gone when it is taken, or soon after."""

    __tablename__ = "received_file"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    content: Mapped[bytes] = mapped_column(LargeBinary)
    received_at: Mapped[datetime]
