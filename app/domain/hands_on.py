"""What a hands-on check says: how far a student does a thing at the machine."""

from enum import StrEnum


class Level(StrEnum):
    """Where a student stands at a skill. UNDONE takes an entry back: the history keeps both."""

    SEEN = "seen"
    WITH_HELP = "with help"
    ALONE = "alone"
    UNDONE = "undone"


LEVELS = (Level.SEEN, Level.WITH_HELP, Level.ALONE)
"""That an instructor gives, from the least."""
