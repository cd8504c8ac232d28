"""What a use case answers when it can't be done.

NotFound        there is no such thing, or it is not this person's to see
NotAllowed      the person's role doesn't do this
Refused         an entry is wrong: names the field and says what to do
TooManyTries    too many wrong pass phrases for one sign-in name
UnreadableAnswers   answers were saved but can't be handed in yet
Unavailable     the database is busy or the disk is full: nothing was saved
"""

from collections.abc import Mapping
from datetime import datetime

from app.store.errors import Unavailable

# ruff: noqa: N818 the names say what happened, and read well where they are caught


class ServiceError(Exception):
    """Base of the errors a use case raises by itself."""


class NotFound(ServiceError):
    pass


class NotAllowed(ServiceError):
    pass


class Refused(ServiceError):
    """`field` is the argument that is wrong, `message` is for the person who typed it."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


class TooManyTries(ServiceError):
    """`until` is when another try is allowed, aware, in UTC."""

    def __init__(self, until: datetime) -> None:
        super().__init__(f"Too many wrong tries. Wait until {until:%H:%M:%S} UTC.")
        self.until = until


class UnreadableAnswers(ServiceError):
    """Answers were saved but can't be handed in; `problems` says by task what to mend."""

    def __init__(self, problems: Mapping[str, str]) -> None:
        super().__init__("Some answers can't be read yet.")
        self.problems = problems


__all__ = [
    "NotAllowed",
    "NotFound",
    "Refused",
    "ServiceError",
    "TooManyTries",
    "Unavailable",
    "UnreadableAnswers",
]
