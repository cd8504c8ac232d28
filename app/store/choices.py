"""The words that a column allows. Text in the database, members everywhere else."""

from enum import StrEnum


class Role(StrEnum):
    INSTRUCTOR = "instructor"
    STUDENT = "student"


class AttemptState(StrEnum):
    OPEN = "open"
    HANDED_IN = "handed in"


class EventKind(StrEnum):
    """What an event of an attempt keeps."""

    ANSWER = "answer"
    ACTION = "action"
    HAND_IN = "hand in"


class MarkSource(StrEnum):
    MACHINE = "machine"
    INSTRUCTOR = "instructor"
