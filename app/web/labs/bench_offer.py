"""What a group of actions at a station is made of, and the forms that several stations share."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from app.domain.bench import AssemblyState, Station, Weight
from app.domain.bench.actions import FitWeight
from app.domain.variants import Variant
from app.drawings.bench_handles import Worked
from app.services.bench import Done
from app.web.bench_words import LOOKS, PLAIN, STATIONS, stations_of, weight_words
from app.web.labs.bench_forms import ActionForm, Entry, Options, Problem

PLANES: Options = (("inboard", "Inboard"), ("outboard", "Outboard"))
AROUND_HINT = "Clockwise from the valve, or like 4:30"


@dataclass(frozen=True)
class Offer:
    """Forms that belong together, under a head. drawing: what is worked with these forms."""

    id: str
    title: str
    forms: tuple[ActionForm, ...]
    drawing: Worked | None = None

    def mended(self, sent: Mapping[str, str], problem: Problem) -> "Offer":
        """With what was typed in the form that could not be read, and why."""
        forms = tuple(form.as_sent(sent, problem) if form.do == problem.do else form for form in self.forms)
        return replace(self, forms=forms)


def as_last_used(form: ActionForm, done: Sequence[Done]) -> ActionForm:
    """The form with what was chosen last: the assembly in hand; the kind, plane and side of such a form."""
    actions = [each.action for each in reversed(done)]
    held = next((letter for each in actions if (letter := getattr(each, "assembly", None))), "")
    newest = next((each for each in actions if form.do == each.DO), None)
    kept: dict[str, str] = {name: getattr(newest, name, "") for name in ("kind", "plane", "side")}
    kept["assembly"] = held
    if isinstance(newest, FitWeight) and newest.clip:
        kept["kind"] = f"{newest.kind} {newest.clip}"
    entries = (
        replace(each, value=kept[each.name])
        if each.kind == "choice" and kept.get(each.name) in dict(each.options)
        else each
        for each in form.entries
    )
    return replace(form, entries=tuple(entries))


def plain(do: str, *, main: bool = False) -> ActionForm:
    return ActionForm(do, "", (("", PLAIN[do]),), main=main)


def own(assembly: AssemblyState) -> Entry:
    return Entry("assembly", "", "hidden", assembly.id)


def assemblies(variant: Variant) -> Entry:
    letters = variant.scenario.assembly_ids
    if len(letters) == 1:
        return Entry("assembly", "", "hidden", letters[0])
    return Entry("assembly", "Assembly", "choice", letters[0], tuple((each, each) for each in letters))


def look(which: Entry) -> ActionForm:
    return ActionForm("look", "Look closely at", tuple(LOOKS.items()), (which,), choice="at")


def bring_to(variant: Variant) -> ActionForm:
    where = tuple((each.value, STATIONS[each][0]) for each in stations_of(variant) if each is not Station.CAR)
    return ActionForm("bring", "Carry an assembly to", where, (assemblies(variant),), choice="to")


def bring_here(variant: Variant, station: Station) -> ActionForm:
    return ActionForm(
        "bring",
        "Carry an assembly here",
        (("", f"Carry it to the {STATIONS[station][0].lower()}"),),
        (assemblies(variant), Entry("to", "", "hidden", station.value)),
        main=True,
    )


def bring_back(assembly: AssemblyState) -> ActionForm:
    to = Entry("to", "", "hidden", Station.RACK.value)
    return ActionForm("bring", "", (("", "Back to the rack"),), (own(assembly), to))


def number(which: Entry) -> ActionForm:
    return ActionForm(
        "write-number",
        "Number an assembly" if which.kind == "choice" else "Number it",
        (("", "Write the number"),),
        (
            which,
            Entry("number", "Number", hint="1 to 99"),
            Entry("side", "On the sidewall", "choice", "inboard", PLANES),
        ),
    )


def peel_label(assembly: AssemblyState) -> ActionForm:
    return ActionForm("peel-label", "", (("", "Peel the shelf label off"),), (own(assembly),))


def take_off(assembly: AssemblyState, known: Sequence[Weight], variant: Variant) -> tuple[ActionForm, ...]:
    """One of the weights that the student knows of, or all."""
    strip = ActionForm("strip-weights", "", (("", "Take every weight off"),), (own(assembly),))
    if not known:
        return (strip,)
    options = tuple((str(each.id), weight_words(each, variant)) for each in known)
    one = ActionForm(
        "take-off-weight",
        "Take a weight off",
        (("", "Take it off"),),
        (own(assembly), Entry("weight", "Weight", "choice", options[-1][0], options)),
    )
    return (one, strip)
