"""The mounting stand: tire off, tire on, turned on the wheel, beads seated, pressure set."""

from dataclasses import replace

from app.compute import angles
from app.domain.bench import uniformity
from app.domain.bench.actions import (
    BreakBeads,
    CapOn,
    CheckMark,
    ChooseTire,
    CoreIn,
    CoreOut,
    Demount,
    Inflate,
    Lubricate,
    Mount,
    TurnTire,
)
from app.domain.bench.observation import Fact, Observation
from app.domain.bench.shop import SEATING_LIMIT_KPA, SEATS_AT_KPA, SENSOR_REACH_DEG, Shop
from app.domain.bench.state import AssemblyState, Beads, BenchState, Station
from app.domain.bench.steps import Outcome, Stopped, at_station, changed, with_rule
from app.domain.measures import Measure
from app.domain.scenario import Caution

DRAGGED_DEG = 25.0
"""How far a weight slides that the tire is worked over. Teaching model."""
LOST_STEP_DEG = 5.0


def core_out(shop: Shop, state: BenchState, action: CoreOut) -> Outcome:
    del shop, action
    assembly = at_station(state, Station.STAND)
    if not assembly.core_in:
        raise Stopped("The valve core is out already.")
    state = changed(state, assembly, core_in=False, cap_on=False, pressure_kpa=0.0)
    return state, Observation("Cap and valve core are out; the tire has let out its air.")


def core_in(shop: Shop, state: BenchState, action: CoreIn) -> Outcome:
    del shop, action
    assembly = at_station(state, Station.STAND)
    if assembly.core_in:
        raise Stopped("The valve core is in already.")
    return changed(state, assembly, core_in=True), Observation("The valve core is in.")


def cap_on(shop: Shop, state: BenchState, action: CapOn) -> Outcome:
    del shop, action
    assembly = at_station(state, Station.STAND)
    if assembly.cap_on:
        raise Stopped("The cap is on already.")
    if not assembly.core_in:
        raise Stopped("There is no valve core below it yet. Put the core in first.")
    return changed(state, assembly, cap_on=True), Observation("The cap is on.")


def break_beads(shop: Shop, state: BenchState, action: BreakBeads) -> Outcome:
    assembly = at_station(state, Station.STAND)
    _need_no_air(assembly)
    if assembly.beads is Beads.OFF:
        raise Stopped("The tire is off; there are no beads to break.")
    if assembly.beads is Beads.BROKEN:
        raise Stopped("Both beads are broken already.")
    text = f"Both beads are broken; the shoe stood at {shop.say(action.shoe_deg, Measure.ANGLE)}."
    near = abs(float(angles.wrap_turn(action.shoe_deg))) <= SENSOR_REACH_DEG
    sensor = shop.bench(assembly.id).sheet.valve == "sensor"
    breaks = near and sensor and assembly.sensor_whole
    state = changed(
        state,
        assembly,
        beads=Beads.BROKEN,
        lubricated=False,
        sensor_whole=assembly.sensor_whole and not breaks,
    )
    if breaks:
        state = with_rule(state, "sensor-broken", assembly.id)
        text += " Something cracked: the pressure sensor sits behind the valve, right there."
    return state, Observation(text)


def _need_no_air(assembly: AssemblyState) -> None:
    if assembly.core_in:
        raise Stopped(
            "Stop: the valve core is in and the tire may hold air. Take the core out first.",
            Caution.PRESSURE,
        )


def demount(shop: Shop, state: BenchState, action: Demount) -> Outcome:
    del action
    assembly = at_station(state, Station.STAND)
    _need_no_air(assembly)
    if assembly.beads is Beads.OFF:
        raise Stopped("The tire is off already.")
    if assembly.beads is not Beads.BROKEN:
        raise Stopped("The beads hold the tire on its seats. Break them first.")
    turn_deg = assembly.turn_deg
    text = f"The tire of assembly {assembly.id} is off its wheel."
    if not assembly.check_mark:
        steps = int(360 / LOST_STEP_DEG)
        turn_deg = LOST_STEP_DEG * int(shop.chance(state.number, "demount") * steps)
        text += " There was no chalk line across both, so nobody knows any more how it stood."
    state = changed(
        state, assembly, beads=Beads.OFF, turn_deg=turn_deg, balanced=False, checked=False, lubricated=False
    )
    return _dragged(state, assembly, text)


def _dragged(state: BenchState, assembly: AssemblyState, text: str) -> Outcome:
    """What working a tire over the rim does to weights that are still on."""
    if not assembly.weights:
        return state, Observation(text)
    moved = tuple(
        replace(weight, angle_deg=float(angles.wrap(weight.angle_deg + DRAGGED_DEG)))
        for weight in assembly.weights
    )
    state = changed(state, state.assembly(assembly.id), weights=moved)
    state = with_rule(state, "weights-dragged", assembly.id)
    return state, Observation(
        f"{text} The weights that were still on were dragged along and scratched the rim."
    )


def check_mark(shop: Shop, state: BenchState, action: CheckMark) -> Outcome:
    del shop, action
    assembly = at_station(state, Station.STAND)
    if assembly.beads is Beads.OFF:
        raise Stopped("The tire is off. A chalk line across tire and wheel is drawn before it comes off.")
    if assembly.check_mark:
        raise Stopped("There is a chalk line across tire and wheel already.")
    return changed(state, assembly, check_mark=True), Observation(
        "A chalk line across tire and wheel shows how they stand."
    )


