"""The words that a column allows. Text in the database, members everywhere else."""

from enum import StrEnum


class Role(StrEnum):
    INSTRUCTOR = "instructor"
    STUDENT = "student"


class AttemptState(StrEnum):
    OPEN = "open"
    SUBMITTED = "submitted"


class MarkSource(StrEnum):
    MACHINE = "machine"
    INSTRUCTOR = "instructor"
