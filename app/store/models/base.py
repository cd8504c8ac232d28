"""What all tables share: constraint names, kinds of column, and rows that never change."""

import secrets
from datetime import UTC, datetime
from enum import StrEnum
from typing import Annotated, Any

from sqlalchemy import JSON, DateTime, Dialect, Enum, MetaData, String, event
from sqlalchemy.orm import DeclarativeBase, mapped_column, object_session
from sqlalchemy.types import TypeDecorator

from app.store.errors import Immutable

BASE32 = "abcdefghijklmnopqrstuvwxyz234567"
PUBLIC_ID_LENGTH = 20  # 20 characters of 32: 100 random bits

CONSTRAINT_NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class UtcDateTime(TypeDecorator[datetime]):
    """An aware datetime, kept in UTC. SQLite forgets the zone, so a naive one could be any hour."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value!r} has no time zone; the store keeps aware datetimes only")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        return None if value is None else value.astimezone(UTC)

    def result_processor(self, dialect: Dialect, coltype: object) -> Any:
        """SQLite's text is read in one step, zone and all: a gradebook reads ten thousand of them."""
        return _from_text if dialect.name == "sqlite" else super().result_processor(dialect, coltype)


def _from_text(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text + "+00:00")


class Base(DeclarativeBase):
    metadata = MetaData(naming_convention=CONSTRAINT_NAMES)
    type_annotation_map = {datetime: UtcDateTime, dict[str, Any]: JSON}  # noqa: RUF012


def new_public_id() -> str:
    return "".join(secrets.choice(BASE32) for _ in range(PUBLIC_ID_LENGTH))


def one_of(choices: type[StrEnum], name: str) -> Enum:
    """A text column with a named check for its members' values."""
    return Enum(
        choices,
        name=name,
        native_enum=False,
        create_constraint=True,
        values_callable=lambda members: [member.value for member in members],
    )


Key = Annotated[int, mapped_column(primary_key=True)]
PublicId = Annotated[str, mapped_column(String(PUBLIC_ID_LENGTH), unique=True, default=new_public_id)]
Sha256 = Annotated[str, mapped_column(String(64))]
Name = Annotated[str, mapped_column(String(120))]
Word = Annotated[str, mapped_column(String(60))]


class Frozen:
    """A row that is written once. Triggers in the database refuse what slips past the session."""


@event.listens_for(Frozen, "before_update", propagate=True)
def _refuse_update(mapper: Any, connection: Any, row: Any) -> None:  # noqa: ARG001
    session = object_session(row)
    if session is not None and session.is_modified(row):
        raise Immutable(f"a row of {row.__tablename__} can't be changed")


@event.listens_for(Frozen, "before_delete", propagate=True)
def _refuse_delete(mapper: Any, connection: Any, row: Any) -> None:  # noqa: ARG001
    raise Immutable(f"a row of {row.__tablename__} can't be deleted")
