"""A list that an instructor has sent waits on the server while its preview is looked at.

It holds names, so it stays an hour at the most, and one for each instructor.
"""

from datetime import datetime, timedelta

from app.services.accounts import Person
from app.services.errors import NotAllowed, NotFound
from app.store import rosters
from app.store.choices import Role
from app.store.db import Database

KEPT_FOR = timedelta(hours=1)


def keep(database: Database, *, instructor: Person, content: bytes, now: datetime) -> str:
    """Returns the id under which the preview finds it. Raises NotAllowed for a student."""
    if instructor.role is not Role.INSTRUCTOR:
        raise NotAllowed("Only an instructor sends class lists.")
    with database.write() as session:
        rosters.forget_files(session, before=now - KEPT_FOR)
        return rosters.keep_file(session, person_key=instructor.id, content=content, now=now)


def content_of(database: Database, *, file_id: str, instructor: Person, now: datetime) -> bytes:
    """Raises NotFound for another's, and for one that was taken or is too old."""
    with database.read() as session:
        row = rosters.kept_file(session, file_id, instructor.id, not_before=now - KEPT_FOR)
        if row is None:
            raise NotFound("This list is no longer here. Send it again.")
        return row.content
