"""The runout gauge and the load roller."""

from dataclasses import replace
from typing import Any

from app.compute import phasors, runout
from app.domain.bench import uniformity
from app.domain.bench.actions import PlaceGauge, ReadDial, ReadRound, Roll
from app.domain.bench.observation import Fact, Observation, Readings
from app.domain.bench.shop import Shop
from app.domain.bench.state import AssemblyState, Beads, BenchState, GaugeState, Station
from app.domain.bench.steps import Outcome, Stopped, at_station, need_seated
from app.domain.measures import Measure

LEAST_ROLLING_KPA = 100.0


def place_gauge(shop: Shop, state: BenchState, action: PlaceGauge) -> Outcome:
    del shop
    assembly = at_station(state, Station.GAUGE)
    if action.place == "tread":
        if assembly.beads is Beads.OFF:
            raise Stopped("There is no tire on the wheel.")
        need_seated(assembly)
    if action.place.endswith("seat") and assembly.beads is not Beads.OFF:
        raise Stopped("The tire covers the bead seats. Take it off its wheel to measure there.")
    state = replace(state, gauge=GaugeState(action.place, 0.0))
    return state, Observation(f"The indicator stands at the {action.place}, zeroed at the valve.")


def read_dial(shop: Shop, state: BenchState, action: ReadDial) -> Outcome:
    assembly, place = _placed(state)
    value = float(uniformity.dial_readings_mm(shop, assembly, place, [action.at_deg])[0])
    at_deg = action.at_deg % 360
    state = replace(state, gauge=replace(state.gauge, at_deg=at_deg))
    shown = shop.say(value, Measure.RUNOUT)
    return state, Observation(
        f"At {shop.say(at_deg, Measure.ANGLE)} the dial shows {shown}.",
        (Fact("Dial", shown),),
        Readings("dial", (at_deg,), (value,)),
    )


def read_round(shop: Shop, state: BenchState, action: ReadRound) -> Outcome:
    assembly, place = _placed(state)
    at_deg = runout.reading_angles(action.steps)
    values = uniformity.dial_readings_mm(shop, assembly, place, at_deg)
    first = runout.first_harmonic(values)
    facts = (
        Fact("Total", shop.say(float(runout.total_indicated(values)), Measure.RUNOUT)),
        Fact("First harmonic, peak to peak", shop.say(float(phasors.size(first)), Measure.RUNOUT)),
        Fact("High spot", shop.say(float(phasors.angle_deg(first, 1.0)), Measure.ANGLE)),
    )
    text = f"{action.steps} readings once around the {place}."
    return state, Observation(text, facts, _readings("dial", at_deg, values))


def _placed(state: BenchState) -> tuple[AssemblyState, str]:
    assembly = at_station(state, Station.GAUGE)
    if state.gauge.place is None:
        raise Stopped("The indicator is not placed yet. Choose what it touches first.")
    return assembly, state.gauge.place


def roll(shop: Shop, state: BenchState, action: Roll) -> Outcome:
    del action
    assembly = at_station(state, Station.ROLLER)
    if assembly.beads is Beads.OFF:
        raise Stopped("There is no tire on the wheel.")
    need_seated(assembly)
    if assembly.pressure_kpa < LEAST_ROLLING_KPA:
        pressure = shop.say(assembly.pressure_kpa, Measure.PRESSURE)
        raise Stopped(f"The tire holds {pressure}, too little to carry the load. Set its pressure first.")
    values = uniformity.force_readings_n(shop, assembly)
    found = runout.harmonics(values)
    first, high = float(found.peak_to_peak[0]), float(found.high_deg[0])
    second = float(found.peak_to_peak[1])
    conicity = uniformity.conicity_n(shop, assembly)
    side = "outboard" if conicity >= 0 else "inboard"
    facts = (
        Fact("Total variation", shop.say(float(runout.total_indicated(values)), Measure.FORCE)),
        Fact("First harmonic, peak to peak", shop.say(first, Measure.FORCE)),
        Fact("High point", shop.say(high, Measure.ANGLE)),
        Fact("Second harmonic, peak to peak", shop.say(second, Measure.FORCE)),
        Fact("Conicity", f"{shop.say(abs(conicity), Measure.FORCE)} toward {side}"),
    )
    at_deg = runout.reading_angles(len(values))
    return state, Observation(
        f"The roller has pressed assembly {assembly.id} once around.",
        facts,
        _readings("force", at_deg, values),
    )


def _readings(name: str, at_deg: Any, values: Any) -> Readings:
    return Readings(name, tuple(at_deg.tolist()), tuple(values.tolist()))
