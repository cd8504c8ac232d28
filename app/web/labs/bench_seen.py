"""What a student has seen at the bench, picked from the log, and the drawings that show it.

A page takes what it draws from here alone, so that nothing is drawn that nobody has looked at.
"""

from collections.abc import Sequence
from functools import lru_cache

from app.domain.bench import AssemblyState, Beads, BenchState, Observation, Station, Weight
from app.domain.bench import actions as kinds
from app.domain.bench.shop import shop_of
from app.domain.bench.uniformity import dots
from app.domain.measures import Measure, shown_as
from app.domain.variants import Variant
from app.drawings import bench_stations
from app.drawings.bench_handles import Worked
from app.drawings.bench_section import OnRim, section
from app.drawings.bench_wheel import bench_wheel
from app.drawings.dial_readings import Series, dial_readings
from app.drawings.drawing import Drawing
from app.drawings.force_trace import force_trace
from app.drawings.measured.real_weights import INSIDE_THE_RIM
from app.drawings.sidewall import Moulded, sidewall
from app.drawings.spots import Spot, Vector
from app.drawings.vehicle_plan import Corner
from app.services.bench import Done
from app.web.bench_words import CORNERS, say, weight_name, weight_words

DOTS = {
    "light spot": ("light-spot", "light-spot dot"),
    "high point": ("high-point", "high-point dot"),
    "low point of the wheel": ("low-point", "low-point mark of the wheel"),
}
ON_THE_SIDEWALL = {
    "Light spot": DOTS["light spot"],
    "High point": DOTS["high point"],
    "Shelf label on the tread": ("shelf-label", "shelf label on the tread"),
}
DIAL_HALF_RANGE_MM = 1.0
# Most actions change nothing of what is drawn, so the newest of the larger drawings are kept: some megabytes.
MOST_KEPT = 64
_stand = lru_cache(MOST_KEPT)(bench_stations.stand)
_balancer = lru_cache(MOST_KEPT)(bench_stations.balancer)
_gauge = lru_cache(MOST_KEPT)(bench_stations.gauge)
_section = lru_cache(MOST_KEPT)(section)

SHOWS_THE_DOTS = (kinds.TurnTire, kinds.Mount, kinds.ChooseTire)


def known_weights(assembly: AssemblyState, done: Sequence[Done]) -> tuple[Weight, ...]:
    """The weights on a wheel that the student fitted, and old ones once they were looked at."""
    look = kinds.Look(assembly=assembly.id, at="weights")
    looked = any(each.action == look and not each.observation.refused for each in done)
    return tuple(weight for weight in assembly.weights if looked or not weight.old)


def knows_the_dots(letter: str, done: Sequence[Done]) -> bool:
    """Whether the dots of an assembly were looked at, or shown by work on its tire."""
    at_the_stand: str | None = None
    for each in done:
        if each.observation.refused:
            continue
        match each.action:
            case kinds.Look(assembly=seen, at="marks" | "sidewall") if seen == letter:
                return True
            case kinds.Bring(assembly=carried, to=to):
                at_the_stand = _stands(carried, to == Station.STAND, at_the_stand)
            case kinds.Place(assembly=carried):
                at_the_stand = _stands(carried, False, at_the_stand)
            case action if isinstance(action, SHOWS_THE_DOTS) and at_the_stand == letter:
                return True
    return False


def _stands(carried: str, to_the_stand: bool, before: str | None) -> str | None:
    if to_the_stand:
        return carried
    return None if carried == before else before


def spots_on(variant: Variant, assembly: AssemblyState, done: Sequence[Done]) -> tuple[Spot, ...]:
    """Weights and dots that the student knows of."""
    spots = [
        Spot(
            "weight" if weight.old else "own-weight",
            weight.angle_deg,
            ("old " if weight.old else "") + weight_name(weight, variant),
            radius=INSIDE_THE_RIM if weight.kind == "adhesive" else None,
            tag=f"W{place}",  # letters are assemblies
        )
        for place, weight in enumerate(known_weights(assembly, done), start=1)
    ]
    if knows_the_dots(assembly.id, done):
        found = dots(shop_of(variant), assembly)
        spots += [
            Spot(DOTS[name][0], at, DOTS[name][1], say(at, Measure.ANGLE, variant), tag=f"M{place}")
            for place, (name, at) in enumerate(found.items(), start=1)
        ]
    return tuple(spots)


def worked_drawing(
    station: Station, variant: Variant, state: BenchState, done: Sequence[Done]
) -> Worked | None:
    """The drawing that is worked at a station; None where nothing stands there."""
    if station is Station.CAR:
        corners = [
            Corner(position, assembly.id)
            for position in CORNERS
            if (assembly := state.at(position)) is not None
        ]
        return bench_stations.car(corners, driver_side=variant.scenario.vehicle.drive_side)
    if station is Station.RACK or (assembly := state.at(station)) is None:
        return None
    title = f"Assembly {assembly.id}"
    spots = spots_on(variant, assembly, done)
    spokes = _spokes(variant, assembly)
    match station:
        case Station.STAND:
            return _stand(
                spots,
                tire=_tire(assembly),
                chalk_deg=20.0 if assembly.check_mark else None,
                spokes=spokes,
                title=f"{title} on the mounting stand",
            )
        case Station.BALANCER:
            return _balancer(
                spots, _asked(variant, state, assembly), spokes=spokes, title=f"{title} on the balancer"
            )
        case Station.GAUGE:
            return _gauge(
                at_deg=state.gauge.at_deg,
                reading=_dial(variant, done),
                place=state.gauge.place,
                tire_on=assembly.beads is not Beads.OFF,
                spokes=spokes,
                title=f"{title} under the dial",
            )
    trace = last_trace(assembly.id, done)
    if trace is not None:
        return Worked(observed_drawing(trace, variant) or bench_wheel(title=title))
    tire = _tire(assembly)
    return Worked(bench_wheel(spots, title=f"{title} on the load roller", tire=tire, spokes=spokes))


