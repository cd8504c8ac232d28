"""The state of the bench: everything that can be seen on it or that it remembers.

A state is the outcome of a list of actions on one variant (`app.domain.bench.replay`). Nothing here is the
truth of the variant; what is heavy or out of round is computed from both when somebody measures. Angles are
degrees clockwise from the valve, seen from outboard; pressures kPa gauge, masses g, torques N·m.
"""

from dataclasses import dataclass
from enum import StrEnum


class Station(StrEnum):
    """Where work is done; the lab page shows one section for each."""

    RACK = "rack"
    STAND = "stand"
    BALANCER = "balancer"
    GAUGE = "gauge"
    ROLLER = "roller"
    CAR = "car"


CORNERS = ("LF", "RF", "LR", "RR")


class Beads(StrEnum):
    """How the tire stands on the wheel. OFF: the tire lies beside it."""

    SEATED = "seated"
    NOT_SEATED = "not seated"
    BROKEN = "broken"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class Weight:
    """A balance weight on a wheel. id: stays the same while it is on. clip: of a clip weight, else None.

    holds: whether it stays on when the wheel spins.
    """

    id: int
    kind: str
    clip: str | None
    plane: str
    mass_g: float
    angle_deg: float
    old: bool = False
    holds: bool = True


@dataclass(frozen=True, slots=True)
class TighteningPass:
    """Once around all lugs in this order (1 is at the top, counted clockwise) to this torque [N·m]."""

    order: tuple[int, ...]
    torque_nm: float


@dataclass(frozen=True, slots=True)
class AssemblyState:
    """One assembly. where: a Station's value, or its corner on the car.

    tire: "own" or "new". turn_deg: the tire's turn on the wheel from how it came; turned_over: its other
    sidewall faces out. balanced: spun since its tire was last moved; checked: spun since its weights were
    last changed. number_side: the sidewall that the number stands on.
    """

    id: str
    where: str
    tire: str
    beads: Beads
    pressure_kpa: float
    weights: tuple[Weight, ...]
    label_on: bool
    turn_deg: float = 0.0
    turned_over: bool = False
    check_mark: bool = False
    lubricated: bool = False
    core_in: bool = True
    cap_on: bool = True
    sensor_whole: bool = True
    face_clean: bool = False
    rim_clean: bool = False
    balanced: bool = False
    checked: bool = False
    number: int | None = None
    number_side: str | None = None
    passes: tuple[TighteningPass, ...] = ()


@dataclass(frozen=True, slots=True)
class Dimensions:
    """As typed into the balancer; nothing on it says whether they fit the wheel that stands there."""

    distance_mm: float
    width_in: float
    diameter_in: float


@dataclass(frozen=True, slots=True)
class SpinReading:
    """What the balancer shows for one plane: a weight [g], 0 and no angle where it asks for none."""

    plane: str
    kind: str
    mass_g: float
    angle_deg: float | None


@dataclass(frozen=True, slots=True)
class BalancerState:
    """grip: None (no nut on), "light" or "firm". half_turned: the wheel was turned half a turn on the
    shaft.

    planes: "one" or "two". inboard, outboard: the kind of weight that the machine reckons with there.
    last, last_assembly: the newest reading, and whose it is.
    """

    cone: str | None = None
    grip: str | None = None
    half_turned: bool = False
    entered: Dimensions | None = None
    planes: str = "two"
    inboard: str = "clip"
    outboard: str = "clip"
    last: tuple[SpinReading, ...] = ()
    last_assembly: str | None = None


@dataclass(frozen=True, slots=True)
class GaugeState:
    """place: where the dial indicator stands, None before it is placed; at_deg: what is under it."""

    place: str | None = None
    at_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class CarState:
    raised: bool = False
    retorque_km: float | None = None


@dataclass(frozen=True, slots=True)
class BrokenRule:
    """rule: an id of `app.domain.bench.rules.RULES`; at: the number of the action that broke it."""

    rule: str
    assembly: str | None
    at: int


@dataclass(frozen=True, slots=True)
class BenchState:
    """number: of actions so far, those that were refused too. minutes: of shop time.

    pieces: weights fitted so far, those taken off again too. cautions: each time that unsafe work was
    stopped, the id of the caution (`app.domain.scenario.Caution`).
    """

    assemblies: tuple[AssemblyState, ...]
    balancer: BalancerState = BalancerState()
    gauge: GaugeState = GaugeState()
    car: CarState = CarState()
    number: int = 0
    minutes: float = 0.0
    spins: int = 0
    pieces: int = 0
    broken: tuple[BrokenRule, ...] = ()
    cautions: tuple[str, ...] = ()

    def assembly(self, letter: str) -> AssemblyState:
        return next(each for each in self.assemblies if each.id == letter)

    def at(self, place: str) -> AssemblyState | None:
        """The assembly at a station (other than the rack) or on a corner of the car; None where none is."""
        return next((each for each in self.assemblies if each.where == place), None)
