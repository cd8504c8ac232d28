"""Looking at an assembly, carrying it about, and what is done to it anywhere."""

from dataclasses import replace

from app.domain.bench import uniformity
from app.domain.bench.actions import Bring, Look, PeelLabel, WriteNumber
from app.domain.bench.observation import Fact, Observation
from app.domain.bench.shop import Shop, number
from app.domain.bench.state import AssemblyState, Beads, BenchState, GaugeState, Station
from app.domain.bench.steps import PLACES, Outcome, Stopped, changed, need_off_the_car, where_words, with_rule
from app.domain.measures import Measure


def look(shop: Shop, state: BenchState, action: Look) -> Outcome:
    assembly = state.assembly(action.assembly)
    facts = _LOOKS[action.at](shop, assembly)
    return state, Observation(f"You look at assembly {assembly.id}: {action.at}.", tuple(facts))


def _sidewall(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    truth, sheet = shop.truth(assembly.id), shop.bench(assembly.id).sheet
    facts = [Fact("Size", truth.tire.designation)]
    if assembly.tire == "new":
        return [*facts, Fact("Tire", "new")]
    if truth.tire.week is not None and truth.tire.year is not None:
        date = f"{int(truth.tire.week):02d}{int(truth.tire.year) % 100:02d}"
        facts.append(Fact("Identification number", f"DOT {truth.tire.tin_prefix} {date}"))
    if (side := shop.arrow_suits(assembly)) is not None:
        facts.append(Fact("Rotation arrow", f"points forward on the {side} side of the car"))
    if sheet.outside is not None:
        facts.append(Fact("Sidewall marked “outside”", f"faces {shop.outside_faces(assembly)}"))
    facts += _dots(shop, assembly)
    label = uniformity.label_deg(shop, assembly)
    at = "no" if label is None else f"at {shop.say(label, Measure.ANGLE)}"
    return [*facts, Fact("Shelf label on the tread", at)]


def _dots(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    found = uniformity.dots(shop, assembly)
    return [Fact(name.capitalize(), f"at {shop.say(at, Measure.ANGLE)}") for name, at in found.items()]


def _tread(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    depths = shop.bench(assembly.id).sheet.tread_depth_mm if assembly.tire == "own" else (8.0, 8.0, 8.0)
    grooves = ("Inner groove", "Middle groove", "Outer groove")
    # Tread depth is read to a tenth of a millimetre, or to a hundredth of an inch.
    return [Fact(name, shop.say(depth, Measure.RUNOUT)) for name, depth in zip(grooves, depths, strict=True)]


def _valve(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    sensor = shop.bench(assembly.id).sheet.valve == "sensor"
    facts = [Fact("Valve", "metal stem with a pressure sensor behind it" if sensor else "rubber, no sensor")]
    if sensor:
        facts.append(Fact("Sensor", "whole" if assembly.sensor_whole else "broken"))
    facts.append(Fact("Core", "in" if assembly.core_in else "out"))
    facts.append(Fact("Cap", "on" if assembly.cap_on else "off"))
    facts.append(Fact("Pressure", shop.say(assembly.pressure_kpa, Measure.PRESSURE)))
    return facts


def _flange(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    truth, bench = shop.truth(assembly.id), shop.bench(assembly.id)
    return [
        Fact("Wheel", f"{truth.wheel.material}, {truth.wheel.diameter_in:g} × {truth.wheel.width_in:g} in"),
        Fact("Lip thickness", shop.say(number(bench.flange_mm), Measure.RUNOUT)),
        Fact("Bore", shop.say(number(bench.bore_mm), Measure.RUNOUT)),
        Fact("Spokes", str(bench.sheet.spokes) if bench.sheet.spokes else "none"),
        Fact("Mounting face", "dirty" if _is_dirty(shop, assembly) else "clean"),
        Fact("Inside of the rim", "clean" if assembly.rim_clean else "dusty"),
    ]


def _is_dirty(shop: Shop, assembly: AssemblyState) -> bool:
    return not assembly.face_clean and number(shop.bench(assembly.id).dirt_mm) > 0


def _weights(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    if not assembly.weights:
        return [Fact("Weights", "none")]
    return [
        Fact(
            f"{'Old ' if weight.old else ''}{weight.kind} weight, {weight.plane}".capitalize(),
            f"{shop.say(weight.mass_g, Measure.MASS)} at {shop.say(weight.angle_deg, Measure.ANGLE)}",
        )
        for weight in assembly.weights
    ]


def _damage(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    damage = shop.bench(assembly.id).sheet.damage
    return [Fact("Damage", damage if damage and assembly.tire == "own" else "none to be seen")]


def _marks(shop: Shop, assembly: AssemblyState) -> list[Fact]:
    chalk = Fact("Chalk line across tire and wheel", "yes" if assembly.check_mark else "no")
    written = f"{assembly.number} on the {assembly.number_side} sidewall" if assembly.number else "none"
    return [*_dots(shop, assembly), chalk, Fact("Number", written)]


_LOOKS = {
    "sidewall": _sidewall,
    "tread": _tread,
    "valve": _valve,
    "flange": _flange,
    "weights": _weights,
    "damage": _damage,
    "marks": _marks,
}


def bring(shop: Shop, state: BenchState, action: Bring) -> Outcome:
    del shop
    assembly, to = state.assembly(action.assembly), Station(action.to)
    need_off_the_car(assembly)
    if assembly.where == to:
        raise Stopped(f"Assembly {assembly.id} is {where_words(assembly)} already.")
    other = None if to is Station.RACK else state.at(to)
    if other is not None:
        raise Stopped(f"Assembly {other.id} stands on {PLACES[to]}. Bring it back to the rack first.")
    came_from = assembly.where
    state = changed(state, assembly, where=to.value)
    if Station.BALANCER in (came_from, to):
        state = replace(state, balancer=replace(state.balancer, grip=None, half_turned=False))
    if Station.GAUGE in (came_from, to):
        state = replace(state, gauge=GaugeState())
    return state, Observation(f"Assembly {assembly.id} is now {where_words(state.assembly(assembly.id))}.")


def write_number(shop: Shop, state: BenchState, action: WriteNumber) -> Outcome:
    del shop
    assembly = state.assembly(action.assembly)
    if assembly.beads is Beads.OFF:
        raise Stopped(f"The tire of assembly {assembly.id} is off. Number the assembly when it is mounted.")
    state = changed(state, assembly, number=action.number, number_side=action.side)
    text = f"{action.number} is written on the {action.side} sidewall of assembly {assembly.id}."
    if action.side == "outboard":
        state = with_rule(state, "number-outboard", assembly.id)
        text += " The customer will see it there."
    return state, Observation(text)


def peel_label(shop: Shop, state: BenchState, action: PeelLabel) -> Outcome:
    assembly = state.assembly(action.assembly)
    if not assembly.label_on or assembly.tire == "new":
        raise Stopped(f"There is no shelf label on assembly {assembly.id}.")
    label = shop.bench(assembly.id).label
    mass = f" It weighs {shop.say(number(label.mass_g), Measure.MASS)}." if label else ""
    state = changed(state, assembly, label_on=False, checked=False)
    return state, Observation(f"The shelf label is off the tread of assembly {assembly.id}.{mass}")
