"""The school of the term: its instructor, two classes, and what they were given, as it comes about."""

import sqlite3
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cached_property
from typing import Any

from playwright.sync_api import Page

from app.services.accounts import Person
from app.services.cards import Card
from app.store.db import Database
from tests import factories
from tests.browser.school import new_instructor
from tests.browser.server import Server
from tests.browser.term.story import Pupil, pupils
from tests.browser.watch import Windows

LONGEST_EXPORT_MS = 60_000
"""A whole class's packet, while other tests have the processors."""


@dataclass
class Room:
    """One class. cards and persons: by the students' names. labs: the assignments' ids by their numbers."""

    title: str
    pupils: list[Pupil]
    class_id: str = ""
    cards: dict[str, Card] = field(default_factory=dict)
    persons: dict[str, Person] = field(default_factory=dict)
    labs: dict[int, str] = field(default_factory=dict)

    def of_kind(self, kind: str) -> list[Pupil]:
        return [each for each in self.pupils if each.kind == kind]

    def student_id(self, pupil: Pupil) -> str:
        return self.persons[pupil.name].public_id


class School:
    """desk: the instructor's window. now: the minute at which the term is looked at."""

    def __init__(self, server: Server, windows: Windows) -> None:
        self.server, self.windows = server, windows
        self.now = datetime.now(UTC).replace(second=0, microsecond=0)
        self.instructor, self.card = new_instructor(server.database)
        self.desk = windows.open(self.card)
        self.by_list, self.by_roster = self.rooms = (
            Room("Auto 2, period 3", pupils(0)),
            Room("Auto 2, period 5", pupils(1)),
        )

    @property
    def database(self) -> Database:
        return self.server.database

    def at(self, days: float) -> datetime:
        return self.now + timedelta(days=days)

    def by(self, now: datetime | None = None) -> dict[str, Any]:
        """The entries that every service for an instructor takes."""
        return {"database": self.database, "instructor": self.instructor, "now": now or self.now}

    def window_of(self, room: Room, pupil: Pupil) -> Page:
        return self.windows.open(room.cards[pupil.name])

    def file(self, address: str) -> bytes:
        """What the instructor's browser gets at this address."""
        answer = self.desk.context.request.get(address, timeout=LONGEST_EXPORT_MS)
        assert answer.status == 200, f"{answer.status} at {address}"
        return answer.body()

    @cached_property
    def rows(self) -> sqlite3.Connection:
        """The server's own database file, by plain SQL and none of the app's code."""
        connection = sqlite3.connect(f"file:{self.server.program.database_file}?mode=ro", uri=True)
        connection.row_factory = sqlite3.Row
        return connection

    def ask(self, question: str, **values: Any) -> list[sqlite3.Row]:
        return self.rows.execute(question, values).fetchall()


def meet(school: School, room: Room, cards: dict[str, Card]) -> None:
    """Note who the students of a class are, by their cards."""
    room.cards = cards
    room.persons = {
        name: factories.person_named(school.database, card.sign_in_name) for name, card in cards.items()
    }
