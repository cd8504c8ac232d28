"""What a form repeats of what the student has seen already, beside the controls that need it.

On a telephone what was seen last stands a screen away. Nothing is told here that nobody has looked at.
"""

from collections.abc import Iterator, Sequence

from app.compute.weight_clips import CLIPS
from app.domain.bench import AssemblyState, BenchState, Observation, Station
from app.domain.bench import actions as kinds
from app.domain.bench.shop import SEATING_LIMIT_KPA
from app.domain.bench.state import BalancerState
from app.domain.measures import Measure, shown_as
from app.domain.variants import Variant
from app.services.bench import Done
from app.web.bench_words import say


def bore(letter: str, done: Sequence[Done]) -> str:
    """For the choice of a cone."""
    seen = _fact(_rim_and_bore(letter, done), "Bore")
    return f"Bore of {letter}, as you saw it: {seen}." if seen else "A look at rim and bore tells the bore."


def shaft(balancer: BalancerState) -> str:
    """For the nut: what is on the shaft now."""
    cone = f"cone “{balancer.cone}”" if balancer.cone else "no cone"
    nut = {None: "no nut", "light": "the nut on by hand", "firm": "the nut tight"}[balancer.grip]
    return f"On the shaft now: {cone}, {nut}."


def dimensions(letter: str, done: Sequence[Done]) -> str:
    """For typing in what was measured since this wheel came to the balancer."""
    for each in _done(done):
        match each.action:
            case kinds.MeasureRim():
                found = each.observation.facts
                return (
                    f"Measured on {letter}: " + ", ".join(f"{f.label.lower()} {f.value}" for f in found) + "."
                )
            case kinds.Bring(to=Station.BALANCER):
                break
    return f"Nothing is measured on {letter} yet."


def asked(variant: Variant, state: BenchState, assembly: AssemblyState) -> str:
    """For fitting weights: what the last spin of this assembly asked for."""
    balancer = state.balancer
    if balancer.last_assembly != assembly.id or not balancer.last:
        return f"No spin of {assembly.id} counts yet."
    planes = [
        f"{each.plane} {say(each.mass_g, Measure.MASS, variant)}"
        + ("" if each.angle_deg is None else f" at {say(each.angle_deg, Measure.ANGLE, variant)}")
        for each in balancer.last
    ]
    return f"The last spin asked for: {'; '.join(planes)}."


def shared(done: Sequence[Done]) -> tuple[str, ...]:
    """For fitting two weights behind spokes: what they must weigh, if it was reckoned since the last spin."""
    for each in _done(done):
        match each.action:
            case kinds.SplitWeight(plane=plane):
                both = " and ".join(f"{fact.value} {fact.label.lower()}" for fact in each.observation.facts)
                return (f"Shared between two places {plane}: {both}.",)
            case kinds.Spin() | kinds.Bring():
                break
    return ()


def clips(letter: str, variant: Variant, done: Sequence[Done]) -> str:
    """For the choice of a clip: the lips that each fits, and the lip if it was looked at."""
    unit = shown_as(Measure.RUNOUT, variant.units).unit
    fits = [
        f"{clip.name} {_bare(clip.thinnest_mm, variant)} to {_bare(clip.thickest_mm, variant)}"
        for clip in CLIPS
    ]
    lip = _fact(_rim_and_bore(letter, done), "Lip thickness")
    known = f"Lip of {letter}: {lip}." if lip else "A look at rim and bore tells the lip."
    return f"Which clip for which lip ({unit}): {', '.join(fits)}. {known}"


def seating(variant: Variant) -> str:
    """For putting air in."""
    limit = say(SEATING_LIMIT_KPA, Measure.PRESSURE, variant)
    return (
        "Lubricated beads slide onto their seats on the way up; never go above "
        f"{limit} for that. Then set the pressure of the placard."
    )


def _done(done: Sequence[Done]) -> Iterator[Done]:
    """What was not refused, the newest first."""
    return (each for each in reversed(done) if not each.observation.refused)


def _rim_and_bore(letter: str, done: Sequence[Done]) -> Observation | None:
    look = kinds.Look(assembly=letter, at="flange")
    return next((each.observation for each in _done(done) if each.action == look), None)


def _fact(seen: Observation | None, label: str) -> str:
    return next((fact.value for fact in seen.facts if fact.label == label), "") if seen else ""


def _bare(value_mm: float, variant: Variant) -> str:
    """A length without its unit."""
    return say(value_mm, Measure.RUNOUT, variant).rpartition(" ")[0]
