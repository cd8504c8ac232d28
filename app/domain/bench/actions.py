"""Every action of the bench, one frozen dataclass each; `wire` has the table of them and reads them."""

from dataclasses import dataclass
from typing import Any, ClassVar

from app.domain.bench.fields import (
    clip_name,
    lug_order,
    number_from,
    one_of,
    read_by,
    short_text,
    true_or_false,
)
from app.domain.bench.state import CORNERS, Station

PLANE_NAMES = ("inboard", "outboard")
KINDS_OF_WEIGHT = ("clip", "adhesive")
LOOKS = ("sidewall", "tread", "valve", "flange", "weights", "damage", "marks")
GAUGE_PLACES = ("tread", "inboard seat", "outboard seat", "lateral")


def _letter() -> Any:
    return read_by(short_text)


@dataclass(frozen=True, slots=True)
class Action:
    """Base of every action.

    DO: its name on the wire. MINUTES: of the shop's time, where the scenario doesn't say otherwise (teaching
    model). AT: the stations where it is done; none: anywhere.
    """

    DO: ClassVar[str]
    MINUTES: ClassVar[float]
    AT: ClassVar[tuple[Station, ...]] = ()


@dataclass(frozen=True, slots=True)
class Look(Action):
    DO: ClassVar[str] = "look"
    MINUTES: ClassVar[float] = 0.5
    assembly: str = _letter()
    at: str = read_by(one_of(*LOOKS))


@dataclass(frozen=True, slots=True)
class Bring(Action):
    DO: ClassVar[str] = "bring"
    MINUTES: ClassVar[float] = 1.0
    assembly: str = _letter()
    to: str = read_by(one_of(*(each.value for each in Station if each is not Station.CAR)))


@dataclass(frozen=True, slots=True)
class WriteNumber(Action):
    DO: ClassVar[str] = "write-number"
    MINUTES: ClassVar[float] = 0.5
    assembly: str = _letter()
    number: int = read_by(number_from(1, 99, whole=True))
    side: str = read_by(one_of(*PLANE_NAMES))


@dataclass(frozen=True, slots=True)
class PeelLabel(Action):
    DO: ClassVar[str] = "peel-label"
    MINUTES: ClassVar[float] = 0.5
    assembly: str = _letter()


@dataclass(frozen=True, slots=True)
class StripWeights(Action):
    DO: ClassVar[str] = "strip-weights"
    MINUTES: ClassVar[float] = 1.0
    AT: ClassVar[tuple[Station, ...]] = (Station.STAND, Station.BALANCER)
    assembly: str = _letter()


@dataclass(frozen=True, slots=True)
class StandAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.STAND,)


@dataclass(frozen=True, slots=True)
class CoreOut(StandAction):
    DO: ClassVar[str] = "core-out"
    MINUTES: ClassVar[float] = 0.5


@dataclass(frozen=True, slots=True)
class CoreIn(StandAction):
    DO: ClassVar[str] = "core-in"
    MINUTES: ClassVar[float] = 0.5


@dataclass(frozen=True, slots=True)
class CapOn(StandAction):
    DO: ClassVar[str] = "cap-on"
    MINUTES: ClassVar[float] = 0.5


@dataclass(frozen=True, slots=True)
class BreakBeads(StandAction):
    DO: ClassVar[str] = "break-beads"
    MINUTES: ClassVar[float] = 2.0
    shoe_deg: float = read_by(number_from(0, 360))


@dataclass(frozen=True, slots=True)
class Demount(StandAction):
    DO: ClassVar[str] = "demount"
    MINUTES: ClassVar[float] = 3.0


@dataclass(frozen=True, slots=True)
class CheckMark(StandAction):
    DO: ClassVar[str] = "check-mark"
    MINUTES: ClassVar[float] = 0.5


@dataclass(frozen=True, slots=True)
class Lubricate(StandAction):
    DO: ClassVar[str] = "lubricate"
    MINUTES: ClassVar[float] = 1.0


@dataclass(frozen=True, slots=True)
class ChooseTire(StandAction):
    DO: ClassVar[str] = "choose-tire"
    MINUTES: ClassVar[float] = 1.0
    tire: str = read_by(one_of("own", "new"))


@dataclass(frozen=True, slots=True)
class TurnTire(StandAction):
    DO: ClassVar[str] = "turn-tire"
    MINUTES: ClassVar[float] = 1.0
    turn_deg: float = read_by(number_from(-360, 360))


@dataclass(frozen=True, slots=True)
class Mount(StandAction):
    DO: ClassVar[str] = "mount"
    MINUTES: ClassVar[float] = 3.0
    turned_over: bool = read_by(true_or_false)


@dataclass(frozen=True, slots=True)
class Inflate(StandAction):
    DO: ClassVar[str] = "inflate"
    MINUTES: ClassVar[float] = 1.5
    kpa: float = read_by(number_from(0, 1000))


@dataclass(frozen=True, slots=True)
class BalancerAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.BALANCER,)


@dataclass(frozen=True, slots=True)
class Cone(BalancerAction):
    DO: ClassVar[str] = "cone"
    MINUTES: ClassVar[float] = 0.5
    cone: str = read_by(short_text)


@dataclass(frozen=True, slots=True)
class Clamp(BalancerAction):
    DO: ClassVar[str] = "clamp"
    MINUTES: ClassVar[float] = 0.5
    grip: str = read_by(one_of("firm", "light", "off"))


