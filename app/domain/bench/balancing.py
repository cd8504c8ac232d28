"""The balancer: cone and clamp, dimensions, spins, weights on and off."""

from dataclasses import replace

from app.compute import phasors, unbalance
from app.domain.bench import weighing
from app.domain.bench.actions import (
    Clamp,
    Clean,
    Cone,
    Enter,
    HalfTurn,
    MeasureRim,
    Mode,
    Spin,
)
from app.domain.bench.observation import Fact, Observation, Readings
from app.domain.bench.shop import Shop, number
from app.domain.bench.state import (
    AssemblyState,
    Beads,
    BenchState,
    Dimensions,
    SpinReading,
    Station,
)
from app.domain.bench.steps import Outcome, Stopped, at_station, changed, need_seated, with_rule
from app.domain.measures import Measure
from app.domain.scenario import Caution
from app.domain.truth import PLANES


def cone(shop: Shop, state: BenchState, action: Cone) -> Outcome:
    chosen = shop.cone(action.cone)
    if state.balancer.grip is not None:
        raise Stopped("The wheel is clamped. Take the nut off before you change the cone.")
    if chosen is None:  # checked before, but a name is a name
        raise Stopped("There is no such cone.")
    fits = (Fact("Fits bores from", _length(shop, chosen.min_mm)), Fact("to", _length(shop, chosen.max_mm)))
    state = replace(state, balancer=replace(state.balancer, cone=chosen.id))
    return state, Observation(f"The cone “{chosen.id}” is on the shaft.", fits)


def _length(shop: Shop, value_mm: float) -> str:
    return shop.say(value_mm, Measure.RUNOUT)


def clamp(shop: Shop, state: BenchState, action: Clamp) -> Outcome:
    assembly = at_station(state, Station.BALANCER)
    if action.grip == "off":
        if state.balancer.grip is None:
            raise Stopped("There is no nut on the shaft.")
        state = replace(state, balancer=replace(state.balancer, grip=None))
        return state, Observation("The nut is off.")
    chosen = shop.cone(state.balancer.cone) if state.balancer.cone else None
    if chosen is None:
        raise Stopped("There is no cone on the shaft. Choose one by the wheel’s bore first.")
    state = replace(state, balancer=replace(state.balancer, grip=action.grip))
    text = "The nut is tight." if action.grip == "firm" else "The nut is on by hand."
    bore = number(shop.bench(assembly.id).bore_mm)
    if bore > chosen.max_mm:
        text += " The cone goes right through the bore."
    elif bore < chosen.min_mm:
        text += " The cone does not go into the bore; the wheel sits on its edge."
    return state, Observation(text)


def clean(shop: Shop, state: BenchState, action: Clean) -> Outcome:
    del shop
    assembly = at_station(state, Station.BALANCER)
    if action.what == "rim":
        return changed(state, assembly, rim_clean=True), Observation(
            "The inside of the rim is wiped where an adhesive weight may go."
        )
    if state.balancer.grip is not None:
        raise Stopped("The mounting face lies against the balancer. Take the nut off first.")
    return changed(state, assembly, face_clean=True), Observation(
        "The mounting face, the cone and the shaft are clean."
    )


def measure(shop: Shop, state: BenchState, action: MeasureRim) -> Outcome:
    del action
    assembly = at_station(state, Station.BALANCER)
    true = weighing.true_dimensions(shop, assembly.id)
    return state, Observation(
        f"You measure the rim of assembly {assembly.id}.",
        (
            Fact("Distance to the rim", shop.say(true.distance_mm, Measure.LENGTH)),
            Fact("Width", f"{true.width_in:g} in"),
            Fact("Diameter", f"{true.diameter_in:g} in"),
        ),
    )


def enter(shop: Shop, state: BenchState, action: Enter) -> Outcome:
    typed = Dimensions(action.distance_mm, action.width_in, action.diameter_in)
    facts = (
        Fact("Distance", shop.say(typed.distance_mm, Measure.LENGTH)),
        Fact("Width", f"{typed.width_in:g} in"),
        Fact("Diameter", f"{typed.diameter_in:g} in"),
    )
    state = replace(state, balancer=replace(state.balancer, entered=typed, last=()))
    return state, Observation("The dimensions are typed in.", facts)


