"""What tests of several use cases share: an instructor and a class of theirs."""

import pytest

from app.services.accounts import Person
from app.store.db import Database
from tests import factories


@pytest.fixture
def teacher(database: Database) -> Person:
    return factories.instructor(database)


@pytest.fixture
def class_id(database: Database, teacher: Person) -> str:
    return factories.school_class(database, instructor=teacher)
