"""Every action of the bench, one frozen dataclass each, and its wire form.

On the wire an action is an object `{"do": NAME, FIELD: VALUE, ...}` with exactly the fields of its row:

| do | fields | at |
| --- | --- | --- |
| `look` | `assembly`, `at`: sidewall, tread, valve, flange, weights, damage, marks | anywhere |
| `bring` | `assembly`, `to`: rack, stand, balancer, gauge, roller | anywhere |
| `write-number` | `assembly`, `number` 1 to 99, `side`: inboard, outboard | anywhere |
| `peel-label` | `assembly` | anywhere |
| `strip-weights` | `assembly` | stand, balancer |
| `core-out`, `core-in`, `cap-on` | | stand |
| `break-beads` | `shoe_deg` | stand |
| `demount`, `check-mark`, `lubricate` | | stand |
| `choose-tire` | `tire`: own, new | stand |
| `turn-tire` | `turn_deg` -360 to 360, positive clockwise | stand |
| `mount` | `turned_over` true or false: the sidewall that faced out when it came faces in | stand |
| `inflate` | `kpa` 0 to 1000: to this pressure, up or down | stand |
| `cone` | `cone`: an id of the scenario's cones | balancer |
| `clamp` | `grip`: firm, light, off | balancer |
| `clean` | `what`: face, rim | balancer |
| `measure` | | balancer |
| `enter` | `distance_mm`, `width_in`, `diameter_in` | balancer |
| `mode` | `planes`: one, two; `inboard`, `outboard`: clip, adhesive | balancer |
| `spin` | `hood_down` true or false | balancer |
| `fit-weight` | `kind`: clip, adhesive; `clip`: C, P, T, MC (adhesive: none); `plane`: inboard, outboard; `angle_deg`; `mass_g`: of the stock | balancer |
| `take-off-weight` | `weight`: its id, below 0 for one that came with the wheel | balancer |
| `half-turn` | | balancer |
| `place-gauge` | `place`: tread, inboard seat, outboard seat, lateral | gauge |
| `read-dial` | `at_deg`: the wheel is turned so that this stands under the dial | gauge |
| `read-round` | `steps` 8 to 72 | gauge |
| `roll` | | roller |
| `raise-car` | `at`: lift points, sill | car |
| `lower-car` | | car |
| `place` | `assembly`, `corner`: LF, RF, LR, RR | car |
| `take-off` | `corner` | car |
| `tighten` | `corner`, `order`: every lug once, `torque_nm` up to 1000 | car |
| `note-retorque` | `after_km` up to 10000 | car |
"""  # noqa: E501 -- a table

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from app.domain.bench.fields import (
    BadAction,
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
    """Base of every action. DO: its name on the wire. AT: the stations where it is done; none: anywhere."""

    DO: ClassVar[str]
    AT: ClassVar[tuple[Station, ...]] = ()


@dataclass(frozen=True, slots=True)
class Look(Action):
    DO: ClassVar[str] = "look"
    assembly: str = _letter()
    at: str = read_by(one_of(*LOOKS))


@dataclass(frozen=True, slots=True)
class Bring(Action):
    DO: ClassVar[str] = "bring"
    assembly: str = _letter()
    to: str = read_by(one_of(*(each.value for each in Station if each is not Station.CAR)))


@dataclass(frozen=True, slots=True)
class WriteNumber(Action):
    DO: ClassVar[str] = "write-number"
    assembly: str = _letter()
    number: int = read_by(number_from(1, 99, whole=True))
    side: str = read_by(one_of(*PLANE_NAMES))


@dataclass(frozen=True, slots=True)
class PeelLabel(Action):
    DO: ClassVar[str] = "peel-label"
    assembly: str = _letter()


@dataclass(frozen=True, slots=True)
class StripWeights(Action):
    DO: ClassVar[str] = "strip-weights"
    AT: ClassVar[tuple[Station, ...]] = (Station.STAND, Station.BALANCER)
    assembly: str = _letter()


@dataclass(frozen=True, slots=True)
class StandAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.STAND,)


