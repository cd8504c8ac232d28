"""Rules of good work that can be broken at the bench, in words. Common practice of the trade, no source.

Some are broken by an action and recorded then; others (`standing`) are read off the state when it is judged,
so that what is mended in time costs nothing.
"""

from collections.abc import Iterator
from itertools import pairwise

from app.domain.bench.shop import Shop
from app.domain.bench.state import CORNERS, AssemblyState, Beads, BenchState, BrokenRule
from app.domain.bench.weights import shows

RULES: dict[str, str] = {
    "weights-dragged": "Weights that were still on were dragged along as the tire was worked over the rim.",
    "sensor-broken": "The shoe of the bead breaker stood at the valve and broke the sensor behind it.",
    "mounted-dry": "The tire was worked over the rim without lubricant.",
    "clip-thrown": "A clip weight didn’t fit the rim’s flange and flew off in the spin.",
    "strip-thrown": "An adhesive weight was stuck on a rim that wasn’t clean and flew off in the spin.",
    "weight-shows": "An adhesive weight can be seen between the spokes.",
    "number-outboard": "The number was written on the outboard sidewall, where the customer sees it.",
    "out-of-pattern": "The lugs were not tightened crosswise.",
    "in-one-step": "The lugs were pulled to full torque in one step instead of being snugged first.",
    "in-the-air": "The lugs were pulled to full torque while the wheel hung in the air.",
    "over-torque": "The lugs were tightened past the torque of the vehicle’s maker.",
    "wrong-side-out": "The sidewall marked “outside” faces in.",
    "wrong-rotation": "The tire’s arrow points backward on the side of the car where it stands.",
    "label-on": "The shelf label was left on the tread.",
    "core-out": "The valve core was left out.",
    "cap-off": "The valve cap was left off.",
    "not-balanced": "The tire was moved on its wheel and the assembly was not balanced after that.",
    "not-checked": "There was no check spin after the weights were changed.",
    "old-weights": "Old weights were left on.",
}


def standing(shop: Shop, state: BenchState) -> Iterator[BrokenRule]:
    """Rules that the state breaks as it stands."""
    for assembly in state.assemblies:
        for rule in _of_assembly(shop, assembly):
            yield BrokenRule(rule, assembly.id, state.number)


def _of_assembly(shop: Shop, assembly: AssemblyState) -> Iterator[str]:
    if assembly.beads is Beads.OFF:
        return
    if shop.outside_faces(assembly) == "in":
        yield "wrong-side-out"
    if assembly.where in CORNERS and shop.arrow_suits(assembly) not in (None, shop.side_of(assembly.where)):
        yield "wrong-rotation"
    if assembly.label_on and assembly.tire == "own":
        yield "label-on"
    if not assembly.core_in:
        yield "core-out"
    if not assembly.cap_on:
        yield "cap-off"
    yield from _of_balance(shop, assembly)


def _of_balance(shop: Shop, assembly: AssemblyState) -> Iterator[str]:
    if any(weight.old for weight in assembly.weights):
        yield "old-weights"
    if any(shows(shop, assembly.id, weight) for weight in assembly.weights):
        yield "weight-shows"
    if not assembly.balanced:
        yield "not-balanced"
    elif not assembly.checked:
        yield "not-checked"


def all_broken(shop: Shop, state: BenchState) -> tuple[BrokenRule, ...]:
    """The rules broken by actions and those that the state breaks as it stands."""
    return (*state.broken, *standing(shop, state))


def crosswise(order: tuple[int, ...]) -> bool:
    """Whether lugs are tightened crosswise: with an even number each second one opposite to the one before,
    with an odd number never a neighbour next. Common practice, no source.
    """
    count = len(order)
    if count % 2 == 0:
        pairs = zip(order[::2], order[1::2], strict=True)
        return all(abs(first - second) == count // 2 for first, second in pairs)
    if count == 3:
        return True
    following = pairwise(order)
    return all((first - second) % count not in (1, count - 1) for first, second in following)