def _spokes(variant: Variant, assembly: AssemblyState) -> int:
    return shop_of(variant).bench(assembly.id).sheet.spokes


def section_of(variant: Variant, assembly: AssemblyState, done: Sequence[Done]) -> Worked:
    """The half section in which a weight's place is picked, with the weights that the student knows of."""
    weights = tuple(
        OnRim(each.kind, each.plane, weight_words(each, variant)) for each in known_weights(assembly, done)
    )
    return _section(weights, spokes=_spokes(variant, assembly))


def _tire(assembly: AssemblyState) -> str:
    return {Beads.SEATED: "seated", Beads.OFF: "off"}.get(assembly.beads, "loose")


def _asked(variant: Variant, state: BenchState, assembly: AssemblyState) -> tuple[Vector, ...]:
    """What the last spin of this assembly asked for."""
    balancer = state.balancer
    if balancer.last_assembly != assembly.id:
        return ()
    return tuple(
        Vector(
            f"last spin: {each.plane} {say(each.mass_g, Measure.MASS, variant)} {each.kind}",
            each.mass_g,
            each.angle_deg,
            "computed" if each.plane == "inboard" else "other",
            tag="IN" if each.plane == "inboard" else "OUT",
        )
        for each in balancer.last
    )


def _dial(variant: Variant, done: Sequence[Done]) -> tuple[float, str] | None:
    """What the dial shows: the newest reading since it was placed."""
    for each in reversed(done):
        match each.action:
            case kinds.PlaceGauge() | kinds.Bring() if not each.observation.refused:
                return None
            case kinds.ReadDial() if each.observation.readings:
                value = each.observation.readings.values[0]
                return value / DIAL_HALF_RANGE_MM, say(value, Measure.RUNOUT, variant)
    return None


def dial_so_far(done: Sequence[Done]) -> list[tuple[str, str]]:
    """Angle and reading of every look at the dial since it was placed, in the order of the angles."""
    points: dict[float, str] = {}
    for each in done:
        match each.action:
            case kinds.PlaceGauge() | kinds.Bring() if not each.observation.refused:
                points.clear()
            case kinds.ReadDial() if each.observation.readings:
                points[each.action.at_deg % 360] = each.observation.facts[0].value
    return [(f"{at:g}°", points[at]) for at in sorted(points)]


def last_trace(letter: str, done: Sequence[Done]) -> Observation | None:
    """The newest force trace of an assembly since it came to the roller."""
    for each in reversed(done):
        match each.action:
            case kinds.Roll() if each.observation.readings:
                return each.observation
            case kinds.Bring(assembly=carried, to=Station.ROLLER) if carried == letter:
                return None
    return None


def observed_drawing(seen: Observation, variant: Variant) -> Drawing | None:
    """The readings or the sidewall that an observation shows."""
    facts = {fact.label: fact.value for fact in seen.facts}
    if "Size" in facts and seen.readings is None:
        return _sidewall(facts)
    readings = seen.readings
    if readings is None or len(readings.values) < 2:
        return None
    if readings.name == "dial":
        shown = shown_as(Measure.RUNOUT, variant.units)
        series = Series(
            "dial readings",
            tuple(value / shown.factor for value in readings.values),
            tuple(say(value, Measure.RUNOUT, variant) for value in readings.values),
        )
        return dial_readings([series], unit=shown.unit)
    if readings.name == "force":
        shown = shown_as(Measure.FORCE, variant.units)
        values = [value / shown.factor for value in readings.values]
        return force_trace(
            [at or 0.0 for at in readings.angles_deg],
            values,
            unit=shown.unit,
            total_text=facts.get("Total variation", "total"),
        )
    return None


def _sidewall(facts: dict[str, str]) -> Drawing:
    """Seen from outboard: forward is counterclockwise on the car's left side, clockwise on its right."""
    words = []
    if outside := facts.get("Sidewall marked “outside”"):
        words.append(Moulded("OUTSIDE" if outside.endswith("out") else "INSIDE", 90))
    rotation = None
    if arrow := facts.get("Rotation arrow"):
        rotation = "counterclockwise" if "left" in arrow else "clockwise"
    spots = [
        Spot(kind, float(facts[label].removeprefix("at ").removesuffix("°")), words_of, facts[label])
        for label, (kind, words_of) in ON_THE_SIDEWALL.items()
        if facts.get(label, "no") != "no"
    ]
    number = facts.get("Identification number", "")
    return sidewall(facts["Size"], number, spots, words=words, rotation=rotation)
