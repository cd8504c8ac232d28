"""What the measurements stand on: a real server with a class, and a bare Flask application beside it.

Both answer through the same waitress, in a process of its own, so their times differ by the application
alone.
"""

import gzip
import json
import multiprocessing
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import waitress
from flask import Flask, jsonify, render_template_string, request
from werkzeug.middleware.dispatcher import DispatcherMiddleware

from app.commands.serving import lasting_app
from app.services import assignments, cards, scenarios
from app.services.accounts import Person
from app.services.cards import Card
from app.settings import SCENARIOS, Settings
from app.store.db import Database
from tests import factories
from tests.web import checks

TABLE = "CREATE TABLE note (id INTEGER PRIMARY KEY, name TEXT UNIQUE, text TEXT)"
PAGE = "<!doctype html><html lang=en><title>{{ name }}</title><p>{{ text }}"


def bare_application(file: Path) -> Flask:
    """One indexed SELECT with a trivial template; one durable INSERT."""
    app = Flask("bare")
    local = threading.local()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute(TABLE)
        connection.executemany(
            "INSERT INTO note (name, text) VALUES (?, 'x')", [(f"n{i}",) for i in range(500)]
        )

    def opened() -> sqlite3.Connection:
        if not hasattr(local, "connection"):
            local.connection = sqlite3.connect(file, isolation_level=None, timeout=10)
            local.connection.execute("PRAGMA synchronous=FULL")
        connection: sqlite3.Connection = local.connection
        return connection

    @app.get("/page")
    def page() -> str:
        name, text = opened().execute("SELECT name, text FROM note WHERE name = 'n250'").fetchone()
        return render_template_string(PAGE, name=name, text=text)

    @app.post("/save")
    def save() -> Any:
        opened().execute("INSERT INTO note (text) VALUES (?)", (json.dumps(request.get_json()),))
        return jsonify(saved=True)

    return app


@dataclass(frozen=True)
class School:
    """A folder with a database, one instructor with a class of students, and the library."""

    settings: Settings
    database: Database
    instructor: Person
    instructor_phrase: str
    class_id: str
    students: tuple[Card, ...]

    def assign(self, slug: str, *, title: str = "", attempts_allowed: int | None = None) -> str:
        now = datetime.now(UTC)
        scenario_id = next(card.public_id for card in scenarios.library(self.database) if card.slug == slug)
        return assignments.assign(
            self.database,
            class_id=self.class_id,
            instructor=self.instructor,
            scenario_id=scenario_id,
            title=title or slug,
            opens_at=now - timedelta(days=1),
            due_at=now + timedelta(days=1),
            attempts_allowed=attempts_allowed,
            now=now,
        )


def make_school(folder: Path, *, students: int = 3) -> School:
    settings = Settings.from_environment({"HEAVYSPOT_DATA": str(folder)})
    database = Database(settings.database_url)
    database.upgrade()
    now = datetime.now(UTC)
    scenarios.load_shipped(database, folder=SCENARIOS, now=now)
    instructor, phrase = factories.instructor_and_phrase(database, now=now)
    class_id = factories.school_class(database, instructor=instructor, now=now)
    names = [f"Student Number {number}" for number in range(students)]
    made = cards.add_students(database, class_id=class_id, instructor=instructor, names=names, now=now)
    return School(settings, database, instructor, phrase, class_id, tuple(made))


@contextmanager
def served(school: School) -> Iterator["Address"]:
    """The school's application at `/`, the bare one below `/bare`."""
    ours, theirs = multiprocessing.Pipe()
    process = multiprocessing.get_context("spawn").Process(
        target=_serve, args=(school.settings, theirs), daemon=True
    )
    process.start()
    try:
        yield Address(ours.recv())
    finally:
        process.terminate()
        process.join()


def _serve(settings: Settings, told: Connection) -> None:
    bare = bare_application(settings.data_folder / "bare.db")
    both = DispatcherMiddleware(lasting_app(settings), {"/bare": bare})
    server = waitress.create_server(
        both, host="127.0.0.1", port=0, threads=8, connection_limit=400, channel_timeout=3600
    )
    told.send(server.effective_port)
    server.run()


@dataclass(frozen=True)
class Address:
    port: int

    def visitor(self) -> "Visitor":
        return Visitor(HTTPConnection("127.0.0.1", self.port, timeout=60))


class Visitor:
    """A browser's connection, kept open, with its cookie and the last page's token."""

    def __init__(self, connection: HTTPConnection) -> None:
        self._connection = connection
        self._cookie = ""
        self.csrf_token = ""
        self.received = 0
        """Bytes of the last answer's body as it came over the wire."""

    def get(self, path: str) -> str:
        """The body of a page. Raises AssertionError unless it came whole."""
        status, text, _ = self._ask("GET", path, None, {})
        assert status == 200, (path, status)
        return text

    def open(self, path: str) -> str:
        """As `get`, and keeps the page's token for what is sent next."""
        text = self.get(path)
        self.csrf_token = checks.csrf_token(checks.check_page(text)) or self.csrf_token
        return text

    def send(self, path: str, **entries: str) -> str:
        """A form; returns where it leads. Raises AssertionError when it was refused."""
        body = urlencode({"csrf_token": self.csrf_token, **entries})
        kind = {"Content-Type": "application/x-www-form-urlencoded"}
        status, text, place = self._ask("POST", path, body, kind)
        assert status == 303, (path, status, text[:2000])
        return place

    def save(self, path: str, entry: dict[str, Any]) -> None:
        headers = {
            "Content-Type": "application/json",
            "Accept": "application/json",
            "X-CSRF-Token": self.csrf_token,
        }
        status, text, _ = self._ask("POST", path, json.dumps(entry), headers)
        assert status == 200, (path, status, text)

    def sign_in(self, name: str, phrase: str) -> None:
        self.open("/sign-in")
        self.send("/sign-in", sign_in_name=name, pass_phrase=phrase)

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> tuple[int, str, str]:
        own = {"Cookie": self._cookie, "Accept-Encoding": "gzip"}
        self._connection.request(method, path, body, {**own, **headers})
        answer = self._connection.getresponse()
        sent = answer.read()
        self.received = len(sent)
        text = (gzip.decompress(sent) if answer.headers.get("Content-Encoding") else sent).decode()
        cookie = answer.headers.get("Set-Cookie", "").partition(";")[0]
        if cookie.startswith("heavyspot="):
            self._cookie = cookie
        return answer.status, text, answer.headers.get("Location", "")
