"""A student who only reads: one database for all tests of a file, since a calculator changes nothing."""

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.factory import create_app
from app.settings import Settings
from app.store.db import Database
from tests import factories
from tests.web.conftest import CheckedClient, Clock, signed_in


@pytest.fixture(scope="module")
def reader(library_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[CheckedClient]:
    """Signed in as a student of a class in US units."""
    folder = tmp_path_factory.mktemp("reader")
    shutil.copy(library_template, folder / "heavyspot.db")
    database = Database(f"sqlite:///{folder / 'heavyspot.db'}")
    settings = Settings(data_folder=folder, database_url=str(database.url), secret_key="k" * 40)
    app = create_app(settings, database=database, clock=Clock(datetime(2030, 3, 4, 15, 0, tzinfo=UTC)))
    app.test_client_class = CheckedClient
    teacher = factories.instructor(database)
    class_id = factories.school_class(database, instructor=teacher)
    yield signed_in(app, factories.student(database, class_id=class_id, instructor=teacher))
    database.close()