def lubricate(shop: Shop, state: BenchState, action: Lubricate) -> Outcome:
    del shop, action
    assembly = at_station(state, Station.STAND)
    if assembly.beads is Beads.SEATED:
        raise Stopped("The beads sit on their seats; lubricant doesn’t get there. Break them first.")
    if assembly.pressure_kpa > 0:
        raise Stopped(
            "Stop: a bead isn’t seated and there is air in the tire. Let all of it out before you reach in.",
            Caution.BEAD_SEATING,
        )
    return changed(state, assembly, lubricated=True), Observation("Beads and seats are lubricated.")


def choose_tire(shop: Shop, state: BenchState, action: ChooseTire) -> Outcome:
    assembly = at_station(state, Station.STAND)
    if assembly.beads is not Beads.OFF:
        raise Stopped("The tire is still on the wheel. Take it off first.")
    if action.tire == "new" and shop.bench(assembly.id).new_tire is None:
        raise Stopped(f"There is no new tire for assembly {assembly.id}. Work with its own.")
    if action.tire == assembly.tire:
        raise Stopped("That tire lies here already.")
    state = changed(
        state, assembly, tire=action.tire, turn_deg=0.0, turned_over=False, check_mark=False, lubricated=False
    )
    words = "new tire" if action.tire == "new" else "tire that came with it"
    return state, Observation(
        f"The {words} lies ready for assembly {assembly.id}.", _stand_of_dots(shop, state)
    )


def _stand_of_dots(shop: Shop, state: BenchState) -> tuple[Fact, ...]:
    assembly = at_station(state, Station.STAND)
    found = uniformity.dots(shop, assembly)
    return tuple(Fact(name.capitalize(), f"at {shop.say(at, Measure.ANGLE)}") for name, at in found.items())


def turn_tire(shop: Shop, state: BenchState, action: TurnTire) -> Outcome:
    assembly = at_station(state, Station.STAND)
    if assembly.beads not in (Beads.BROKEN, Beads.OFF):
        raise Stopped("The beads hold the tire. Break them first; then it turns on the wheel.")
    turn = float(angles.wrap_turn(action.turn_deg))
    state = changed(
        state,
        assembly,
        turn_deg=float(angles.wrap(assembly.turn_deg + turn)),
        balanced=False,
        checked=False,
    )
    text = f"The tire is turned on the wheel: {shop.say(turn, Measure.TURN)}."
    return state, Observation(text, _stand_of_dots(shop, state))


def mount(shop: Shop, state: BenchState, action: Mount) -> Outcome:
    assembly = at_station(state, Station.STAND)
    if assembly.beads is not Beads.OFF:
        raise Stopped("The tire is on the wheel already.")
    _need_sound(shop, assembly)
    state = changed(
        state,
        assembly,
        beads=Beads.NOT_SEATED,
        turned_over=action.turned_over,
        balanced=False,
        checked=False,
        number=None,
        number_side=None,
    )
    text = f"The tire of assembly {assembly.id} is on its wheel; its beads are not seated yet."
    if not assembly.lubricated:
        state = with_rule(state, "mounted-dry", assembly.id)
        text += " It went on hard: there was no lubricant."
    state, seen = _dragged(state, assembly, text)
    return state, replace(seen, facts=_stand_of_dots(shop, state))


def _need_sound(shop: Shop, assembly: AssemblyState) -> None:
    damage = shop.bench(assembly.id).sheet.damage
    if damage and assembly.tire == "own":
        raise Stopped(
            f"Stop: this tire must not go back into service ({damage}). Put a sound one on.",
            Caution.DAMAGED_TIRE,
        )


def inflate(shop: Shop, state: BenchState, action: Inflate) -> Outcome:
    assembly = at_station(state, Station.STAND)
    if assembly.beads is Beads.OFF:
        raise Stopped("There is no tire on the wheel.")
    if action.kpa > SEATING_LIMIT_KPA:
        limit = shop.say(SEATING_LIMIT_KPA, Measure.PRESSURE)
        raise Stopped(
            f"Stop: never more than {limit} to seat a bead. If one doesn’t seat, let the air out and look.",
            Caution.BEAD_SEATING,
        )
    if action.kpa > 0:
        _need_sound(shop, assembly)
    seats = assembly.beads is not Beads.SEATED and assembly.lubricated and action.kpa >= SEATS_AT_KPA
    beads = assembly.beads
    if seats:
        beads = Beads.SEATED
    elif beads is Beads.BROKEN and action.kpa > 0:
        beads = Beads.NOT_SEATED
    holds = action.kpa if assembly.core_in else 0.0
    state = changed(
        state,
        assembly,
        beads=beads,
        pressure_kpa=holds,
        cap_on=False,
        lubricated=assembly.lubricated and not seats,
    )
    return state, Observation(_after_air(shop, action.kpa, assembly, beads, seats=seats))


def _after_air(shop: Shop, kpa: float, before: AssemblyState, beads: Beads, *, seats: bool) -> str:
    asked = shop.say(kpa, Measure.PRESSURE)
    if kpa == 0:
        return "All the air is out."
    if seats:
        text = f"Both beads slid onto their seats on the way to {asked}."
    elif beads is Beads.SEATED:
        text = f"The gauge shows {asked}."
    elif before.lubricated:
        text = f"At {asked} the beads have not slid onto their seats yet."
    else:
        text = f"At {asked} the beads stick on the dry rim. They will not seat like this."
    if not before.core_in:
        text += " The valve core is out, so the air comes back out when the chuck is off."
    return text
