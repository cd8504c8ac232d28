"""Where people are signed in, and ending it."""

from dataclasses import dataclass
from datetime import datetime

from app.services import hashing
from app.services.accounts import Person
from app.services.errors import NotFound
from app.services.reach import note, own_class
from app.store import people
from app.store.db import Database


@dataclass(frozen=True)
class Device:
    """One signed-in device. number: to name it when it is ended; this_one: the one that asks."""

    number: int
    kind: str
    since: datetime
    last_seen: datetime
    this_one: bool


def devices_of(database: Database, *, person: Person, token: str, now: datetime) -> tuple[Device, ...]:
    """One's own signed-in devices, the last seen first."""
    own = hashing.token_hash(token)
    with database.read() as session:
        return tuple(
            Device(row.id, row.device or "unknown", row.created_at, row.last_seen_at, row.token_hash == own)
            for row in people.sign_ins_of(session, person.id, now)
        )


def end_device(database: Database, *, person: Person, number: int, now: datetime) -> None:
    """Sign one of one's own devices out. Raises NotFound for another's and for one that is out already."""
    with database.write() as session:
        own = {row.id for row in people.sign_ins_of(session, person.id, now)}
        if number not in own:
            raise NotFound("This device is not signed in any more.")
        people.revoke_sign_ins(session, [number], now)


def sign_out_class(database: Database, *, class_id: str, instructor: Person, now: datetime) -> int:
    """Sign every student of the class out, on all devices; returns how many devices that were. What they had
    saved is safe. Raises NotFound."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        ended = people.revoke_sign_ins(session, people.sign_ins_in_class(session, row.id), now)
        note(session, now, instructor, "sign out class", row, devices=ended)
        return ended
