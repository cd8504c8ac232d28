"""Small steps that every handler of actions takes: changing a state, recording a rule, stopping work."""

from dataclasses import replace
from typing import Any

from app.domain.bench.observation import Observation
from app.domain.bench.state import CORNERS, AssemblyState, Beads, BenchState, BrokenRule, Station
from app.domain.scenario import Caution

Outcome = tuple[BenchState, Observation]
"""What the handler of an action returns: the state after it, and what is seen. One that can't be done, or is
unsafe, raises Stopped."""


class Stopped(Exception):  # noqa: N818 -- says what is so
    """Work that isn't done: the reason and what to do, and the caution that applies where it was unsafe."""

    def __init__(self, text: str, caution: Caution | None = None) -> None:
        super().__init__(text)
        self.text = text
        self.caution = caution


def changed(state: BenchState, assembly: AssemblyState, **changes: Any) -> BenchState:
    """The state with these changes to one assembly."""
    new = replace(assembly, **changes)
    return replace(state, assemblies=tuple(new if each.id == new.id else each for each in state.assemblies))


def with_rule(state: BenchState, rule: str, letter: str) -> BenchState:
    """The state with a rule broken by the action that is being done."""
    return replace(state, broken=(*state.broken, BrokenRule(rule, letter, state.number)))


PLACES = {
    Station.STAND: "the mounting stand",
    Station.BALANCER: "the balancer",
    Station.GAUGE: "the runout gauge",
    Station.ROLLER: "the load roller",
    Station.RACK: "the rack",
}


def at_station(state: BenchState, station: Station) -> AssemblyState:
    """The assembly that stands there. Raises Stopped where none does."""
    assembly = state.at(station)
    if assembly is None:
        raise Stopped(f"Nothing stands on {PLACES[station]}. Bring an assembly there first.")
    return assembly


def where_words(assembly: AssemblyState) -> str:
    """`on the car (LF)`, `on the balancer`."""
    return (
        f"on the car ({assembly.where})"
        if assembly.where in CORNERS
        else f"on {PLACES[Station(assembly.where)]}"
    )


def need_off_the_car(assembly: AssemblyState) -> None:
    """Raises Stopped for an assembly on the car."""
    if assembly.where in CORNERS:
        raise Stopped(f"Assembly {assembly.id} is on the car. Take it off first.")


def need_seated(assembly: AssemblyState) -> None:
    """Raises Stopped where the tire doesn't run true because a bead isn't on its seat."""
    if assembly.beads in (Beads.BROKEN, Beads.NOT_SEATED):
        raise Stopped(
            f"A bead of assembly {assembly.id} doesn’t stand on its seat and the tire wobbles. "
            "Seat the beads on the mounting stand first."
        )
