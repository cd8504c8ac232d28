"""What is left at the bench, judged: each criterion with the student's own numbers in its reason.

Planes and forces count only for an assembly that was spun after its last change, and what is to be saved or
avoided (spins, pieces, minutes, rules, cautions) only once every assembly was: doing nothing earns nothing.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from app.compute import placement
from app.compute.angles import FloatArray
from app.domain.bench import uniformity, weighing
from app.domain.bench.rules import RULES, all_broken
from app.domain.bench.shop import Shop, shop_of
from app.domain.bench.state import CORNERS, AssemblyState, Beads, BenchState
from app.domain.measures import Measure
from app.domain.tasks import BenchTask
from app.domain.truth import PLANES
from app.domain.variants import Variant

_ROUNDING = 1e-9
FAULTS_UNTIL_NOTHING = 2
"""So many broken rules or cautions beyond the limit earn nothing. Teaching model."""
NOT_FINISHED = "Counts once every assembly is mounted, balanced and spun again after its last change."


@dataclass(frozen=True)
class Judged:
    """share: of the points, 0 to 1; reason: in own numbers; yours: what was judged, in short."""

    share: float
    reason: str
    yours: str


@dataclass(frozen=True)
class _Item:
    """One of several things that a criterion asks for: whether it is so, and what is the matter if not."""

    good: bool
    fault: str = ""


def judge(variant: Variant, state: BenchState, task: BenchTask) -> Judged:
    """One criterion, judged by the state that the actions left."""
    return _JUDGES[task.judges](shop_of(variant), state, task.limit)


def goal(variant: Variant, task: BenchTask) -> str:
    """What a criterion asks for, in the class's units."""
    shop, limit = shop_of(variant), task.limit
    return {
        "residual": f"at most {shop.say(limit, Measure.MASS)} left in each plane",
        "force": f"a first harmonic of at most {shop.say(limit, Measure.FORCE)}",
        "pieces": f"at most {limit:g} weights",
        "spins": f"at most {limit:g} spins",
        "minutes": f"at most {limit:g} minutes of shop time",
        "rules": "no rule broken" if limit == 0 else f"at most {limit:g} rules broken",
        "cautions": "no unsafe work" if limit == 0 else f"unsafe work at most {limit:g} times",
        "comfort": "the placement with the least shake for the driver",
        "tracking": "the placement with the smallest pull",
        "torque": f"{shop.say(shop.torque_nm, Measure.TORQUE)} at every corner, and the retorque noted",
        "numbers": "a number of its own on each inboard sidewall",
        "pressure": f"within {shop.say(limit, Measure.PRESSURE)} of the placard at every corner",
    }[task.judges]


def _is_done(assembly: AssemblyState) -> bool:
    return assembly.beads is Beads.SEATED and assembly.balanced and assembly.checked


def _of_items(items: Sequence[_Item], what: str, all_good: str) -> Judged:
    """what: which items are counted ("planes within the limit: 1 of 2")."""
    good = sum(item.good for item in items)
    share = good / len(items)
    faults = [item.fault for item in items if item.fault and not item.good]
    reason = f"Right: {all_good}" if good == len(items) else " ".join(faults)
    return Judged(share, reason, f"{what}: {good} of {len(items)}")


def _residual(shop: Shop, state: BenchState, limit: float) -> Judged:
    items, worst = [], 0.0
    asked = shop.say(limit, Measure.MASS)
    for assembly in state.assemblies:
        if not _is_done(assembly):
            items += [_Item(good=False)] * (len(PLANES) - 1)
            items.append(_Item(good=False, fault=_unfinished(assembly)))
            continue
        for plane, left_g in zip(PLANES, weighing.left_g(shop, assembly), strict=True):
            worst = max(worst, left_g)
            still = shop.say(left_g, Measure.MASS)
            words = f"The {plane} plane of {assembly.id} still has {still}; the limit is {asked}."
            items.append(_Item(left_g <= limit + _ROUNDING, words))
    most = f"the most that is left in a plane is {shop.say(worst, Measure.MASS)}."
    return _of_items(items, "planes within the limit", most)