def mode(shop: Shop, state: BenchState, action: Mode) -> Outcome:
    del shop
    balancer = replace(
        state.balancer, planes=action.planes, inboard=action.inboard, outboard=action.outboard, last=()
    )
    if action.planes == "one":
        text = f"The balancer reckons with one plane: {action.inboard} weights inboard."
    else:
        text = f"The balancer reckons with two planes: {action.inboard} inboard, {action.outboard} outboard."
    return replace(state, balancer=balancer), Observation(text)


def spin(shop: Shop, state: BenchState, action: Spin) -> Outcome:
    assembly = at_station(state, Station.BALANCER)
    if not action.hood_down:
        raise Stopped("Stop: the hood is up. Close it before the wheel turns.", Caution.SPINNING)
    if state.balancer.grip is None:
        raise Stopped("Stop: nothing holds the wheel on the shaft. Clamp it first.", Caution.SPINNING)
    need_seated(assembly)
    if state.balancer.entered is None and shop.sheet.asks:
        raise Stopped("The balancer asks for the rim’s dimensions. Type them in first.")
    state, lost = _fly_off(state, assembly)
    assembly = state.assembly(assembly.id)
    last = _readings(shop, state, assembly)
    balancer = replace(state.balancer, last=last, last_assembly=assembly.id)
    state = replace(state, spins=state.spins + 1, balancer=balancer)
    if state.balancer.grip == "firm" and assembly.beads is Beads.SEATED:
        state = changed(state, assembly, balanced=True, checked=True)
    return state, Observation(
        f"{lost}The balancer asks for: {'; '.join(_words(shop, each) for each in last)}.",
        tuple(Fact(_name(each), _asked(shop, each)) for each in last),
        Readings(
            "spin",
            tuple(each.angle_deg for each in last),
            tuple(each.mass_g for each in last),
        ),
    )


def _fly_off(state: BenchState, assembly: AssemblyState) -> tuple[BenchState, str]:
    loose = [weight for weight in assembly.weights if not weight.holds]
    if not loose:
        return state, ""
    state = changed(state, assembly, weights=tuple(each for each in assembly.weights if each.holds))
    for weight in loose:
        rule = "clip-thrown" if weight.kind == "clip" else "strip-thrown"
        state = with_rule(state, rule, assembly.id)
    what = "A weight flew" if len(loose) == 1 else f"{len(loose)} weights flew"
    return state, f"{what} off against the hood as the wheel came up to speed. "


def _readings(shop: Shop, state: BenchState, assembly: AssemblyState) -> tuple[SpinReading, ...]:
    """What the machine shows: rounded to its steps, nothing where the clamp slips."""
    balancer = state.balancer
    if balancer.planes == "one":
        asked = [weighing.static_asked_g(shop, assembly, balancer, state.number)]
    else:
        asked = weighing.spin(shop, assembly, balancer, state.number).corrections_g.tolist()
    if balancer.grip == "light":
        asked = [0j] * len(asked)
    kinds = (balancer.inboard, balancer.outboard)
    return tuple(
        _shown(shop, plane, kind, each) for plane, kind, each in zip(PLANES, kinds, asked, strict=False)
    )


def _shown(shop: Shop, plane: str, kind: str, asked_g: complex) -> SpinReading:
    machine = shop.variant.truth.machine
    mass_g = float(unbalance.round_to_step(abs(asked_g), machine.step_g, machine.dead_band_g))
    if mass_g == 0:
        return SpinReading(plane, kind, 0.0, None)
    return SpinReading(plane, kind, mass_g, float(round(float(phasors.angle_deg(asked_g))) % 360))


def _name(reading: SpinReading) -> str:
    return f"{reading.plane.capitalize()}, {reading.kind}"


def _asked(shop: Shop, reading: SpinReading) -> str:
    if reading.angle_deg is None:
        return shop.say(0.0, Measure.MASS)
    return f"{shop.say(reading.mass_g, Measure.MASS)} at {shop.say(reading.angle_deg, Measure.ANGLE)}"


def _words(shop: Shop, reading: SpinReading) -> str:
    return f"{reading.plane} {_asked(shop, reading)}"


def half_turn(shop: Shop, state: BenchState, action: HalfTurn) -> Outcome:
    del shop, action
    at_station(state, Station.BALANCER)
    if state.balancer.grip is None:
        raise Stopped(
            "The wheel is not clamped. Clamp it; then it can be loosened, turned and clamped again."
        )
    balancer = replace(state.balancer, half_turned=not state.balancer.half_turned)
    return replace(state, balancer=balancer), Observation(
        "Loosened, turned half a turn on the shaft, and clamped again."
    )