@dataclass(frozen=True, slots=True)
class CoreOut(StandAction):
    DO: ClassVar[str] = "core-out"


@dataclass(frozen=True, slots=True)
class CoreIn(StandAction):
    DO: ClassVar[str] = "core-in"


@dataclass(frozen=True, slots=True)
class CapOn(StandAction):
    DO: ClassVar[str] = "cap-on"


@dataclass(frozen=True, slots=True)
class BreakBeads(StandAction):
    DO: ClassVar[str] = "break-beads"
    shoe_deg: float = read_by(number_from(0, 360))


@dataclass(frozen=True, slots=True)
class Demount(StandAction):
    DO: ClassVar[str] = "demount"


@dataclass(frozen=True, slots=True)
class CheckMark(StandAction):
    DO: ClassVar[str] = "check-mark"


@dataclass(frozen=True, slots=True)
class Lubricate(StandAction):
    DO: ClassVar[str] = "lubricate"


@dataclass(frozen=True, slots=True)
class ChooseTire(StandAction):
    DO: ClassVar[str] = "choose-tire"
    tire: str = read_by(one_of("own", "new"))


@dataclass(frozen=True, slots=True)
class TurnTire(StandAction):
    DO: ClassVar[str] = "turn-tire"
    turn_deg: float = read_by(number_from(-360, 360))


@dataclass(frozen=True, slots=True)
class Mount(StandAction):
    DO: ClassVar[str] = "mount"
    turned_over: bool = read_by(true_or_false)


@dataclass(frozen=True, slots=True)
class Inflate(StandAction):
    DO: ClassVar[str] = "inflate"
    kpa: float = read_by(number_from(0, 1000))


@dataclass(frozen=True, slots=True)
class BalancerAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.BALANCER,)


@dataclass(frozen=True, slots=True)
class Cone(BalancerAction):
    DO: ClassVar[str] = "cone"
    cone: str = read_by(short_text)


@dataclass(frozen=True, slots=True)
class Clamp(BalancerAction):
    DO: ClassVar[str] = "clamp"
    grip: str = read_by(one_of("firm", "light", "off"))


@dataclass(frozen=True, slots=True)
class Clean(BalancerAction):
    DO: ClassVar[str] = "clean"
    what: str = read_by(one_of("face", "rim"))


@dataclass(frozen=True, slots=True)
class MeasureRim(BalancerAction):
    DO: ClassVar[str] = "measure"


@dataclass(frozen=True, slots=True)
class Enter(BalancerAction):
    DO: ClassVar[str] = "enter"
    distance_mm: float = read_by(number_from(0, 1000))
    width_in: float = read_by(number_from(2, 20))
    diameter_in: float = read_by(number_from(8, 30))


@dataclass(frozen=True, slots=True)
class Mode(BalancerAction):
    DO: ClassVar[str] = "mode"
    planes: str = read_by(one_of("one", "two"))
    inboard: str = read_by(one_of(*KINDS_OF_WEIGHT))
    outboard: str = read_by(one_of(*KINDS_OF_WEIGHT))


@dataclass(frozen=True, slots=True)
class Spin(BalancerAction):
    DO: ClassVar[str] = "spin"
    hood_down: bool = read_by(true_or_false)


@dataclass(frozen=True, slots=True)
class FitWeight(BalancerAction):
    DO: ClassVar[str] = "fit-weight"
    kind: str = read_by(one_of(*KINDS_OF_WEIGHT))
    clip: str | None = read_by(clip_name)
    plane: str = read_by(one_of(*PLANE_NAMES))
    angle_deg: float = read_by(number_from(0, 360))
    mass_g: float = read_by(number_from(0, 1000))


@dataclass(frozen=True, slots=True)
class TakeOffWeight(BalancerAction):
    DO: ClassVar[str] = "take-off-weight"
    weight: int = read_by(number_from(-100, 1_000_000, whole=True))


@dataclass(frozen=True, slots=True)
class HalfTurn(BalancerAction):
    DO: ClassVar[str] = "half-turn"


