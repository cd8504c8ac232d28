"""What tests of the store, the services and the web share: one real database file for each test."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from argon2 import PasswordHasher
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.services import hashing, scenarios
from app.settings import SCENARIOS
from app.store.db import Database
from tests import factories
from tests.postgresql import TEMPLATE, Server, running_server


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
def quick_hashes() -> Iterator[None]:
    """A pass phrase costs next to nothing: the real cost is a fifth of a test with three people in it. The
    tests of accounts, and every test of a running server, pay it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(hashing, "HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
        yield


@pytest.fixture(scope="session")
def library_template(
    migrated_template: Path,
    tmp_path_factory: pytest.TempPathFactory,
    quick_hashes: None,  # noqa: ARG001
) -> Path:
    """With the shipped scenarios, as a server starts: to check them takes seconds, and once is enough."""
    file = tmp_path_factory.mktemp("library") / "migrated.db"
    shutil.copy(migrated_template, file)
    database = Database(f"sqlite:///{file}")
    load_library(database)
    database.close()
    return file


def load_library(database: Database) -> None:
    scenarios.load_shipped(database, folder=SCENARIOS, now=factories.MADE_AT)


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    """A database server that the tests of one worker share; each test has a database of its own."""
    with running_server() as server:
        yield server


@pytest.fixture(scope="session")
def postgresql_library(postgresql: Server, quick_hashes: None) -> str:  # noqa: ARG001
    """The name of the server's template with the shipped scenarios."""
    postgresql.make_template("library", fill=load_library)
    return "library"


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
    """A database of the test's own at the newest migration: with the shipped scenarios for the use cases and
    the web, else empty."""
    with_library = not {"services", "web"}.isdisjoint(request.path.parts)
    if getattr(request, "param", SQLITE) == POSTGRESQL:
        server = request.getfixturevalue("postgresql")
        template = request.getfixturevalue("postgresql_library") if with_library else TEMPLATE
        with server.new_database(template) as database:
            yield database
        return
    file = request.getfixturevalue("tmp_path") / "heavyspot.db"
    template = "library_template" if with_library else "migrated_template"
    shutil.copy(request.getfixturevalue(template), file)
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
