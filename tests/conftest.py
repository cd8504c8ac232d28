"""What tests of the store, the services and the web share: one real database file for each test."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.store.db import Database
from tests.postgresql import Server, running_server


@pytest.fixture
def now() -> datetime:
    """A school morning."""
    return datetime(2030, 3, 4, 15, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def migrated_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty database at the newest migration, as one closed file; tests work on copies of it."""
    file = tmp_path_factory.mktemp("template") / "migrated.db"
    database = Database(f"sqlite:///{file}")
    database.upgrade()
    database.close()  # the last connection moves the log into the file
    return file


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    """A database server that the tests of one worker share; each test has a database of its own."""
    with running_server() as server:
        yield server


SQLITE, POSTGRESQL = "sqlite", "postgresql"


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """The store and the use cases keep their promises on both databases: their tests run on each, save those
    marked `only_sqlite`."""
    rooms = {"store", "services"}.intersection(metafunc.definition.path.parts)
    if rooms and "database" in metafunc.fixturenames:
        only_sqlite = metafunc.definition.get_closest_marker("only_sqlite")
        metafunc.parametrize("database", [SQLITE] if only_sqlite else [SQLITE, POSTGRESQL], indirect=True)


@pytest.fixture
def database(request: pytest.FixtureRequest) -> Iterator[Database]:
    """An empty database of the test's own at the newest migration."""
    if getattr(request, "param", SQLITE) == POSTGRESQL:
        with request.getfixturevalue("postgresql").new_database() as database:
            yield database
        return
    file = request.getfixturevalue("tmp_path") / "heavyspot.db"
    shutil.copy(request.getfixturevalue("migrated_template"), file)
    database = Database(f"sqlite:///{file}")
    yield database
    database.close()


@pytest.fixture
def queries() -> Callable[[], AbstractContextManager[list[str]]]:
    """`with queries() as asked:` collects the statements that reach the database."""

    @contextmanager
    def collect() -> Iterator[list[str]]:
        asked: list[str] = []

        def note(_: Any, __: Any, statement: str, *___: Any) -> None:
            asked.append(statement)

        event.listen(Engine, "before_cursor_execute", note)
        yield asked
        event.remove(Engine, "before_cursor_execute", note)

    return collect
