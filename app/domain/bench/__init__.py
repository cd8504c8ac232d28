"""The bench: a lab worked by doing the job, each action with the consequence that it has in a shop.

`start` gives the state of a variant before anything is done, `apply` the state and the observation after one
more action, `replay` those after a list of actions. All three are pure: equal variants and actions give equal
observations on every machine, so a bench is stored as its list of actions alone. `app.domain.bench.wire`
has the table of all actions and their fields.
"""

from app.domain.bench.actions import Action
from app.domain.bench.fields import BadAction
from app.domain.bench.observation import Fact, Observation, Readings
from app.domain.bench.reducer import apply, check, replay, start
from app.domain.bench.rules import RULES
from app.domain.bench.state import CORNERS, AssemblyState, Beads, BenchState, Station, Weight
from app.domain.bench.wire import ACTIONS, read_action, written


def stations() -> tuple[Station, ...]:
    """Every station, in the order in which the work usually passes through them."""
    return tuple(Station)


__all__ = [
    "ACTIONS",
    "CORNERS",
    "RULES",
    "Action",
    "AssemblyState",
    "BadAction",
    "Beads",
    "BenchState",
    "Fact",
    "Observation",
    "Readings",
    "Station",
    "Weight",
    "apply",
    "check",
    "read_action",
    "replay",
    "start",
    "stations",
    "written",
]
