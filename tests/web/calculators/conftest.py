"""A student who only reads: one database for all tests of a file, since a calculator changes nothing."""

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask

from app.store.db import Database
from tests import factories
from tests.web.conftest import CheckedClient, Clock, signed_in


@pytest.fixture(scope="module")
def reader(
    joined_app: Flask, library_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[CheckedClient]:
    """Signed in as a student of a class in US units."""
    folder = tmp_path_factory.mktemp("reader")
    shutil.copy(library_template, folder / "heavyspot.db")
    database = Database(f"sqlite:///{folder / 'heavyspot.db'}")
    clock = Clock(datetime(2030, 3, 4, 15, 0, tzinfo=UTC))
    joined_app.extensions.update(database=database, clock=clock)
    teacher = factories.instructor(database)
    class_id = factories.school_class(database, instructor=teacher)
    yield signed_in(joined_app, factories.student(database, class_id=class_id, instructor=teacher))
    database.close()
