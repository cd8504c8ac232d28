"""Which actions each station offers. The order is the student's: nothing is left out for being too early."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.compute.weight_clips import CLIPS
from app.domain.bench import AssemblyState, BenchState, Station, Weight
from app.domain.bench.actions import GAUGE_PLACES
from app.domain.measures import Measure, show, shown_as
from app.domain.variants import Variant
from app.web.bench_words import (
    CLEANS,
    CORNERS,
    GRIPS,
    LOOKS,
    PLAIN,
    STATIONS,
    distance_unit,
    stations_of,
    weight_words,
)
from app.web.labs.bench_forms import ActionForm, Entry, Options, Problem

PLANES: Options = (("inboard", "Inboard"), ("outboard", "Outboard"))
KINDS: Options = (("clip", "Clip"), ("adhesive", "Adhesive"))
AROUND_HINT = "Clockwise from the valve, or like 4:30"
STEPS: Options = (("8", "8 places"), ("12", "12 places"), ("24", "24 places"), ("36", "36 places"))


@dataclass(frozen=True)
class Offer:
    """Forms that belong together, under a head."""

    title: str
    forms: tuple[ActionForm, ...]

    def mended(self, sent: Mapping[str, str], problem: Problem) -> "Offer":
        """With what was typed in the form that could not be read, and why."""
        forms = tuple(form.as_sent(sent, problem) if form.do == problem.do else form for form in self.forms)
        return Offer(self.title, forms)


def offers_at(
    station: Station, variant: Variant, state: BenchState, known: Sequence[Weight]
) -> tuple[Offer, ...]:
    """What can be done at a station; nothing where an assembly has to stand there first.

    known: the weights on the assembly there that the student has seen or fitted.
    """
    if station is Station.RACK:
        return _at_the_rack(variant)
    if station is Station.CAR:
        return _at_the_car(variant, state)
    assembly = state.at(station)
    if assembly is None:
        return (Offer("Nothing stands here", (_bring(variant, to=station),)),)
    match station:
        case Station.STAND:
            offers = _at_the_stand(variant, assembly)
        case Station.BALANCER:
            offers = _at_the_balancer(variant, state, assembly, known)
        case Station.GAUGE:
            offers = _at_the_gauge(state)
        case _:
            offers = (Offer("Force", (_plain("roll", main=True),)),)
    own = Entry("assembly", "", "hidden", assembly.id)
    to_the_rack = ActionForm(
        "bring", "", (("", "Back to the rack"),), (own, Entry("to", "", "hidden", Station.RACK.value))
    )
    return (*offers, Offer("Look", (_look((own,)), to_the_rack)))


def _plain(do: str, *, main: bool = False) -> ActionForm:
    return ActionForm(do, "", (("", PLAIN[do]),), main=main)


def _assemblies(variant: Variant) -> Entry:
    letters = variant.scenario.assembly_ids
    if len(letters) == 1:
        return Entry("assembly", "", "hidden", letters[0])
    return Entry("assembly", "Assembly", "choice", letters[0], tuple((each, each) for each in letters))


def _look(entries: tuple[Entry, ...]) -> ActionForm:
    return ActionForm("look", "Look closely at", tuple(LOOKS.items()), entries, choice="at")


def _bring(variant: Variant, *, to: Station | None = None) -> ActionForm:
    stations = [each for each in stations_of(variant) if each is not Station.CAR]
    if to is not None:
        name = STATIONS[to][0].lower()
        return ActionForm(
            "bring",
            "Carry an assembly here",
            (("", f"Carry it to the {name}"),),
            (_assemblies(variant), Entry("to", "", "hidden", to.value)),
            main=True,
        )
    where = tuple((each.value, STATIONS[each][0]) for each in stations)
    return ActionForm(
        "bring", "Carry an assembly to", where, (_assemblies(variant),), choice="to", main=False
    )


def _at_the_rack(variant: Variant) -> tuple[Offer, ...]:
    assemblies = _assemblies(variant)
    number = ActionForm(
        "write-number",
        "Number an assembly",
        (("", "Write the number"),),
        (
            assemblies,
            Entry("number", "Number", "text", hint="1 to 99"),
            Entry("side", "On the sidewall", "choice", "inboard", PLANES),
        ),
    )
    label = ActionForm("peel-label", "Shelf label on the tread", (("", "Peel the label off"),), (assemblies,))
    return (
        Offer("Look", (_look((assemblies,)),)),
        Offer("Carry", (_bring(variant),)),
        Offer("Mark", (number, label)),
    )


def _at_the_stand(variant: Variant, assembly: AssemblyState) -> tuple[Offer, ...]:
    own = Entry("assembly", "", "hidden", assembly.id)
    pressure = shown_as(Measure.PRESSURE, variant.units)
    strip = ActionForm("strip-weights", "", (("", "Take every weight off"),), (own,))
    label = ActionForm("peel-label", "", (("", "Peel the shelf label off"),), (own,))
    break_beads = ActionForm(
        "break-beads",
        "Break the beads",
        (("", "Break both beads"),),
        (Entry("shoe_deg", "The shoe stands at", "text", "0", unit="°", hint=AROUND_HINT),),
    )
    turn = ActionForm(
        "turn-tire",
        "Turn the tire on the wheel",
        (("", "Turn the tire"),),
        (Entry("turn_deg", "By", "text", "", hint="Like 60 cw or 60 ccw"),),
    )
    mount = ActionForm(
        "mount",
        "Mount the tire",
        (("no", "Mount, same side out"), ("yes", "Mount, turned over")),
        choice="turned_over",
    )
    choose = ActionForm(
        "choose-tire",
        "The tire that goes on",
        (("own", "Its own tire"), ("new", "A new tire")),
        choice="tire",
    )
    inflate = ActionForm(
        "inflate",
        "Air, up or down",
        (("", "Set the pressure"),),
        (
            Entry(
                "kpa", "To", "text", "", unit=pressure.unit, hint=f"Like {pressure.example}; 0 lets all out."
            ),
        ),
    )
    number = ActionForm(
        "write-number",
        "Number it",
        (("", "Write the number"),),
        (
            own,
            Entry("number", "Number", hint="1 to 99"),
            Entry("side", "On the sidewall", "choice", "inboard", PLANES),
        ),
    )
    return (
        Offer("Valve and weights", (_plain("core-out"), _plain("core-in"), _plain("cap-on"), strip, label)),
        Offer("Tire off", (_plain("check-mark"), break_beads, _plain("demount"))),
        Offer("Tire on", (choose, _plain("lubricate"), turn, mount, inflate)),
        Offer("Mark", (number,)),
    )


def _at_the_balancer(
    variant: Variant, state: BenchState, assembly: AssemblyState, known: Sequence[Weight]
) -> tuple[Offer, ...]:
    balancer, entered = state.balancer, state.balancer.entered
    sheet = variant.scenario.bench
    cones = tuple(
        (each.id, f"{each.id}: {_length(each.min_mm, variant)} to {_length(each.max_mm, variant)}")
        for each in (sheet.cones if sheet else ())
    )
    cone = ActionForm("cone", "Cone on the shaft", cones, choice="cone")
    clamp = ActionForm("clamp", "Nut", tuple(GRIPS.items()), choice="grip")
    clean = ActionForm("clean", "Clean", tuple(CLEANS.items()), choice="what")
    length = shown_as(Measure.LENGTH, variant.units)
    distance = show(entered.distance_mm, Measure.LENGTH, variant.units) if entered else ""
    enter = ActionForm(
        "enter",
        "Dimensions",
        (("", "Type in"),),
        (
            Entry(
                "distance_mm",
                "Distance",
                "text",
                distance.removesuffix(length.unit).strip(),
                unit=length.unit,
            ),
            Entry("width_in", "Width", "text", f"{entered.width_in:g}" if entered else "", unit="in"),
            Entry(
                "diameter_in", "Diameter", "text", f"{entered.diameter_in:g}" if entered else "", unit="in"
            ),
        ),
    )
    mode = ActionForm(
        "mode",
        "Planes and kinds of weight",
        (("", "Reckon so"),),
        (
            Entry("planes", "Planes", "choice", balancer.planes, (("two", "Two"), ("one", "One"))),
            Entry("inboard", "Inboard", "choice", balancer.inboard, KINDS),
            Entry("outboard", "Outboard", "choice", balancer.outboard, KINDS),
        ),
    )
    spin = ActionForm(
        "spin",
        "",
        (("yes", "Hood down, spin"), ("no", "Spin with the hood up")),
        choice="hood_down",
        main=True,
    )
    fit = (_fit(variant), *_take_off(variant, assembly, known))
    return (
        Offer("Weights", fit),
        Offer("Spin", (spin, _plain("half-turn"))),
        Offer("On the shaft", (clean, cone, clamp)),
        Offer("Dimensions", (_plain("measure"), enter, mode)),
    )


def _length(value_mm: float, variant: Variant) -> str:
    return show(value_mm, Measure.RUNOUT, variant.units, decimals=1)


def _fit(variant: Variant) -> ActionForm:
    kinds = tuple((f"clip {clip.name}", f"Clip {clip.name}") for clip in CLIPS)
    stock = tuple(
        (repr(piece), show(piece, Measure.MASS, variant.units)) for piece in variant.truth.machine.stock_g
    )
    return ActionForm(
        "fit-weight",
        "Fit a weight",
        (("", "Fit the weight"),),
        (
            Entry("mass_g", "Mass", "choice", stock[0][0], stock),
            Entry("kind", "Kind", "choice", kinds[0][0], (*kinds, ("adhesive", "Adhesive"))),
            Entry("plane", "Plane", "choice", "inboard", PLANES),
            Entry("angle_deg", "At", "text", "0", unit="°", hint=AROUND_HINT),
        ),
    )


def _take_off(variant: Variant, assembly: AssemblyState, known: Sequence[Weight]) -> tuple[ActionForm, ...]:
    strip = ActionForm(
        "strip-weights", "", (("", "Take every weight off"),), (Entry("assembly", "", "hidden", assembly.id),)
    )
    if not known:
        return (strip,)
    options = tuple(
        (
            str(each.id),
            weight_words(each, variant),
        )
        for each in known
    )
    one = ActionForm(
        "take-off-weight",
        "Take a weight off",
        (("", "Take it off"),),
        (Entry("weight", "Weight", "choice", options[-1][0], options),),
    )
    return (one, strip)


def _at_the_gauge(state: BenchState) -> tuple[Offer, ...]:
    place = ActionForm(
        "place-gauge",
        "The indicator touches",
        tuple((each, each.capitalize()) for each in GAUGE_PLACES),
        choice="place",
    )
    if state.gauge.place is None:
        return (Offer("Indicator", (place,)),)
    dial = ActionForm(
        "read-dial",
        "Turn the wheel and read",
        (("", "Read the dial"),),
        (Entry("at_deg", "Under the dial", "text", f"{state.gauge.at_deg:g}", unit="°", hint=AROUND_HINT),),
        main=True,
    )
    whole = ActionForm("read-round", "Once around", STEPS, choice="steps")
    return (Offer("Readings", (dial, whole)), Offer("Indicator", (place,)))


def _at_the_car(variant: Variant, state: BenchState) -> tuple[Offer, ...]:
    corners = tuple((each, f"{each} {words}") for each, words in CORNERS.items())
    on_the_car = tuple(each for each in corners if state.at(each[0]) is not None)
    off = tuple((each.id, each.id) for each in state.assemblies if each.where not in CORNERS)
    raise_car = ActionForm(
        "raise-car",
        "",
        (("lift points", "Raise at the lift points"), ("sill", "Raise at the sill")),
        choice="at",
    )
    forms = [raise_car, _plain("lower-car")]
    offers = [Offer("Lift", tuple(forms))]
    if off:
        place = ActionForm(
            "place",
            "Put an assembly on",
            (("", "Put it on"),),
            (
                Entry("assembly", "Assembly", "choice", off[0][0], off),
                Entry("corner", "Corner", "choice", "LF", corners),
            ),
        )
        offers.append(Offer("Place", (place,)))
    if on_the_car:
        take = ActionForm(
            "take-off",
            "Take an assembly off",
            (("", "Take it off"),),
            (Entry("corner", "Corner", "choice", on_the_car[0][0], on_the_car),),
        )
        offers += [Offer("Lugs", (_tighten(variant, on_the_car),)), Offer("Take off", (take,))]
    unit = distance_unit(variant.units)
    note = ActionForm(
        "note-retorque",
        "Job card: check the lugs again",
        (("", "Write it down"),),
        (Entry("after_km", "After", "text", "", unit=unit),),
    )
    return (*offers, Offer("Job card", (note,)))


def _tighten(variant: Variant, corners: Options) -> ActionForm:
    torque = shown_as(Measure.TORQUE, variant.units)
    return ActionForm(
        "tighten",
        "Tighten every lug once",
        (("", "Tighten"),),
        (
            Entry("corner", "Corner", "choice", corners[0][0], corners),
            Entry(
                "order",
                "Order of the lugs",
                "text",
                "",
                hint="Tap the lugs, or type, like 1 3 5 2 4",
            ),
            Entry("torque_nm", "Wrench set to", "text", "", unit=torque.unit),
        ),
        main=True,
    )
