"""The bench as a pure function: the state at the start, and state and observation after one more action."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from app.domain.bench import actions, balancing, fitting, looking, measuring, mounting, weights
from app.domain.bench.actions import Action, FitWeight
from app.domain.bench.fields import BadAction
from app.domain.bench.observation import Observation
from app.domain.bench.shop import Shop, shop_of
from app.domain.bench.state import AssemblyState, Beads, BenchState, Station, Weight
from app.domain.bench.steps import Outcome, Stopped
from app.domain.bench.wire import read_action
from app.domain.measures import Measure
from app.domain.variants import Variant

Handler = Callable[[Shop, BenchState, Any], Outcome]

_HANDLERS: dict[type[Action], Handler] = {
    actions.Look: looking.look,
    actions.Bring: looking.bring,
    actions.WriteNumber: looking.write_number,
    actions.PeelLabel: looking.peel_label,
    actions.StripWeights: weights.strip_weights,
    actions.CoreOut: mounting.core_out,
    actions.CoreIn: mounting.core_in,
    actions.CapOn: mounting.cap_on,
    actions.BreakBeads: mounting.break_beads,
    actions.Demount: mounting.demount,
    actions.CheckMark: mounting.check_mark,
    actions.Lubricate: mounting.lubricate,
    actions.ChooseTire: mounting.choose_tire,
    actions.TurnTire: mounting.turn_tire,
    actions.Mount: mounting.mount,
    actions.Inflate: mounting.inflate,
    actions.Cone: balancing.cone,
    actions.Clamp: balancing.clamp,
    actions.Clean: balancing.clean,
    actions.MeasureRim: balancing.measure,
    actions.Enter: balancing.enter,
    actions.Mode: balancing.mode,
    actions.Spin: balancing.spin,
    actions.SplitWeight: weights.split_weight,
    actions.FitWeight: weights.fit_weight,
    actions.TakeOffWeight: weights.take_off_weight,
    actions.HalfTurn: balancing.half_turn,
    actions.PlaceGauge: measuring.place_gauge,
    actions.ReadDial: measuring.read_dial,
    actions.ReadRound: measuring.read_round,
    actions.Roll: measuring.roll,
    actions.RaiseCar: fitting.raise_car,
    actions.LowerCar: fitting.lower_car,
    actions.Place: fitting.place,
    actions.TakeOff: fitting.take_off,
    actions.Tighten: fitting.tighten,
    actions.NoteRetorque: fitting.note_retorque,
}


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


def apply(variant: Variant, state: BenchState, action: Action) -> Outcome:
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
    minutes = shop.sheet.minutes.get(action.DO, action.MINUTES)
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
        case actions.Bring(to=to) if to != Station.RACK and not shop.has(to):
            raise BadAction("to", f"this lab’s bench has no {to}.")
        case actions.Cone(cone=name) if shop.cone(name) is None:
            raise BadAction("cone", f"must be one of {', '.join(each.id for each in shop.sheet.cones)}.")
        case FitWeight():
            _check_weight(shop, action)
        case actions.Tighten(order=order) if len(order) != shop.sheet.lug_count:
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


__all__ = ["apply", "check", "replay", "start"]
