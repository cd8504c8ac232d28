"""Every row that belongs to one student, found by the tables' own references.

A row that can't be without the student, or without another row of theirs, is the student's: nothing has to be
listed here, and a new table is covered on the day it is made. Where the reference may be empty (who made a
mark, who is in the audit) the row is somebody else's and only names the student.
"""

from collections.abc import Collection, Mapping
from datetime import date, datetime
from enum import Enum
from typing import Any, cast

from sqlalchemy import ColumnElement, ForeignKey, Table, and_, or_, select
from sqlalchemy.orm import Session

from app.store.choices import AttemptState
from app.store.models import Assignment, Attempt, Audit, Base, Person, SchoolClass

SECRETS = frozenset({"pass_phrase_hash", "token_hash", "code_hash"})
"""Columns that a record leaves out: they say nothing about the student and would help a thief."""

PERSON = cast(Table, Person.__table__)
CLASS = cast(Table, SchoolClass.__table__)
AUDIT = cast(Table, Audit.__table__)


def belonging_to(
    person_key: int, *, class_keys: Collection[int] | None = None
) -> Mapping[Table, ColumnElement[bool]]:
    """For each table that can hold rows of the student, parents first: which rows. class_keys: only what was
    done in these classes, where a row is of a class at all; None for everything."""
    found: dict[Table, ColumnElement[bool]] = {PERSON: PERSON.c.id == person_key}
    for table in Base.metadata.sorted_tables:
        owners = [each for each in _required(table) if each.column.table in found]
        if owners and table is not PERSON:
            found[table] = or_(*(_points_into(each, found[each.column.table]) for each in owners))
    if class_keys is None:
        return found
    inside = _inside(class_keys)
    return {table: and_(rows, inside[table]) if table in inside else rows for table, rows in found.items()}


def _inside(class_keys: Collection[int]) -> dict[Table, ColumnElement[bool]]:
    """For each table whose rows are of a class, directly or through others: those of these classes."""
    inside: dict[Table, ColumnElement[bool]] = {CLASS: CLASS.c.id.in_(class_keys)}
    for table in Base.metadata.sorted_tables:
        limits = [each for each in _required(table) if each.column.table in inside]
        if limits and table is not CLASS:
            inside[table] = and_(*(_points_into(each, inside[each.column.table]) for each in limits))
    return inside


def _required(table: Table) -> list[ForeignKey]:
    return [
        each
        for each in sorted(table.foreign_keys, key=lambda key: key.parent.name)
        if not each.parent.nullable and each.column.table is not table
    ]


def _points_into(reference: ForeignKey, rows: ColumnElement[bool]) -> ColumnElement[bool]:
    return reference.parent.in_(select(reference.column).where(rows))


def rows_by_table(
    session: Session, person_key: int, *, class_keys: Collection[int]
) -> dict[str, list[dict[str, Any]]]:
    """Everything held about a student in these classes, by table, as plain values without secrets; what the
    student did by the audit is among it. Tables without a row are left out."""
    wanted = {**belonging_to(person_key, class_keys=class_keys), AUDIT: AUDIT.c.person_id == person_key}
    by_table = {}
    for table, rows in wanted.items():
        columns = [column for column in table.columns if column.name not in SECRETS]
        found = session.execute(select(*columns).where(rows).order_by(*table.primary_key.columns)).mappings()
        plain = [{name: _plain(value) for name, value in row.items()} for row in found]
        if plain:
            by_table[table.name] = plain
    return by_table


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, datetime | date):
        return value.isoformat()
    return value.hex() if isinstance(value, bytes) else value


def labs_of(session: Session, person_key: int, class_keys: Collection[int]) -> list[dict[str, Any]]:
    """A student's attempts in these classes with the names of class and assignment, in the order started."""
    rows = session.execute(
        select(
            SchoolClass.name.label("class_name"),
            Assignment.title,
            Attempt.number,
            Attempt.state,
            Attempt.started_at,
            Attempt.handed_in_at,
            Attempt.points,
            Attempt.out_of,
        )
        .join(Assignment, Assignment.id == Attempt.assignment_id)
        .join(SchoolClass, SchoolClass.id == Assignment.class_id)
        .where(Attempt.person_id == person_key, SchoolClass.id.in_(class_keys))
        .order_by(Attempt.started_at, Attempt.id)
    ).mappings()
    return [dict(row) | {"handed_in": row["state"] is AttemptState.HANDED_IN} for row in rows]
