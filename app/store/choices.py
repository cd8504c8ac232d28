"""The words that a column allows. Text in the database, members everywhere else."""

from enum import StrEnum


class Role(StrEnum):
    INSTRUCTOR = "instructor"
    STUDENT = "student"


class KeyKind(StrEnum):
    """Which of a school's keys of a student a value is."""

    STUDENT_NUMBER = "student number"
    ROSTER_ID = "roster id"


class AttemptState(StrEnum):
    OPEN = "open"
    HANDED_IN = "handed in"


class EventKind(StrEnum):
    """What an event of an attempt keeps."""

    ANSWER = "answer"
    ACTION = "action"
    HAND_IN = "hand in"
    HINT = "hint"


class MarkSource(StrEnum):
    MACHINE = "machine"
    INSTRUCTOR = "instructor"


class ReflectionState(StrEnum):
    """Whose a reflection sheet is: the student's while it is written, else the instructor's or nobody's."""

    WRITING = "writing"
    HANDED_IN = "handed in"
    RETURNED = "returned"
    ASKED_AGAIN = "asked again"
