"""What can be done at the car."""

from app.domain.bench import BenchState
from app.domain.measures import Measure, shown_as
from app.domain.variants import Variant
from app.web.bench_words import CORNERS, distance_unit
from app.web.labs.bench_forms import ActionForm, Entry, Options
from app.web.labs.bench_offer import Offer, plain


def at_the_car(variant: Variant, state: BenchState) -> tuple[Offer, ...]:
    corners = tuple((each, f"{each} {words}") for each, words in CORNERS.items())
    on_the_car = tuple(each for each in corners if state.at(each[0]) is not None)
    off = tuple((each.id, each.id) for each in state.assemblies if each.where not in CORNERS)
    raise_car = ActionForm(
        "raise-car",
        "",
        (("lift points", "Raise at the lift points"), ("sill", "Raise at the sill")),
        choice="at",
    )
    offers = [Offer("lift", "Lift", (raise_car, plain("lower-car")))]
    if off:
        offers.append(Offer("place", "Put on", (_place(off, corners),)))
    if on_the_car:
        offers += [
            Offer("lugs", "Lugs", (_tighten(variant, on_the_car),)),
            Offer("take-off", "Take off", (_take_off(on_the_car),)),
        ]
    note = ActionForm(
        "note-retorque",
        "Check the lugs again",
        (("", "Write it down"),),
        (Entry("after_km", "After", unit=distance_unit(variant.units)),),
    )
    return (*offers, Offer("note", "Job card", (note,)))


def _place(off: Options, corners: Options) -> ActionForm:
    return ActionForm(
        "place",
        "Put an assembly on",
        (("", "Put it on"),),
        (
            Entry("assembly", "Assembly", "choice", off[0][0], off),
            Entry("corner", "Corner", "choice", corners[0][0], corners),
        ),
    )


def _take_off(on_the_car: Options) -> ActionForm:
    return ActionForm(
        "take-off",
        "Take an assembly off",
        (("", "Take it off"),),
        (Entry("corner", "Corner", "choice", on_the_car[0][0], on_the_car),),
    )


def _tighten(variant: Variant, corners: Options) -> ActionForm:
    torque = shown_as(Measure.TORQUE, variant.units)
    return ActionForm(
        "tighten",
        "Tighten every lug once",
        (("", "Tighten"),),
        (
            Entry("corner", "Corner", "choice", corners[0][0], corners),
            Entry("order", "Order of the lugs", hint="Tap the lugs, or type, like 1 3 5 2 4"),
            Entry("torque_nm", "Wrench set to", unit=torque.unit),
        ),
        main=True,
    )
