"""One line of the table: what was measured, against a limit measured or stated in the same run."""

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """`measured` and `limit` are in `unit`; "times" is a ratio of two times of the same run."""

    what: str
    measured: float
    limit: float
    unit: str
    note: str = ""

    @property
    def holds(self) -> bool:
        return self.measured <= self.limit


def medians(acts: dict[str, Callable[[], object]], *, rounds: int, warm_up: int = 5) -> dict[str, float]:
    """Median seconds of each act. They take turns, so that what slows the machine slows them all alike."""
    seconds: dict[str, list[float]] = {name: [] for name in acts}
    for number in range(warm_up + rounds):
        for name, act in acts.items():
            started = time.perf_counter()
            act()
            if number >= warm_up:
                seconds[name].append(time.perf_counter() - started)
    return {name: statistics.median(each) for name, each in seconds.items()}
