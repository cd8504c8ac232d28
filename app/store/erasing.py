"""Taking one student's rows out of the database, and their bytes out of its file.

Rows that are written once are guarded by triggers. The erasure is the one exception: in a single transaction
it sets the guards aside, deletes, and puts them back as they were; whatever goes wrong in between undoes all
of it. SQLite leaves deleted text in free pages and in its log, so afterwards the file is written anew.
"""

import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing, contextmanager
from typing import Any

from sqlalchemy import JSON, String, Text, cast, delete, func, or_, select, text, update
from sqlalchemy.orm import Session

from app.store.db import Database
from app.store.models import Base
from app.store.person_rows import AUDIT, belonging_to

ERASED = "erased"
GUARDS = "%\\_refuses\\_%"
"""How the triggers of rows that are written once are named, as a LIKE pattern."""


def erase(session: Session, person_key: int, *, names: Collection[str]) -> dict[str, int]:
    """Delete every row of a student and take `names` out of the audit; returns how many rows of each table
    were deleted or changed. The session must be a writing one."""
    mine = belonging_to(person_key)
    counts: dict[str, int] = {}
    with _guards_aside(session):
        for table in Base.metadata.sorted_tables:
            for reference in table.foreign_keys:
                owner = reference.column.table
                if owner in mine and reference.parent.nullable:
                    pointing = reference.parent.in_(select(reference.column).where(mine[owner]))
                    changed = session.execute(
                        update(table).where(pointing).values({reference.parent.name: None})
                    )
                    _add(counts, f"{table.name}, name taken out", changed)
        for table in reversed(Base.metadata.sorted_tables):
            if table in mine:
                _add(counts, table.name, session.execute(delete(table).where(mine[table])))
        mentioned = _forget_in_audit(session, set(names))
        if mentioned:
            counts["audit, name taken out"] = counts.get("audit, name taken out", 0) + mentioned
    return counts


def _add(counts: dict[str, int], name: str, result: Any) -> None:
    if result.rowcount:
        counts[name] = counts.get(name, 0) + result.rowcount


def _forget_in_audit(session: Session, names: set[str]) -> int:
    """Put a word in the place of the names in what is noted of instructors' acts; returns in how many."""
    changed = 0
    for row in session.execute(select(AUDIT.c.id, AUDIT.c.subject, AUDIT.c.detail)).all():
        detail, subject = _without(row.detail, names), _without_id(row.subject, names)
        if (detail, subject) != (row.detail, row.subject):
            session.execute(update(AUDIT).where(AUDIT.c.id == row.id).values(detail=detail, subject=subject))
            changed += 1
    return changed


def _without(value: Any, names: set[str]) -> Any:
    if isinstance(value, dict):
        return {key: _without(each, names) for key, each in value.items()}
    if isinstance(value, list):
        return [_without(each, names) for each in value]
    return ERASED if isinstance(value, str) and value in names else value


def _without_id(subject: str, names: set[str]) -> str:
    kind, colon, name = subject.partition(":")
    return f"{kind}{colon}{ERASED}" if name in names else subject


def mentions(session: Session, name: str) -> dict[str, int]:
    """Where a name still stands in texts that others wrote: how many rows, by table."""
    found = {}
    for table in Base.metadata.sorted_tables:
        texts = [column for column in table.columns if isinstance(column.type, String | Text | JSON)]
        if texts:
            count = session.scalar(
                select(func.count())
                .select_from(table)
                .where(or_(*(cast(each, Text).contains(name, autoescape=True) for each in texts)))
            )
            if count:
                found[table.name] = count
    return found


@contextmanager
def _guards_aside(session: Session) -> Iterator[None]:
    """Without the triggers of frozen tables until the end of the block. An error leaves them aside for the
    rollback to bring back."""
    if session.get_bind().dialect.name == "sqlite":
        guards = session.execute(
            text(
                "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name LIKE :guards ESCAPE '\\'"
            ),
            {"guards": GUARDS},
        ).all()
        for name, _ in guards:
            session.execute(text(f'DROP TRIGGER "{name}"'))
        yield
        for _, made_by in guards:
            session.connection().exec_driver_sql(made_by)
        return
    guards = session.execute(
        text(
            "SELECT c.relname, t.tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
            "WHERE t.tgname LIKE :guards AND NOT t.tgisinternal ORDER BY 1, 2"
        ),
        {"guards": GUARDS},
    ).all()
    for table, name in guards:
        session.execute(text(f'ALTER TABLE "{table}" DISABLE TRIGGER "{name}"'))
    yield
    session.flush()
    for table, name in guards:
        session.execute(text(f'ALTER TABLE "{table}" ENABLE TRIGGER "{name}"'))


def write_file_anew(database: Database) -> bool:
    """Rebuild the SQLite file so that no byte of a deleted row is left in it or in its log. False when others
    kept it too busy, and on a database server, whose own upkeep does this."""
    if not database.is_sqlite:
        return False
    with closing(database.raw_connection()) as pooled:
        connection = pooled.driver_connection
        connection.execute("PRAGMA query_only = OFF")
        try:
            connection.execute("VACUUM")
            busy, _, _ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        except sqlite3.OperationalError:
            return False
    return bool(busy == 0)
