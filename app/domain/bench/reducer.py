"""The bench as a pure function: the state at the start, and state and observation after one more action."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from app.domain.bench import balancing, fitting, looking, measuring, mounting, weights
from app.domain.bench.actions import (
    Action,
    BreakBeads,
    Bring,
    CapOn,
    CheckMark,
    ChooseTire,
    Clamp,
    Clean,
    Cone,
    CoreIn,
    CoreOut,
    Demount,
    Enter,
    FitWeight,
    HalfTurn,
    Inflate,
    Look,
    LowerCar,
    Lubricate,
    MeasureRim,
    Mode,
    Mount,
    NoteRetorque,
    PeelLabel,
    Place,
    PlaceGauge,
    RaiseCar,
    ReadDial,
    ReadRound,
    Roll,
    Spin,
    SplitWeight,
    StripWeights,
    TakeOff,
    TakeOffWeight,
    Tighten,
    TurnTire,
    WriteNumber,
)
from app.domain.bench.fields import BadAction
from app.domain.bench.observation import Observation
from app.domain.bench.shop import Shop, shop_of
from app.domain.bench.state import AssemblyState, Beads, BenchState, Station, Weight
from app.domain.bench.steps import Stopped
from app.domain.bench.wire import read_action
from app.domain.measures import Measure
from app.domain.variants import Variant

Handler = Callable[[Shop, BenchState, Any], tuple[BenchState, Observation]]

_HANDLERS: dict[type[Action], Handler] = {
    Look: looking.look,
    Bring: looking.bring,
    WriteNumber: looking.write_number,
    PeelLabel: looking.peel_label,
    StripWeights: weights.strip_weights,
    CoreOut: mounting.core_out,
    CoreIn: mounting.core_in,
    CapOn: mounting.cap_on,
    BreakBeads: mounting.break_beads,
    Demount: mounting.demount,
    CheckMark: mounting.check_mark,
    Lubricate: mounting.lubricate,
    ChooseTire: mounting.choose_tire,
    TurnTire: mounting.turn_tire,
    Mount: mounting.mount,
    Inflate: mounting.inflate,
    Cone: balancing.cone,
    Clamp: balancing.clamp,
    Clean: balancing.clean,
    MeasureRim: balancing.measure,
    Enter: balancing.enter,
    Mode: balancing.mode,
    Spin: balancing.spin,
    SplitWeight: weights.split_weight,
    FitWeight: weights.fit_weight,
    TakeOffWeight: weights.take_off_weight,
    HalfTurn: balancing.half_turn,
    PlaceGauge: measuring.place_gauge,
    ReadDial: measuring.read_dial,
    ReadRound: measuring.read_round,
    Roll: measuring.roll,
    RaiseCar: fitting.raise_car,
    LowerCar: fitting.lower_car,
    Place: fitting.place,
    TakeOff: fitting.take_off,
    Tighten: fitting.tighten,
    NoteRetorque: fitting.note_retorque,
}

MINUTES: dict[str, float] = {
    "look": 0.5,
    "bring": 1.0,
    "write-number": 0.5,
    "peel-label": 0.5,
    "strip-weights": 1.0,
    "core-out": 0.5,
    "core-in": 0.5,
    "cap-on": 0.5,
    "break-beads": 2.0,
    "demount": 3.0,
    "check-mark": 0.5,
    "lubricate": 1.0,
    "choose-tire": 1.0,
    "turn-tire": 1.0,
    "mount": 3.0,
    "inflate": 1.5,
    "cone": 0.5,
    "clamp": 0.5,
    "clean": 1.0,
    "measure": 1.0,
    "enter": 0.5,
    "mode": 0.5,
    "spin": 1.0,
    "split-weight": 0.5,
    "fit-weight": 1.0,
    "take-off-weight": 0.5,
    "half-turn": 0.5,
    "place-gauge": 0.5,
    "read-dial": 0.25,
    "read-round": 2.0,
    "roll": 2.0,
    "raise-car": 2.0,
    "lower-car": 1.0,
    "place": 1.5,
    "take-off": 1.5,
    "tighten": 1.5,
    "note-retorque": 0.5,
}
"""Shop minutes of each action where the scenario doesn't say otherwise. Teaching model."""