def _unfinished(assembly: AssemblyState) -> str:
    if assembly.beads is not Beads.SEATED:
        return f"The tire of {assembly.id} is not mounted and seated."
    if not assembly.balanced:
        return f"Assembly {assembly.id} was not balanced after its tire was last moved."
    return f"Assembly {assembly.id} was not spun after its last change."


def _force(shop: Shop, state: BenchState, limit: float) -> Judged:
    items, most = [], 0.0
    asked = shop.say(limit, Measure.FORCE)
    for assembly in state.assemblies:
        if not _is_done(assembly):
            items.append(_Item(good=False, fault=_unfinished(assembly)))
            continue
        first = abs(uniformity.first_harmonic_n(shop, assembly))
        most = max(most, first)
        words = (
            f"The first harmonic of {assembly.id} is {shop.say(first, Measure.FORCE)}; the limit is {asked}."
        )
        items.append(_Item(first <= limit + _ROUNDING, words))
    largest = f"the largest first harmonic is {shop.say(most, Measure.FORCE)}."
    return _of_items(items, "assemblies within the limit", largest)


def _saved(what: str) -> Callable[[Shop, BenchState, float], Judged]:
    """A count that is right up to its limit and earns nothing from twice the limit on."""

    def judged(shop: Shop, state: BenchState, limit: float) -> Judged:
        del shop
        used = float(getattr(state, what))
        yours = f"{used:g} {_NAMES[what]}"
        if not all(_is_done(each) for each in state.assemblies):
            return Judged(0.0, f"{NOT_FINISHED} So far: {yours}.", yours)
        if used <= limit + _ROUNDING:
            return Judged(1.0, f"Right: {yours}; at most {limit:g}.", yours)
        share = max(0.0, 1 - (used - limit) / limit) if limit > 0 else 0.0
        return Judged(share, f"You used {yours}; the limit is {limit:g}.", yours)

    return judged


_NAMES = {"pieces": "weights", "spins": "spins", "minutes": "minutes"}


def _rules(shop: Shop, state: BenchState, limit: float) -> Judged:
    broken = all_broken(shop, state)
    faults = [f"{each.assembly or 'Car'}: {RULES[each.rule]}" for each in broken]
    return _faults(state, list(dict.fromkeys(faults)), limit, "rules broken", "no rule was broken.")


def _cautions(shop: Shop, state: BenchState, limit: float) -> Judged:
    del shop
    times = {each: state.cautions.count(each) for each in dict.fromkeys(state.cautions)}
    faults = [
        f"Unsafe work was stopped: {caution}." for caution, count in times.items() for _ in range(count)
    ]
    return _faults(state, faults, limit, "unsafe actions", "nothing unsafe was done.")


def _faults(state: BenchState, faults: list[str], limit: float, what: str, none: str) -> Judged:
    """what: how the faults are counted ("rules broken: 2"); none: what is said where there are none."""
    yours = f"{what}: {len(faults)}"
    if not all(_is_done(each) for each in state.assemblies):
        return Judged(0.0, " ".join([NOT_FINISHED, *dict.fromkeys(faults)]), yours)
    if len(faults) <= limit:
        return Judged(1.0, "Right: " + (none if not faults else f"{len(faults)}, at most {limit:g}."), yours)
    share = max(0.0, 1 - (len(faults) - limit) / FAULTS_UNTIL_NOTHING)
    return Judged(share, " ".join(dict.fromkeys(faults)), yours)


def _comfort(shop: Shop, state: BenchState, limit: float) -> Judged:
    # All at one pressure, so that the rear axle's own placard pressure doesn't decide what stands where.
    first = [
        abs(uniformity.first_harmonic_n(shop, replace(each, pressure_kpa=shop.placard_kpa("LF"))))
        for each in state.assemblies
    ]
    weights = placement.comfort_weights(shop.variant.truth.vehicle.drive_side)
    return _placed(shop, state, limit, lambda: placement.comfort_costs(first, weights))


def _tracking(shop: Shop, state: BenchState, limit: float) -> Judged:
    conicity = [uniformity.conicity_n(shop, each) for each in state.assemblies]
    share = shop.variant.truth.vehicle.rear_share
    return _placed(shop, state, limit, lambda: placement.tracking_costs(conicity, share))


