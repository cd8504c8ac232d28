"""One step of a worked solution."""

from dataclasses import dataclass


@dataclass(frozen=True)
class SolutionStep:
    """what: the quantity that it gives; in_words: how; put_in: the same with own numbers; result: shown."""

    what: str
    in_words: str
    put_in: str
    result: str
