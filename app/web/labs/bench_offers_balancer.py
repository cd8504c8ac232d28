"""What can be done at the balancer, in the order in which it is usually done."""

from collections.abc import Sequence

from app.compute.weight_clips import CLIPS
from app.domain.bench import AssemblyState, BenchState, Weight
from app.domain.bench.shop import shop_of
from app.domain.bench.state import BalancerState
from app.domain.measures import Measure, show, shown_as
from app.domain.variants import Variant
from app.services.bench import Done
from app.web.bench_words import CLEANS, GRIPS
from app.web.labs import bench_reminders as reminders
from app.web.labs.bench_forms import ActionForm, Entry, Options
from app.web.labs.bench_offer import AROUND_HINT, PLANES, Offer, peel_label, plain, take_off

KINDS: Options = (("clip", "Clip"), ("adhesive", "Adhesive"))


def at_the_balancer(
    variant: Variant,
    state: BenchState,
    assembly: AssemblyState,
    known: Sequence[Weight],
    done: Sequence[Done],
) -> tuple[Offer, ...]:
    spin = ActionForm(
        "spin",
        "",
        (("yes", "Hood down, spin"), ("no", "Spin with the hood up")),
        choice="hood_down",
        main=True,
    )
    letter = assembly.id
    enter = _enter(variant, state, reminders.dimensions(letter, done))
    asked, clips = reminders.asked(variant, state, assembly), reminders.clips(letter, variant, done)
    notes = (asked, *reminders.shared(done), clips)
    spokes = shop_of(variant).bench(letter).sheet.spokes
    return (
        Offer("shaft", "On the shaft", _on_the_shaft(variant, state.balancer, reminders.bore(letter, done))),
        Offer("dimensions", "Dimensions", (plain("measure"), enter, _mode(state.balancer))),
        Offer("spin", "Spin", (spin, plain("half-turn"))),
        Offer("weights", "Weights on", (_fit(variant, notes), *((_split(),) if spokes else ()))),
        Offer("bare", "Weights and label off", (*take_off(assembly, known, variant), peel_label(assembly))),
    )


def _on_the_shaft(variant: Variant, balancer: BalancerState, bore: str) -> tuple[ActionForm, ...]:
    sheet = variant.scenario.bench
    cones = tuple(
        (each.id, f"{each.id}: {_length(each.min_mm, variant)} to {_length(each.max_mm, variant)}")
        for each in (sheet.cones if sheet else ())
    )
    return (
        ActionForm("clean", "Clean", tuple(CLEANS.items()), choice="what"),
        ActionForm("cone", "Cone for the wheel’s bore", cones, choice="cone", notes=(bore,)),
        ActionForm("clamp", "Nut", tuple(GRIPS.items()), choice="grip", notes=(reminders.shaft(balancer),)),
    )


def _length(value_mm: float, variant: Variant) -> str:
    return show(value_mm, Measure.LENGTH, variant.units)


def _enter(variant: Variant, state: BenchState, measured: str) -> ActionForm:
    entered, unit = state.balancer.entered, shown_as(Measure.LENGTH, variant.units).unit
    distance = show(entered.distance_mm, Measure.LENGTH, variant.units) if entered else ""
    width, diameter = (f"{entered.width_in:g}", f"{entered.diameter_in:g}") if entered else ("", "")
    return ActionForm(
        "enter",
        "Type the dimensions into the balancer",
        (("", "Type in"),),
        (
            Entry("distance_mm", "Distance", value=distance.removesuffix(unit).strip(), unit=unit),
            Entry("width_in", "Width", value=width, unit="in"),
            Entry("diameter_in", "Diameter", value=diameter, unit="in"),
        ),
        notes=(measured,),
    )


def _mode(balancer: BalancerState) -> ActionForm:
    return ActionForm(
        "mode",
        "Set the planes and where weights will go",
        (("", "Set the balancer"),),
        (
            Entry("planes", "Planes", "choice", balancer.planes, (("two", "Two"), ("one", "One"))),
            Entry("inboard", "Inboard", "choice", balancer.inboard, KINDS),
            Entry("outboard", "Outboard", "choice", balancer.outboard, KINDS),
        ),
    )


def _fit(variant: Variant, notes: tuple[str, ...]) -> ActionForm:
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
            Entry("angle_deg", "At", value="0", unit="°", hint=AROUND_HINT),
        ),
        notes=notes,
    )


def _split() -> ActionForm:
    return ActionForm(
        "split-weight",
        "Behind spokes: share one weight between two places",
        (("", "Calculate both weights"),),
        (
            Entry("plane", "Plane", "choice", "outboard", PLANES),
            Entry("first_deg", "One at", unit="°"),
            Entry("second_deg", "Other at", unit="°"),
        ),
        notes=("It calculates what each of the two must weigh, for the last spin; you fit them yourself.",),
    )
