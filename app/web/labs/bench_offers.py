"""Which actions each station offers. The order is the student's: nothing is left out for being too early."""

from collections.abc import Sequence
from dataclasses import replace

from app.domain.bench import AssemblyState, BenchState, Station, Weight
from app.domain.bench.actions import GAUGE_PLACES, Tighten
from app.domain.measures import Measure, shown_as
from app.domain.variants import Variant
from app.services.bench import Done
from app.web.labs import bench_reminders as reminders
from app.web.labs.bench_forms import ActionForm, Entry, Options
from app.web.labs.bench_offer import (
    AROUND_HINT,
    Offer,
    as_last_used,
    assemblies,
    bring_back,
    bring_here,
    bring_to,
    look,
    number,
    own,
    peel_label,
    plain,
    take_off,
)
from app.web.labs.bench_offers_balancer import at_the_balancer
from app.web.labs.bench_offers_car import at_the_car
from app.web.labs.bench_seen import known_weights

STEPS: Options = (("8", "8 places"), ("12", "12 places"), ("24", "24 places"), ("36", "36 places"))


def offers_at(
    station: Station, variant: Variant, state: BenchState, done: Sequence[Done]
) -> tuple[Offer, ...]:
    """What can be done at a station; nothing where an assembly has to stand there first.

    done: every action so far. Its last choices are made again, and only weights that it has shown come off.
    """
    offers = _offers_at(station, variant, state, done)
    return tuple(
        replace(each, forms=tuple(as_last_used(form, done) for form in each.forms)) for each in offers
    )


def _offers_at(
    station: Station, variant: Variant, state: BenchState, done: Sequence[Done]
) -> tuple[Offer, ...]:
    if station is Station.RACK:
        return _at_the_rack(variant)
    if station is Station.CAR:
        wrench = next((each.action for each in reversed(done) if isinstance(each.action, Tighten)), None)
        return at_the_car(variant, state, wrench.torque_nm if wrench else None)
    assembly = state.at(station)
    if assembly is None:
        return (Offer("carry", "Nothing stands here", (bring_here(variant, station),)),)
    known = known_weights(assembly, done)
    match station:
        case Station.STAND:
            offers = _at_the_stand(variant, assembly, known)
        case Station.BALANCER:
            offers = at_the_balancer(variant, state, assembly, known, done)
        case Station.GAUGE:
            offers = _at_the_gauge(state)
        case _:
            offers = (Offer("force", "Force", (plain("roll", main=True),)),)
    return (*offers, Offer("look", "Look, or carry away", (look(own(assembly)), bring_back(assembly))))


def _at_the_rack(variant: Variant) -> tuple[Offer, ...]:
    which = assemblies(variant)
    label = ActionForm("peel-label", "Shelf label on the tread", (("", "Peel the label off"),), (which,))
    return (
        Offer("look", "Look", (look(which),)),
        Offer("carry", "Carry", (bring_to(variant),)),
        Offer("mark", "Number and label", (number(which), label)),
    )


def _at_the_stand(variant: Variant, assembly: AssemblyState, known: Sequence[Weight]) -> tuple[Offer, ...]:
    pressure = shown_as(Measure.PRESSURE, variant.units)
    break_beads = ActionForm(
        "break-beads",
        "Break the beads",
        (("", "Break both beads"),),
        (Entry("shoe_deg", "The shoe stands at", unit="°", hint=AROUND_HINT),),
    )
    turn = ActionForm(
        "turn-tire",
        "Turn the tire on the wheel",
        (("", "Turn the tire"),),
        (Entry("turn_deg", "By", hint="Like 60 cw (clockwise) or 60 ccw"),),
    )
    mount = ActionForm(
        "mount",
        "Mount the tire",
        (("no", "Mount, same side out"), ("yes", "Mount, turned over")),
        choice="turned_over",
        notes=("Its beads are not on their seats yet then: air brings them there, under “Valve and air”.",),
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
        (Entry("kpa", "To", unit=pressure.unit, hint=f"Like {pressure.example}; 0 lets all out."),),
        notes=(reminders.seating(variant),),
    )
    before = (*take_off(assembly, known, variant), peel_label(assembly))
    return (
        Offer("valve", "Valve and air", (plain("core-out"), plain("core-in"), plain("cap-on"), inflate)),
        Offer("bare", "Weights and label", before),
        Offer("off", "Tire off", (plain("check-mark"), break_beads, plain("demount"))),
        Offer("on", "Tire on", (choose, plain("lubricate"), turn, mount)),
        Offer("mark", "Number", (number(own(assembly)),)),
    )


def _at_the_gauge(state: BenchState) -> tuple[Offer, ...]:
    place = ActionForm(
        "place-gauge",
        "The indicator touches",
        tuple((each, each.capitalize()) for each in GAUGE_PLACES),
        choice="place",
    )
    if state.gauge.place is None:
        return (Offer("indicator", "Indicator", (place,)),)
    dial = ActionForm(
        "read-dial",
        "Turn the wheel and read",
        (("", "Read the dial"),),
        (Entry("at_deg", "Under the dial", value=f"{state.gauge.at_deg:g}", unit="°", hint=AROUND_HINT),),
        main=True,
    )
    whole = ActionForm("read-round", "Once around", STEPS, choice="steps")
    return (Offer("indicator", "Indicator", (place,)), Offer("readings", "Readings", (dial, whole)))
