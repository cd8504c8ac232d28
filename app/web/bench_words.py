"""The bench in words: its stations, and each action as a student or an instructor reads it in the log."""

from app.compute import units as factors
from app.domain import bench
from app.domain.bench import Action, Station, Weight
from app.domain.bench import actions as kinds
from app.domain.measures import Measure, UnitSystem, show
from app.domain.variants import Variant

STATIONS: dict[Station, tuple[str, str]] = {
    Station.RACK: ("Rack", "Look at what came in, carry it to a station"),
    Station.STAND: ("Mounting stand", "Tire off and on, air in and out"),
    Station.BALANCER: ("Balancer", "Clamp, spin, fit weights"),
    Station.GAUGE: ("Runout gauge", "Dial indicator on rim or tread"),
    Station.ROLLER: ("Load roller", "Force over one turn"),
    Station.CAR: ("Car", "Place, tighten, lower"),
}
"""Each station's name and what is done there, in the order of the work."""

SHORT = {Station.STAND: "Stand", Station.GAUGE: "Gauge", Station.ROLLER: "Roller"}
"""Names that are short enough for six beside each other on a telephone, where they differ."""

CORNERS = {"LF": "left front", "RF": "right front", "LR": "left rear", "RR": "right rear"}

LOOKS = {
    "sidewall": "Sidewall",
    "tread": "Tread depth",
    "valve": "Valve and pressure",
    "flange": "Rim and bore",
    "weights": "Weights",
    "damage": "Damage",
    "marks": "Dots and marks",
}

PLAIN = {
    "core-out": "Take the valve core out",
    "core-in": "Put the valve core in",
    "cap-on": "Put the cap on",
    "demount": "Take the tire off",
    "check-mark": "Chalk a line across tire and wheel",
    "lubricate": "Lubricate beads and seats",
    "measure": "Measure the rim",
    "half-turn": "Turn half a turn on the shaft",
    "roll": "Roll once around",
    "lower-car": "Lower the car",
}
"""Actions without a choice."""

TIRES = {"own": "its own tire", "new": "a new tire"}
GRIPS = {"firm": "Clamp firmly", "light": "Nut on by hand", "off": "Take the nut off"}
CLEANS = {"face": "Clean mounting face and cone", "rim": "Wipe the inside of the rim"}


def distance_unit(units: UnitSystem) -> str:
    """Of the way driven until the lugs are checked again."""
    return "km" if units is UnitSystem.METRIC else "mi"


def say(value: float, measure: Measure, variant: Variant) -> str:
    return show(value, measure, variant.units).replace("-", "\N{MINUS SIGN}")


def action_words(action: Action, variant: Variant) -> str:
    """What was done, as one short sentence without its full stop."""
    match action:
        case kinds.Look() | kinds.Bring() | kinds.WriteNumber() | kinds.PeelLabel():
            return _anywhere(action)
        case kinds.StripWeights(assembly=letter):
            return f"Take every weight off {letter}"
        case kinds.TakeOffWeight(assembly=letter):
            return "Take one weight off" + (f" {letter}" if letter else "")
        case kinds.StandAction():
            return _at_the_stand(action, variant)
        case kinds.BalancerAction():
            return _at_the_balancer(action, variant)
        case kinds.CarAction():
            return _at_the_car(action, variant)
        case kinds.PlaceGauge(place=place):
            return f"Indicator to the {place}"
        case kinds.ReadDial(at_deg=at):
            return f"Read the dial at {say(at, Measure.ANGLE, variant)}"
        case kinds.ReadRound(steps=steps):
            return f"Read the dial once around, {steps} places"
    return PLAIN[action.DO]


def _anywhere(action: Action) -> str:
    match action:
        case kinds.Look(assembly=letter, at=at):
            return f"Look at {letter}: {LOOKS[at].lower()}"
        case kinds.Bring(assembly=letter, to=to):
            return f"Carry {letter} to the {STATIONS[Station(to)][0].lower()}"
        case kinds.WriteNumber(assembly=letter, number=number, side=side):
            return f"Write {number} on the {side} sidewall of {letter}"
        case kinds.PeelLabel(assembly=letter):
            return f"Peel the shelf label off {letter}"
    raise AssertionError(f"no words for {action.DO}")