@dataclass(frozen=True, slots=True)
class PlaceGauge(Action):
    DO: ClassVar[str] = "place-gauge"
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    place: str = read_by(one_of(*GAUGE_PLACES))


@dataclass(frozen=True, slots=True)
class ReadDial(Action):
    DO: ClassVar[str] = "read-dial"
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    at_deg: float = read_by(number_from(0, 360))


@dataclass(frozen=True, slots=True)
class ReadRound(Action):
    DO: ClassVar[str] = "read-round"
    AT: ClassVar[tuple[Station, ...]] = (Station.GAUGE,)
    steps: int = read_by(number_from(8, 72, whole=True))


@dataclass(frozen=True, slots=True)
class Roll(Action):
    DO: ClassVar[str] = "roll"
    AT: ClassVar[tuple[Station, ...]] = (Station.ROLLER,)


@dataclass(frozen=True, slots=True)
class CarAction(Action):
    AT: ClassVar[tuple[Station, ...]] = (Station.CAR,)


@dataclass(frozen=True, slots=True)
class RaiseCar(CarAction):
    DO: ClassVar[str] = "raise-car"
    at: str = read_by(one_of("lift points", "sill"))


@dataclass(frozen=True, slots=True)
class LowerCar(CarAction):
    DO: ClassVar[str] = "lower-car"


@dataclass(frozen=True, slots=True)
class Place(CarAction):
    DO: ClassVar[str] = "place"
    assembly: str = _letter()
    corner: str = read_by(one_of(*CORNERS))


@dataclass(frozen=True, slots=True)
class TakeOff(CarAction):
    DO: ClassVar[str] = "take-off"
    corner: str = read_by(one_of(*CORNERS))


@dataclass(frozen=True, slots=True)
class Tighten(CarAction):
    DO: ClassVar[str] = "tighten"
    corner: str = read_by(one_of(*CORNERS))
    order: tuple[int, ...] = read_by(lug_order)
    torque_nm: float = read_by(number_from(1, 1000))


@dataclass(frozen=True, slots=True)
class NoteRetorque(CarAction):
    DO: ClassVar[str] = "note-retorque"
    after_km: float = read_by(number_from(1, 10_000))


ACTIONS: dict[str, type[Action]] = {
    each.DO: each
    for each in (
        Look, Bring, WriteNumber, PeelLabel, StripWeights,
        CoreOut, CoreIn, CapOn, BreakBeads, Demount, CheckMark, Lubricate, ChooseTire, TurnTire, Mount,
        Inflate,
        Cone, Clamp, Clean, MeasureRim, Enter, Mode, Spin, FitWeight, TakeOffWeight, HalfTurn,
        PlaceGauge, ReadDial, ReadRound, Roll,
        RaiseCar, LowerCar, Place, TakeOff, Tighten, NoteRetorque,
    )
}  # fmt: skip
"""The closed registry: action by its name on the wire."""


def read_action(body: Any) -> Action:
    """The action that a wire form stands for. Raises BadAction, which names the field."""
    if not isinstance(body, Mapping):
        raise BadAction("do", "an action must be an object with a field do.")
    name = body.get("do")
    kind = ACTIONS.get(name) if isinstance(name, str) else None
    if kind is None:
        raise BadAction("do", f"must be one of {', '.join(ACTIONS)}.")
    fields = {each.name: each.metadata["reader"] for each in dataclasses.fields(kind)}
    for sent in body:
        if sent != "do" and sent not in fields:
            raise BadAction(str(sent)[:40], f"is no field of {name}; remove it.")
    if missing := next((field for field in fields if field not in body), None):
        raise BadAction(missing, f"is missing; {name} needs it.")
    return kind(**{field: reader(field, body[field]) for field, reader in fields.items()})


def written(action: Action) -> dict[str, Any]:
    """The wire form of an action, as `read_action` reads it."""
    values = {each.name: getattr(action, each.name) for each in dataclasses.fields(action)}
    return {"do": action.DO} | {
        name: list(value) if isinstance(value, tuple) else value for name, value in values.items()
    }
