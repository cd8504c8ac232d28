"""What can be done at the car."""

from app.domain.bench import BenchState
from app.domain.measures import Measure, show, shown_as
from app.domain.variants import Variant
from app.web.bench_words import CORNERS, distance_unit
from app.web.labs.bench_forms import ActionForm, Entry, Options
from app.web.labs.bench_offer import Offer, plain


def at_the_car(variant: Variant, state: BenchState, wrench_nm: float | None) -> tuple[Offer, ...]:
    """wrench_nm: what the torque wrench is set to since it was used last."""
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
        free = tuple(each for each in corners if each not in on_the_car)
        offers.append(Offer("place", "Put on", (_place(off, corners, free[0][0]),)))
    if on_the_car:
        least = min(on_the_car, key=lambda each: _passes(state, each[0]))
        offers += [
            Offer("lugs", "Lugs", (_tighten(variant, on_the_car, least[0], wrench_nm),)),
            Offer("take-off", "Take off", (_take_off(on_the_car),)),
        ]
    note = ActionForm(
        "note-retorque",
        "Check the lugs again",
        (("", "Write it down"),),
        (Entry("after_km", "After", unit=distance_unit(variant.units)),),
    )
    return (*offers, Offer("note", "Note on the job card", (note,)))


def _passes(state: BenchState, corner: str) -> int:
    """How often the lugs at a corner were gone round."""
    assembly = state.at(corner)
    return len(assembly.passes) if assembly else 0


def _place(off: Options, corners: Options, free: str) -> ActionForm:
    return ActionForm(
        "place",
        "Put an assembly on",
        (("", "Put it on"),),
        (
            Entry("assembly", "Assembly", "choice", off[0][0], off),
            Entry("corner", "Corner", "choice", free, corners),
        ),
    )


def _take_off(on_the_car: Options) -> ActionForm:
    return ActionForm(
        "take-off",
        "Take an assembly off",
        (("", "Take it off"),),
        (Entry("corner", "Corner", "choice", on_the_car[0][0], on_the_car),),
    )


def _tighten(variant: Variant, corners: Options, corner: str, wrench_nm: float | None) -> ActionForm:
    unit = shown_as(Measure.TORQUE, variant.units).unit
    wrench = "" if wrench_nm is None else show(wrench_nm, Measure.TORQUE, variant.units)
    return ActionForm(
        "tighten",
        "Tighten every lug once",
        (("", "Tighten"),),
        (
            Entry("corner", "Corner", "choice", corner, corners),
            Entry("order", "Order of the lugs", hint="Tap the lugs, or type, like 1 3 5 2 4"),
            Entry("torque_nm", "Wrench set to", value=wrench.removesuffix(unit).strip(), unit=unit),
        ),
        notes=("Each press goes round all lugs once, in your order, with the wrench as it is set.",),
        main=True,
    )