def _placed(shop: Shop, state: BenchState, limit: float, costs_of: Callable[[], FloatArray]) -> Judged:
    on_car = [state.at(corner) for corner in CORNERS]
    empty = [corner for corner, each in zip(CORNERS, on_car, strict=True) if each is None]
    yours = ", ".join(f"{corner} {each.id}" for corner, each in zip(CORNERS, on_car, strict=True) if each)
    if empty:
        return Judged(0.0, f"There is no assembly at {', '.join(empty)}.", yours or "none on the car")
    order = [state.assemblies.index(each) for each in on_car if each]
    costs = costs_of()
    row = next(at for at, each in enumerate(placement.ARRANGEMENTS.tolist()) if each == order)
    best, worst, own = float(costs.min()), float(costs.max()), float(costs[row])
    words = ", ".join(
        f"{name} {shop.say(cost, Measure.FORCE)}"
        for name, cost in (("yours costs", own), ("the best", best), ("the worst", worst))
    )
    if own <= best + limit * (worst - best) + _ROUNDING * max(worst, 1.0):
        return Judged(1.0, f"Right: {words}.", yours)
    return Judged((worst - own) / (worst - best), f"{words[0].upper()}{words[1:]}.", yours)


def _torque(shop: Shop, state: BenchState, limit: float) -> Judged:
    full, items = shop.torque_nm, []
    asked = shop.say(full, Measure.TORQUE)
    for corner in CORNERS:
        assembly = state.at(corner)
        if assembly is None or not assembly.passes:
            items.append(_Item(good=False, fault=f"Nothing is tightened at {corner}."))
            continue
        last = assembly.passes[-1].torque_nm
        words = f"{corner} was last tightened to {shop.say(last, Measure.TORQUE)}, not to {asked}."
        items.append(_Item(abs(last - full) <= limit * full + _ROUNDING, words))
    least, most = shop.sheet.retorque_km
    noted = state.car.retorque_km
    items.append(
        _Item(
            noted is not None and least <= noted <= most,
            f"The retorque is to be noted for {least:g} to {most:g} km from now.",
        )
    )
    all_good = f"every corner has {asked}, and the retorque is noted."
    return _of_items(items, "corners tightened, and the retorque noted", all_good)


def _numbers(shop: Shop, state: BenchState, limit: float) -> Judged:
    del shop, limit
    numbers = [each.number for each in state.assemblies]
    items = []
    for each in state.assemblies:
        if each.number is None:
            items.append(_Item(good=False, fault=f"Assembly {each.id} has no number."))
        elif each.number_side != "inboard":
            items.append(_Item(good=False, fault=f"The number of {each.id} stands outboard."))
        else:
            shared = f"Assembly {each.id} shares its number {each.number} with another."
            items.append(_Item(numbers.count(each.number) == 1, shared))
    return _of_items(items, "assemblies numbered", "each assembly has a number of its own inboard.")


def _pressure(shop: Shop, state: BenchState, limit: float) -> Judged:
    items = []
    for each in state.assemblies:
        asked = shop.placard_kpa(each.where)
        if shop.has("car") and each.where not in CORNERS:
            items.append(_Item(good=False, fault=f"Assembly {each.id} is not on the car."))
            continue
        holds, says = (shop.say(kpa, Measure.PRESSURE) for kpa in (each.pressure_kpa, asked))
        words = f"{each.id} holds {holds}; the placard says {says}."
        items.append(_Item(abs(each.pressure_kpa - asked) <= limit + _ROUNDING, words))
    return _of_items(items, "tires at the placard’s pressure", "every tire holds what the placard says.")


_JUDGES: dict[str, Callable[[Shop, BenchState, float], Judged]] = {
    "residual": _residual,
    "force": _force,
    "pieces": _saved("pieces"),
    "spins": _saved("spins"),
    "minutes": _saved("minutes"),
    "rules": _rules,
    "cautions": _cautions,
    "comfort": _comfort,
    "tracking": _tracking,
    "torque": _torque,
    "numbers": _numbers,
    "pressure": _pressure,
}
