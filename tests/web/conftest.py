"""A client that checks every page it gets, and people who are signed in through the real services."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask import Flask, before_render_template, template_rendered
from sqlalchemy import event
from sqlalchemy.engine import Engine

from app.factory import create_app
from app.services import accounts
from app.services.accounts import Person
from app.settings import Settings
from app.store.db import Database
from tests import factories
from tests.web.client import CheckedClient
from tests.web.whole_term import Stage, WholeTerm, a_whole_term

FRAME = {"g", "request", "session", "navigation", "assets", "signed_in_name", "signed_in_id"}
"""What the frame itself gives a template; all else has to be in `page`."""


@dataclass
class Clock:
    """The application's time, for a test to move."""

    time: datetime

    def __call__(self) -> datetime:
        return self.time

    def advance(self, **spans: float) -> None:
        self.time += timedelta(**spans)


@pytest.fixture
def clock(now: datetime) -> Clock:
    return Clock(now)


def join(folder: Path) -> Flask:
    """An application whose database is still to come."""
    database_url = f"sqlite:///{folder / 'none.db'}"
    app = create_app(Settings(data_folder=folder, database_url=database_url, secret_key="k" * 40))
    app.config["TESTING"] = True
    app.test_client_class = CheckedClient
    return app


@pytest.fixture(scope="session")
def joined_app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """What the tests of one worker share: to join 180 routes takes longer than most tests."""
    return join(tmp_path_factory.mktemp("joined"))


@pytest.fixture
def app(joined_app: Flask, database: Database, clock: Clock) -> Iterator[Flask]:
    """With the database and the clock of one test."""
    joined_app.extensions.update(database=database, clock=clock)
    with _templates_get_only_their_page(joined_app), _no_query_while_rendering(joined_app):
        yield joined_app


@pytest.fixture
def client(app: Flask) -> CheckedClient:
    """A visitor."""
    return _client(app)


@pytest.fixture
def teacher(database: Database) -> Person:
    return factories.instructor(database)


@pytest.fixture
def class_id(database: Database, teacher: Person) -> str:
    return factories.school_class(database, instructor=teacher)


@pytest.fixture
def pupil(database: Database, teacher: Person, class_id: str) -> Person:
    return factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")


@pytest.fixture
def teacher_client(app: Flask, teacher: Person) -> CheckedClient:
    """The instructor of `class_id`."""
    return signed_in(app, teacher)


@pytest.fixture
def stranger_client(app: Flask, database: Database) -> CheckedClient:
    """Another instructor, who teaches no class of this test."""
    return signed_in(app, factories.instructor(database))


@pytest.fixture
def pupil_client(app: Flask, pupil: Person) -> CheckedClient:
    """A student of `class_id`."""
    return signed_in(app, pupil)


def signed_in(app: Flask, person: Person) -> CheckedClient:
    """A client on which `person` is signed in, with a pass phrase set for the purpose."""
    database, now = app.extensions["database"], app.extensions["clock"]()
    phrase = accounts.reset_pass_phrase(database, sign_in_name=person.sign_in_name, now=now)
    signed = accounts.sign_in(database, sign_in_name=person.sign_in_name, pass_phrase=phrase, now=now)
    return _client(app).sign_in_as(signed.token)


@pytest.fixture(scope="session")
def whole_term(library_template: Path, tmp_path_factory: pytest.TempPathFactory) -> WholeTerm:
    return a_whole_term(library_template, tmp_path_factory.mktemp("term") / "term.db")


@pytest.fixture
def stage(app: Flask, database: Database, whole_term: WholeTerm) -> Stage:
    """Everybody of a term, signed in."""
    return Stage(app, database, whole_term)


@contextmanager
def _templates_get_only_their_page(app: Flask) -> Iterator[None]:
    def check(_: Flask, template: Any, context: dict[str, Any], **__: Any) -> None:
        assert set(context) <= FRAME | {"page"}, f"{template.name} gets more than its page: {sorted(context)}"

    with template_rendered.connected_to(check, app):
        yield


@contextmanager
def _no_query_while_rendering(app: Flask) -> Iterator[None]:
    rendering: list[str] = []

    def refuse(_: Any, __: Any, statement: str, *___: Any) -> None:
        assert not rendering, f"{rendering[-1]} asks the database while it is drawn: {statement}"

    def begin(_: Flask, template: Any, **__: Any) -> None:
        rendering.append(template.name)

    def end(_: Flask, **__: Any) -> None:
        rendering.pop()

    event.listen(Engine, "before_cursor_execute", refuse)
    with before_render_template.connected_to(begin, app), template_rendered.connected_to(end, app):
        yield
    event.remove(Engine, "before_cursor_execute", refuse)


def _client(app: Flask) -> CheckedClient:
    client = app.test_client()
    assert isinstance(client, CheckedClient)
    return client
