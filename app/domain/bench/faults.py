"""Faults of an authored bench that its shape alone doesn't show."""

from collections.abc import Iterable, Iterator

from app.domain.bench.state import Station
from app.domain.bench.wire import ACTIONS
from app.domain.faults import Fault
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, BenchTask

_NEEDS: dict[str, Station] = {
    "residual": Station.BALANCER,
    "force": Station.ROLLER,
    "comfort": Station.CAR,
    "tracking": Station.CAR,
    "torque": Station.CAR,
}
_COUNTS = ("pieces", "spins", "minutes")


def bench_faults(scenario: Scenario, tasks: Iterable[tuple[str, AnyTask]]) -> Iterator[Fault]:
    """tasks: each with its place in the file."""
    sheet = scenario.bench
    if sheet is not None:
        for name in sheet.minutes:
            if name not in ACTIONS:
                yield Fault(f"bench.minutes.{name}", f"is no action; there are {', '.join(ACTIONS)}")
    for place, task in tasks:
        if not isinstance(task, BenchTask):
            continue
        if sheet is None:
            yield Fault(f"{place}.kind", "a bench task needs a bench; add the table [bench]")
            continue
        needed = _NEEDS.get(task.judges)
        if needed is not None and needed not in sheet.stations:
            yield Fault(f"{place}.judges", f"{task.judges} needs the {needed}; add it to bench.stations")
        if task.judges in ("comfort", "tracking", "torque") and len(scenario.assemblies) != 4:
            yield Fault(f"{place}.judges", f"{task.judges} needs exactly four assemblies")
        if task.judges in _COUNTS and task.limit == 0:
            yield Fault(f"{place}.limit", "must be above 0")