def _at_the_stand(action: Action, variant: Variant) -> str:
    match action:
        case kinds.BreakBeads(shoe_deg=shoe):
            return f"Break the beads, shoe at {say(shoe, Measure.ANGLE, variant)}"
        case kinds.ChooseTire(tire=tire):
            return f"Take {TIRES[tire]}"
        case kinds.TurnTire(turn_deg=turn):
            return f"Turn the tire on the wheel, {say(turn, Measure.TURN, variant)}"
        case kinds.Mount(turned_over=over):
            return "Mount the tire" + (", turned over" if over else "")
        case kinds.Inflate(kpa=kpa):
            return "Let all air out" if kpa == 0 else f"Air to {say(kpa, Measure.PRESSURE, variant)}"
    return PLAIN[action.DO]


def _at_the_balancer(action: Action, variant: Variant) -> str:
    match action:
        case kinds.Cone(cone=cone):
            return f"Cone “{cone}” on the shaft"
        case kinds.Clamp(grip=grip):
            return GRIPS[grip]
        case kinds.Clean(what=what):
            return CLEANS[what]
        case kinds.Enter(distance_mm=distance, width_in=width, diameter_in=diameter):
            typed = say(distance, Measure.LENGTH, variant)
            return f"Type in distance {typed}, width {width:g} in, diameter {diameter:g} in"
        case kinds.Mode(planes="one", inboard=inboard):
            return f"Reckon with one plane, {inboard}"
        case kinds.Mode(inboard=inboard, outboard=outboard):
            return f"Reckon with two planes, {inboard} inboard, {outboard} outboard"
        case kinds.Spin(hood_down=down):
            return f"Spin, hood {'down' if down else 'up'}"
        case kinds.FitWeight():
            return f"Fit {weight_words(action, variant)}"
        case kinds.SplitWeight(plane=plane, first_deg=first, second_deg=second):
            one, other = say(first, Measure.ANGLE, variant), say(second, Measure.ANGLE, variant)
            return f"Share the weight {plane} between {one} and {other}"
    return PLAIN[action.DO]


def weight_words(weight: kinds.FitWeight | Weight, variant: Variant) -> str:
    """`35 g clip P, inboard at 120°`."""
    return f"{weight_name(weight, variant)} at {say(weight.angle_deg, Measure.ANGLE, variant)}"


def weight_name(weight: kinds.FitWeight | Weight, variant: Variant) -> str:
    """`35 g clip P, inboard`."""
    clip = f" {weight.clip}" if weight.clip else ""
    return f"{say(weight.mass_g, Measure.MASS, variant)} {weight.kind}{clip}, {weight.plane}"


def _at_the_car(action: Action, variant: Variant) -> str:
    match action:
        case kinds.RaiseCar(at=at):
            return f"Raise the car at the {at}"
        case kinds.Place(assembly=letter, corner=corner):
            return f"Put {letter} on the {CORNERS[corner]}"
        case kinds.TakeOff(corner=corner):
            return f"Take the {CORNERS[corner]} off"
        case kinds.Tighten(corner=corner, order=order, torque_nm=torque):
            lugs = ", ".join(str(lug) for lug in order)
            return f"Tighten {corner} to {say(torque, Measure.TORQUE, variant)}, lugs {lugs}"
        case kinds.NoteRetorque(after_km=km):
            unit = distance_unit(variant.units)
            return f"Note: check the lugs after {float(factors.convert(km, 'km', unit)):.0f} {unit}"
    return PLAIN[action.DO]


def stations_of(variant: Variant) -> tuple[Station, ...]:
    """The stations that this lab's bench has."""
    sheet = variant.scenario.bench
    return tuple(each for each in bench.stations() if sheet is None or each.value in sheet.stations)