@dataclass(frozen=True, slots=True)
class Clean(BalancerAction):
    DO: ClassVar[str] = "clean"
    MINUTES: ClassVar[float] = 1.0
    what: str = read_by(one_of("face", "rim"))


@dataclass(frozen=True, slots=True)
class MeasureRim(BalancerAction):
    DO: ClassVar[str] = "measure"
    MINUTES: ClassVar[float] = 1.0


@dataclass(frozen=True, slots=True)
class Enter(BalancerAction):
    DO: ClassVar[str] = "enter"
    MINUTES: ClassVar[float] = 0.5
    distance_mm: float = read_by(number_from(0, 1000))
    width_in: float = read_by(number_from(2, 20))
    diameter_in: float = read_by(number_from(8, 30))


@dataclass(frozen=True, slots=True)
class Mode(BalancerAction):
    DO: ClassVar[str] = "mode"
    MINUTES: ClassVar[float] = 0.5
    planes: str = read_by(one_of("one", "two"))
    inboard: str = read_by(one_of(*KINDS_OF_WEIGHT))
    outboard: str = read_by(one_of(*KINDS_OF_WEIGHT))


@dataclass(frozen=True, slots=True)
class Spin(BalancerAction):
    DO: ClassVar[str] = "spin"
    MINUTES: ClassVar[float] = 1.0
    hood_down: bool = read_by(true_or_false)


@dataclass(frozen=True, slots=True)
class FitWeight(BalancerAction):
    DO: ClassVar[str] = "fit-weight"
    MINUTES: ClassVar[float] = 1.0
    kind: str = read_by(one_of(*KINDS_OF_WEIGHT))
    clip: str | None = read_by(clip_name)
    plane: str = read_by(one_of(*PLANE_NAMES))
    angle_deg: float = read_by(number_from(0, 360))
    mass_g: float = read_by(number_from(0, 1000))


@dataclass(frozen=True, slots=True)
class TakeOffWeight(Action):
    DO: ClassVar[str] = "take-off-weight"
    MINUTES: ClassVar[float] = 0.5
    AT: ClassVar[tuple[Station, ...]] = (Station.STAND, Station.BALANCER)
    weight: int = read_by(number_from(-100, 1_000_000, whole=True))
    assembly: str | None = read_by(short_text, default=None)


@dataclass(frozen=True, slots=True)
class SplitWeight(BalancerAction):
    DO: ClassVar[str] = "split-weight"
    MINUTES: ClassVar[float] = 0.5
    plane: str = read_by(one_of(*PLANE_NAMES))
    first_deg: float = read_by(number_from(0, 360))
    second_deg: float = read_by(number_from(0, 360))


@dataclass(frozen=True, slots=True)
class HalfTurn(BalancerAction):
    DO: ClassVar[str] = "half-turn"
    MINUTES: ClassVar[float] = 0.5


@dataclass(frozen=True, slots=True)
class PlaceGauge(Action):
    DO: ClassVar[str] = "place-gauge"
    MINUTES: ClassVar[float] = 0.5
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    place: str = read_by(one_of(*GAUGE_PLACES))


@dataclass(frozen=True, slots=True)
class ReadDial(Action):
    DO: ClassVar[str] = "read-dial"
    MINUTES: ClassVar[float] = 0.25
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    at_deg: float = read_by(number_from(0, 360))


@dataclass(frozen=True, slots=True)
class ReadRound(Action):
    DO: ClassVar[str] = "read-round"
    MINUTES: ClassVar[float] = 2.0
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    steps: int = read_by(number_from(8, 72, whole=True))


@dataclass(frozen=True, slots=True)
class Roll(Action):
    DO: ClassVar[str] = "roll"
    MINUTES: ClassVar[float] = 2.0
    AT: ClassVar[tuple[Station, ...]] = (Station.ROLLER,)


@dataclass(frozen=True, slots=True)
class CarAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.CAR,)


@dataclass(frozen=True, slots=True)
class RaiseCar(CarAction):
    DO: ClassVar[str] = "raise-car"
    MINUTES: ClassVar[float] = 2.0
    at: str = read_by(one_of("lift points", "sill"))


@dataclass(frozen=True, slots=True)
class LowerCar(CarAction):
    DO: ClassVar[str] = "lower-car"
    MINUTES: ClassVar[float] = 1.0


@dataclass(frozen=True, slots=True)
class Place(CarAction):
    DO: ClassVar[str] = "place"
    MINUTES: ClassVar[float] = 1.5
    assembly: str = _letter()
    corner: str = read_by(one_of(*CORNERS))


@dataclass(frozen=True, slots=True)
class TakeOff(CarAction):
    DO: ClassVar[str] = "take-off"
    MINUTES: ClassVar[float] = 1.5
    corner: str = read_by(one_of(*CORNERS))


@dataclass(frozen=True, slots=True)
class Tighten(CarAction):
    DO: ClassVar[str] = "tighten"
    MINUTES: ClassVar[float] = 1.5
    corner: str = read_by(one_of(*CORNERS))
    order: tuple[int, ...] = read_by(lug_order)
    torque_nm: float = read_by(number_from(1, 1000))


@dataclass(frozen=True, slots=True)
class NoteRetorque(CarAction):
    DO: ClassVar[str] = "note-retorque"
    MINUTES: ClassVar[float] = 0.5
    after_km: float = read_by(number_from(1, 10_000))
