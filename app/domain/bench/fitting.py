"""The floor: assemblies onto the car, lugs tightened in steps, the retorque noted."""

from dataclasses import replace

from app.compute import units
from app.domain.bench.actions import LowerCar, NoteRetorque, Place, RaiseCar, TakeOff, Tighten
from app.domain.bench.observation import Fact, Observation
from app.domain.bench.rules import crosswise
from app.domain.bench.shop import SNUG_SHARE, STUD_BREAKS_AT, TORQUE_MAY_EXCEED, Shop
from app.domain.bench.state import (
    CORNERS,
    AssemblyState,
    Beads,
    BenchState,
    CarState,
    Station,
    TighteningPass,
)
from app.domain.bench.steps import Outcome, Stopped, changed, need_off_the_car, with_rule
from app.domain.measures import Measure
from app.domain.scenario import Caution


def raise_car(shop: Shop, state: BenchState, action: RaiseCar) -> Outcome:
    del shop
    if state.car.raised:
        raise Stopped("The car is up already.")
    if action.at != "lift points":
        raise Stopped(
            "Stop: a sill bends and the car slips. Lift only at the maker’s lift points.", Caution.LIFTING
        )
    return replace(state, car=replace(state.car, raised=True)), Observation(
        "The car is up, locked, wheels free."
    )


def lower_car(shop: Shop, state: BenchState, action: LowerCar) -> Outcome:
    del shop, action
    if not state.car.raised:
        raise Stopped("The car stands on the floor already.")
    empty = [corner for corner in CORNERS if state.at(corner) is None]
    if empty:
        raise Stopped(
            f"Stop: there is no wheel at {', '.join(empty)}. The car would come down on its hub.",
            Caution.LIFTING,
        )
    loose = [corner for corner in CORNERS if not _on(state, corner).passes]
    if loose:
        raise Stopped(
            f"Stop: the lugs at {', '.join(loose)} are not even snug. Snug them first.", Caution.TORQUE
        )
    return replace(state, car=replace(state.car, raised=False)), Observation("The car stands on its wheels.")


def _on(state: BenchState, corner: str) -> AssemblyState:
    assembly = state.at(corner)
    if assembly is None:
        raise Stopped(f"There is no assembly at {corner}.")
    return assembly


def place(shop: Shop, state: BenchState, action: Place) -> Outcome:
    assembly = state.assembly(action.assembly)
    need_off_the_car(assembly)
    _need_raised(state)
    other = state.at(action.corner)
    if other is not None:
        raise Stopped(f"Assembly {other.id} is at {action.corner}. Take it off first.")
    if assembly.beads is Beads.OFF:
        raise Stopped(f"There is no tire on assembly {assembly.id}.")
    if shop.bench(assembly.id).sheet.damage and assembly.tire == "own":
        raise Stopped(
            "Stop: this tire is damaged and must not go on a car. Put a sound one on.", Caution.DAMAGED_TIRE
        )
    came_from = assembly.where
    state = changed(state, assembly, where=action.corner, passes=())
    if came_from == Station.BALANCER:
        state = replace(state, balancer=replace(state.balancer, grip=None, half_turned=False))
    text = f"Assembly {assembly.id} is on the hub at {action.corner}, its nuts on by hand."
    suits = shop.arrow_suits(assembly)
    if suits not in (None, shop.side_of(action.corner)):
        text += " Its arrow points backward here."
    return state, Observation(text)


def _need_raised(state: BenchState) -> None:
    if not state.car.raised:
        raise Stopped("The car stands on its wheels. Raise it at its lift points first.")


def take_off(shop: Shop, state: BenchState, action: TakeOff) -> Outcome:
    del shop
    assembly = _on(state, action.corner)
    _need_raised(state)
    state = changed(state, assembly, where=Station.RACK.value, passes=())
    return state, Observation(f"Assembly {assembly.id} is off the car and back on the rack.")


def tighten(shop: Shop, state: BenchState, action: Tighten) -> Outcome:
    assembly, full = _on(state, action.corner), shop.torque_nm
    torque = shop.say(action.torque_nm, Measure.TORQUE)
    if action.torque_nm > STUD_BREAKS_AT * full:
        raise Stopped(
            f"Stop: {torque} would break the studs. The maker asks for {shop.say(full, Measure.TORQUE)}.",
            Caution.TORQUE,
        )
    snug = action.torque_nm <= SNUG_SHARE * full
    before = assembly.passes
    state = changed(state, assembly, passes=(*before, TighteningPass(action.order, action.torque_nm)))
    text = [f"{len(action.order)} lugs at {action.corner} tightened to {torque}."]
    if not crosswise(action.order):
        state = with_rule(state, "out-of-pattern", assembly.id)
        text.append("Going round in turn pulls the wheel on crooked.")
    if not snug and state.car.raised:
        state = with_rule(state, "in-the-air", assembly.id)
        text.append("The wheel hung in the air and turned along; it is pulled to full torque on the floor.")
    if not snug and not before:
        state = with_rule(state, "in-one-step", assembly.id)
        text.append("They were not snugged first.")
    if action.torque_nm > TORQUE_MAY_EXCEED * full:
        state = with_rule(state, "over-torque", assembly.id)
        text.append(f"That is past the maker’s {shop.say(full, Measure.TORQUE)}; studs stretch.")
    order = Fact("Order", ", ".join(str(lug) for lug in action.order))
    return state, Observation(" ".join(text), (order,))


def note_retorque(shop: Shop, state: BenchState, action: NoteRetorque) -> Outcome:
    del shop
    state = replace(state, car=CarState(state.car.raised, action.after_km))
    miles = float(units.convert(action.after_km, "km/h", "mph"))
    return state, Observation(
        f"Noted on the job card: check the wheel torque after {action.after_km:.0f} km ({miles:.0f} mi)."
    )
