"""Weights on and off a wheel, and one weight shared by two places that are hidden behind spokes."""

from dataclasses import replace

from app.compute import angles, stock
from app.compute.errors import UnsolvableError
from app.domain.bench.actions import FitWeight, SplitWeight, StripWeights, TakeOffWeight
from app.domain.bench.observation import Fact, Observation
from app.domain.bench.shop import Shop
from app.domain.bench.state import AssemblyState, BenchState, Station, Weight
from app.domain.bench.steps import Outcome, Stopped, at_station, changed
from app.domain.measures import Measure

HIDDEN_WITHIN_DEG = 10.0
"""Of a spoke's middle: what sticks there can't be seen from outside. Teaching model."""


def split_weight(shop: Shop, state: BenchState, action: SplitWeight) -> Outcome:
    """What two weights at given angles must weigh to do what the last spin asked for in one plane."""
    assembly, balancer = at_station(state, Station.BALANCER), state.balancer
    asked = next((each for each in balancer.last if each.plane == action.plane), None)
    if asked is None or balancer.last_assembly != assembly.id:
        raise Stopped(f"There is no reading {action.plane} to split. Spin the wheel first.")
    if asked.angle_deg is None:
        raise Stopped(f"The last spin asked for no weight {action.plane}; there is nothing to split.")
    at_deg = (action.first_deg % 360, action.second_deg % 360)
    try:
        masses_g = stock.split_weight(asked.mass_g, asked.angle_deg, at_deg).tolist()
    except UnsolvableError as fault:
        raise Stopped(fault.message) from fault
    facts = [
        Fact(f"At {shop.say(angle, Measure.ANGLE)}", shop.say(mass_g, Measure.MASS))
        for angle, mass_g in zip(at_deg, masses_g, strict=True)
    ]
    mass, at = shop.say(asked.mass_g, Measure.MASS), shop.say(asked.angle_deg, Measure.ANGLE)
    text = f"{mass} {action.plane} at {at} does the same as these two together."
    return state, Observation(text, tuple(facts))


def fit_weight(shop: Shop, state: BenchState, action: FitWeight) -> Outcome:
    assembly = at_station(state, Station.BALANCER)
    mass_g = nearest_of_stock(shop, action.mass_g)
    if mass_g is None:  # checked before, but the shelf is the shelf
        raise Stopped("There is no such weight on the shelf.")
    clip = action.clip if action.kind == "clip" else None
    weight = Weight(
        id=state.number,
        kind=action.kind,
        clip=clip,
        plane=action.plane,
        mass_g=mass_g,
        angle_deg=action.angle_deg % 360,
        holds=clip == shop.clips[assembly.id] if clip else assembly.rim_clean,
    )
    state = changed(state, assembly, weights=(*assembly.weights, weight), checked=False)
    state = replace(state, pieces=state.pieces + 1)
    kind = f"clip weight {clip}" if clip else "adhesive weight"
    text = f"{shop.say(mass_g, Measure.MASS)} {kind} fitted {_place(shop, weight)}."
    if shows(shop, assembly.id, weight):
        text += " It can be seen between the spokes."
    return state, Observation(text)


def shows(shop: Shop, letter: str, weight: Weight) -> bool:
    """Whether a weight can be seen between the spokes: stuck in the outer plane, behind none of them."""
    spokes = shop.bench(letter).sheet.spokes
    if weight.kind == "clip" or weight.plane == "inboard" or not spokes:
        return False
    return all(
        abs(float(angles.wrap_turn(weight.angle_deg - spoke))) > HIDDEN_WITHIN_DEG
        for spoke in spokes_deg(spokes)
    )


def spokes_deg(count: int) -> tuple[float, ...]:
    """Where the spokes stand; the first gap between them is at the valve."""
    return tuple((place + 0.5) * 360 / count for place in range(count))


def nearest_of_stock(shop: Shop, mass_g: float) -> float | None:
    """The shelf's weight of this mass, None where there is none within a hundredth of a gram."""
    pieces_g = shop.variant.truth.machine.stock_g
    nearest = min(pieces_g, key=lambda piece: abs(piece - mass_g))
    return nearest if abs(nearest - mass_g) <= 0.01 else None


def take_off_weight(shop: Shop, state: BenchState, action: TakeOffWeight) -> Outcome:
    if action.assembly is None:
        assembly = at_station(state, Station.BALANCER)
    else:
        assembly = _within_reach(state, action.assembly)
    found = next((each for each in assembly.weights if each.id == action.weight), None)
    if found is None:
        raise Stopped(f"There is no such weight on assembly {assembly.id}.")
    left = tuple(each for each in assembly.weights if each.id != found.id)
    state = changed(state, assembly, weights=left, checked=False)
    return state, Observation(f"{shop.say(found.mass_g, Measure.MASS)} taken off {_place(shop, found)}.")


def _place(shop: Shop, weight: Weight) -> str:
    return f"{weight.plane} at {shop.say(weight.angle_deg, Measure.ANGLE)}"


def strip_weights(shop: Shop, state: BenchState, action: StripWeights) -> Outcome:
    del shop
    assembly = _within_reach(state, action.assembly)
    if not assembly.weights:
        raise Stopped(f"There are no weights on assembly {assembly.id}.")
    count = len(assembly.weights)
    state = changed(state, assembly, weights=(), checked=False)
    taken = f"{count} weight{'s' if count > 1 else ''}"
    return state, Observation(f"{taken} taken off assembly {assembly.id}.")


def _within_reach(state: BenchState, letter: str) -> AssemblyState:
    assembly = state.assembly(letter)
    if assembly.where not in (Station.STAND, Station.BALANCER):
        raise Stopped(f"Bring assembly {letter} to the mounting stand or the balancer first.")
    return assembly
