"""What stands in the server's database, read by plain SQL past the app."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class AttemptRecord:
    """saves: task and answer of each saved answer, in order; marks: how many standing ones each task has."""

    event_numbers: list[int]
    saves: list[tuple[str, str]]
    hand_ins: int
    state: str
    points: float | None
    marks: dict[str, int]
    marked_points: float


@contextmanager
def opened(file: Path) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(file)
    try:
        yield connection
    finally:
        connection.close()


def faults(file: Path) -> list[str]:
    """What SQLite itself finds wrong; nothing in a whole database."""
    with opened(file) as connection:
        checked = [str(row[0]) for row in connection.execute("PRAGMA integrity_check")]
        broken = [str(row) for row in connection.execute("PRAGMA foreign_key_check")]
    return [each for each in checked if each != "ok"] + broken


def attempt(file: Path, public_id: str) -> AttemptRecord:
    with opened(file) as connection:
        row_id, state, points = connection.execute(
            "SELECT id, state, points FROM attempt WHERE public_id = ?", [public_id]
        ).fetchone()
        events = connection.execute(
            "SELECT number, kind, body FROM event WHERE attempt_id = ? ORDER BY id", [row_id]
        ).fetchall()
        marks = connection.execute(
            "SELECT task_id, count(*), sum(points) FROM mark"
            " WHERE attempt_id = ? AND superseded_at IS NULL GROUP BY task_id",
            [row_id],
        ).fetchall()
    bodies = [json.loads(body) for _, kind, body in events if kind == "answer"]
    return AttemptRecord(
        event_numbers=[number for number, _, _ in events],
        saves=[(body["task"], body["answer"]) for body in bodies],
        hand_ins=sum(kind == "hand in" for _, kind, _ in events),
        state=state,
        points=points,
        marks={task: number for task, number, _ in marks},
        marked_points=sum(points for _, _, points in marks),
    )


def reflection(file: Path, sign_in_name: str) -> str | None:
    with opened(file) as connection:
        row = connection.execute(
            "SELECT text FROM reflection JOIN person ON person.id = person_id WHERE sign_in_name = ?",
            [sign_in_name],
        ).fetchone()
    return str(row[0]) if row else None


def attempts(file: Path) -> int:
    """How many there are, of anyone."""
    with opened(file) as connection:
        return int(connection.execute("SELECT count(*) FROM attempt").fetchone()[0])


def hand_ins(file: Path) -> int:
    """How many events say that a lab was handed in."""
    with opened(file) as connection:
        return int(connection.execute("SELECT count(*) FROM event WHERE kind = 'hand in'").fetchone()[0])


def saves(file: Path) -> set[tuple[str, str]]:
    """Task and answer of every saved answer that is one text, of anyone."""
    with opened(file) as connection:
        bodies = [
            json.loads(row[0]) for row in connection.execute("SELECT body FROM event WHERE kind = 'answer'")
        ]
    return {(body["task"], body["answer"]) for body in bodies if isinstance(body["answer"], str)}