def start(variant: Variant) -> BenchState:
    """The bench before anything is done: every assembly on the rack as it comes in."""
    shop = shop_of(variant)
    return BenchState(tuple(_as_it_comes(shop, letter) for letter in variant.scenario.assembly_ids))


def _as_it_comes(shop: Shop, letter: str) -> AssemblyState:
    bench = shop.bench(letter)
    mounted = bench.sheet.arrives == "mounted"
    pressure_kpa = shop.placard_kpa("LF") if bench.pressure_kpa is None else float(bench.pressure_kpa)
    masses, at_deg = bench.old_mass_g.tolist(), bench.old_angle_deg.tolist()
    # Their ids lie below those of weights fitted later, which are the numbers of actions.
    old = [
        Weight(-place, sheet.kind, None, sheet.plane, mass_g, angle_deg % 360, old=True)
        for place, (sheet, mass_g, angle_deg) in enumerate(
            zip(bench.sheet.old_weights, masses, at_deg, strict=True), start=1
        )
        if mass_g > 0
    ]
    return AssemblyState(
        id=letter,
        where=Station.RACK.value,
        tire="own",
        beads=Beads.SEATED if mounted else Beads.OFF,
        pressure_kpa=pressure_kpa if mounted else 0.0,
        weights=tuple(old),
        label_on=bench.label is not None,
        core_in=mounted,
        cap_on=mounted,
    )


def apply(variant: Variant, state: BenchState, action: Action) -> tuple[BenchState, Observation]:
    """The state after one action, and what the student sees.

    Work that can't be done or is unsafe leaves all as it was and says so; only the number of actions, and
    for unsafe work its caution, are recorded. Raises BadAction for a field that this bench doesn't know.
    """
    shop = shop_of(variant)
    check(variant, action)
    counted = replace(state, number=state.number + 1)
    try:
        after, seen = _HANDLERS[type(action)](shop, counted, action)
    except Stopped as stopped:
        cautions = () if stopped.caution is None else (stopped.caution.value,)
        return (
            replace(counted, cautions=counted.cautions + cautions),
            Observation(stopped.text, cautions=cautions, refused=True),
        )
    minutes = shop.sheet.minutes.get(action.DO, MINUTES[action.DO])
    return replace(after, minutes=after.minutes + minutes), replace(seen, minutes=minutes)


def check(variant: Variant, action: Action) -> None:
    """Whether the action's fields name things of this variant's bench. Raises BadAction."""
    shop, letters = shop_of(variant), variant.scenario.assembly_ids
    letter = getattr(action, "assembly", None)
    if letter is not None and letter not in letters:
        raise BadAction("assembly", f"must be one of {', '.join(letters)}.")
    if action.AT and not any(shop.has(station) for station in action.AT):
        raise BadAction("do", f"this lab’s bench has no {action.AT[0].value}.")
    match action:
        case Bring(to=to) if to != Station.RACK and not shop.has(to):
            raise BadAction("to", f"this lab’s bench has no {to}.")
        case Cone(cone=name) if shop.cone(name) is None:
            raise BadAction("cone", f"must be one of {', '.join(each.id for each in shop.sheet.cones)}.")
        case FitWeight():
            _check_weight(shop, action)
        case Tighten(order=order) if len(order) != shop.sheet.lug_count:
            raise BadAction("order", f"must hold each lug from 1 to {shop.sheet.lug_count} once.")
        case _:
            pass


def _check_weight(shop: Shop, action: FitWeight) -> None:
    if weights.nearest_of_stock(shop, action.mass_g) is None:
        stock = ", ".join(shop.say(piece, Measure.MASS) for piece in shop.variant.truth.machine.stock_g)
        raise BadAction("mass_g", f"must be a weight of the shelf: {stock}.")
    if (action.kind == "clip") != (action.clip is not None):
        raise BadAction("clip", "must name the clip of a clip weight; an adhesive weight has none.")


def replay(
    variant: Variant, actions: Iterable[Action | Mapping[str, Any]]
) -> tuple[BenchState, tuple[Observation, ...]]:
    """The state after all actions (typed, or in their wire form) and what each showed. Raises BadAction."""
    state, seen = start(variant), []
    for action in actions:
        typed = action if isinstance(action, Action) else read_action(action)
        state, observation = apply(variant, state, typed)
        seen.append(observation)
    return state, tuple(seen)


__all__ = ["MINUTES", "apply", "check", "replay", "start"]
