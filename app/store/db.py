"""The database: how it is opened, read, written and brought up to date.

SQLite's traps are answered here, once:
- foreign keys are off until each connection turns them on;
- a transaction that reads first and writes later fails at once when another has written in between,
  whatever the time-out: a writing transaction therefore starts with BEGIN IMMEDIATE and waits its turn;
- with synchronous=NORMAL a power cut may lose the last saves: FULL, so that "saved" means saved;
- Python's sqlite3 module starts transactions by itself, and late: its isolation level is turned off.

PostgreSQL is made to keep the same promises: one writer at a time, and one unchanging picture for a reader.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Lock
from typing import Any

from sqlalchemy import Connection, create_engine, event, make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from app.store import migrating
from app.store.errors import BrokenReference, ReadOnly, Unavailable
from app.store.translation import BUSY, translated

BUSY_TIMEOUT_MS = 10_000
READ, WRITE, MIGRATE = "read", "write", "migrate"
WRITERS_LOCK = 0x5707  # any number, as long as nobody else locks it


class Database:
    """One database file or server. Threads may share it, but not what `read` and `write` yield."""

    def __init__(self, url: str) -> None:
        self.url = make_url(url)
        self._turn = Lock()
        self._engine = create_engine(self.url)
        self._reading = self._engine
        if self.is_sqlite:
            event.listen(self._engine, "connect", _prepare_sqlite)
        else:
            self._reading = self._engine.execution_options(
                isolation_level="REPEATABLE READ", postgresql_readonly=True
            )

    @property
    def is_sqlite(self) -> bool:
        return self.url.get_backend_name() == "sqlite"

    @property
    def file(self) -> Path | None:
        """The SQLite file, or None on a database server."""
        return Path(self.url.database) if self.is_sqlite and self.url.database else None

    @contextmanager
    def read(self) -> Iterator[Session]:
        """A session on one unchanging picture of the database. Raises ReadOnly when it is used to write."""
        with _translating(), Session(self._reading, autoflush=False) as session:
            self._begin(session.connection(), READ)
            yield session
            if session.new or session.deleted or any(session.is_modified(row) for row in session.dirty):
                raise ReadOnly("Rows were added, changed or deleted in a reading session; use write().")

    @contextmanager
    def write(self) -> Iterator[Session]:
        """A session that is committed at the end of the block, or rolled back as a whole.
        Nobody else writes while it lasts: do slow work before it."""
        with (
            _translating(),
            self._turn_to_write(),
            Session(self._engine, expire_on_commit=False) as session,
            session.begin(),
        ):
            self._begin(session.connection(), WRITE)
            yield session

    def _begin(self, connection: Connection, purpose: str) -> None:
        """Not a listener of the engine: with a single one every statement asks for all the others."""
        if self.is_sqlite:
            _begin_sqlite(connection, purpose)
        elif purpose != READ:
            connection.exec_driver_sql(f"SET LOCAL lock_timeout = {BUSY_TIMEOUT_MS}")
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({WRITERS_LOCK})")

    @contextmanager
    def _turn_to_write(self) -> Iterator[None]:
        """Threads of this program queue here: SQLite itself only tries again after ever longer naps, so that
        in a busy minute one unlucky student would wait for all the others."""
        if not self._turn.acquire(timeout=BUSY_TIMEOUT_MS / 1000):
            raise Unavailable(BUSY)
        try:
            yield
        finally:
            self._turn.release()

    @contextmanager
    def migration(self) -> Iterator[Connection]:
        """A connection on which tables may be changed: all of the block or nothing, with the foreign
        keys checked at the end. Raises BrokenReference."""
        with _translating(), self._engine.begin() as connection:
            self._begin(connection, MIGRATE)
            yield connection
            if self.is_sqlite and connection.exec_driver_sql("PRAGMA foreign_key_check").first():
                raise BrokenReference("The upgrade would leave rows that point to nothing; it was undone.")
        self.close()  # the connection that migrated has its foreign keys off

    def upgrade(self) -> None:
        """Bring the tables up to this release."""
        with self.migration() as connection:
            migrating.upgrade(connection)

    def is_current(self) -> bool:
        """Whether the tables are those of this release."""
        with _translating(), self._reading.connect() as connection:
            return migrating.revision_of(connection) == migrating.head()

    def raw_connection(self) -> Any:
        """A pooled DB-API connection; for the backup, which SQLAlchemy has no words for."""
        return self._engine.raw_connection()

    def close(self) -> None:
        """Close the idle connections. The database can still be used; it opens new ones."""
        self._engine.dispose()


@contextmanager
def _translating() -> Iterator[None]:
    try:
        yield
    except DBAPIError as error:
        raise translated(error) from error


def _prepare_sqlite(connection: Any, record: Any) -> None:  # noqa: ARG001
    connection.isolation_level = None
    for pragma in (
        f"busy_timeout = {BUSY_TIMEOUT_MS}",
        "journal_mode = WAL",
        "synchronous = FULL",
        "foreign_keys = ON",
    ):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection: Connection, purpose: str) -> None:
    driver: Any = connection.connection.driver_connection  # every page begins twice; these three can't fail
    driver.execute(f"PRAGMA query_only = {'ON' if purpose == READ else 'OFF'}")
    if purpose == MIGRATE:  # a table that is rebuilt is dropped for a moment while others point to it
        driver.execute("PRAGMA foreign_keys = OFF")
    if purpose == READ:
        driver.execute("BEGIN")
    else:
        connection.exec_driver_sql("BEGIN IMMEDIATE")
