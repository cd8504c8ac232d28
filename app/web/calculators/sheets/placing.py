"""Four assemblies for the four corners of a car, every arrangement ranked."""

from typing import Any

from app.compute.placement import POSITIONS, comfort_weights
from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.vehicle_plan import Corner, vehicle_plan
from app.web.calculators.calculator import (
    Calculator,
    Entered,
    Entry,
    Outcome,
    Result,
    Table,
    ask,
    typed_examples,
)
from app.web.calculators.kinds import FORCE, RATIO, SIGNED_FORCE, Choice

METRIC, US = UnitSystem.METRIC, UnitSystem.US
LETTERS = ("A", "B", "C", "D")
MAY_GO = {
    "anywhere": ("anywhere", POSITIONS),
    "left": ("left side only", ("LF", "LR")),
    "right": ("right side only", ("RF", "RR")),
    "front": ("front axle only", ("LF", "RF")),
    "rear": ("rear axle only", ("LR", "RR")),
}
OBJECTIVES = {"comfort": "comfort: least felt force", "tracking": "tracking: smallest pull"}
# What may be wrong with all four together is where they may go: that place comes first.
PLACES = {
    f"assemblies[{place}].{wire}": f"{part}_{letter}"
    for place, letter in enumerate(LETTERS)
    for part, wire in (("allowed", "allowed"), ("r1h", "r1h_n"), ("conicity", "conicity_n"))
} | {"drive_side": "drive_side", "objective": "objective", "rear_share": "rear_share"}


def _work(entered: Entered) -> Outcome:
    system = entered.system
    allowed = {f"allowed_{letter}": list(MAY_GO[entered[f"allowed_{letter}"]][1]) for letter in LETTERS}
    letters = {f"assemblies[{place}].id": letter for place, letter in enumerate(LETTERS)}
    answer = ask("placement", entered.but(**allowed), PLACES, letters)
    ranking, best = answer["ranking"], answer["best"]
    first = best[0]["positions"]
    cost = FORCE.show(best[0]["cost"], system)
    shared = f" {len(best)} arrangements share it; the first by letters is drawn." if len(best) > 1 else ""
    return Outcome(
        headline=f"Best: {_words(first)}, cost {cost}.{shared}",
        results=(
            *(Result(position, f"assembly {first[position]}") for position in POSITIONS),
            Result("Cost of the best", FORCE.show(best[0]["cost"], METRIC), FORCE.show(best[0]["cost"], US)),
            Result(
                "Cost of the last",
                FORCE.show(ranking[-1]["cost"], METRIC),
                FORCE.show(ranking[-1]["cost"], US),
            ),
            Result("Arrangements permitted", f"{len(ranking)} of 24"),
        ),
        worked=(_worked(entered, first, cost),),
        drawings=(
            vehicle_plan(
                [_corner(entered, position, first[position]) for position in POSITIONS],
                driver_side=entered["drive_side"],
                title="The best arrangement",
            ),
        ),
        tables=(
            Table(
                "Every permitted arrangement, least cost first",
                ("Rank", *POSITIONS, "Cost, metric", "Cost, US"),
                tuple(
                    (
                        "best" if row < len(best) else str(row + 1),
                        *(each["positions"][position] for position in POSITIONS),
                        FORCE.show(each["cost"], METRIC),
                        FORCE.show(each["cost"], US),
                    )
                    for row, each in enumerate(ranking)
                ),
            ),
        ),
    )


def _words(positions: dict[str, str]) -> str:
    return ", ".join(f"{position} {positions[position]}" for position in POSITIONS)


def _corner(entered: Entered, position: str, letter: str) -> Corner:
    system = entered.system
    return Corner(
        position,
        letter,
        (
            f"R1H {FORCE.show(entered[f'r1h_{letter}'], system)}",
            f"conicity {SIGNED_FORCE.show(entered[f'conicity_{letter}'], system)}",
        ),
    )


def _worked(entered: Entered, positions: dict[str, str], cost: str) -> str:
    system = entered.system
    if entered["objective"] == "comfort":
        felt = [FORCE.show(entered[f"r1h_{positions[position]}"], system) for position in POSITIONS]
        weights = comfort_weights(entered["drive_side"])
        terms = " + ".join(f"{weight:.2f} · {force}" for weight, force in zip(weights, felt, strict=True))
        return f"comfort = {terms} = {cost}"
    pull = {place: SIGNED_FORCE.show(entered[f"conicity_{at}"], system) for place, at in positions.items()}
    share = RATIO.show(entered["rear_share"], system)
    return (
        f"tracking = |({pull['RF']}) − ({pull['LF']})| + {share} · |({pull['RR']}) − ({pull['LR']})| = {cost}"
    )


def _assembly(letter: str, metric: tuple[str, str], us: tuple[str, str]) -> tuple[Entry, ...]:
    group = f"Assembly {letter}"
    r1h, conicity = typed_examples(metric, us)
    options: dict[str, Any] = {value: label for value, (label, _) in MAY_GO.items()}
    return (
        Entry(f"r1h_{letter}", "Radial force, first harmonic", FORCE, r1h, group=group),
        Entry(f"conicity_{letter}", "Conicity, + to its outboard side", SIGNED_FORCE, conicity, group=group),
        Entry(f"allowed_{letter}", "May go", Choice(options), "anywhere", group=group),
    )


PLACEMENT = Calculator(
    slug="placement",
    title="Placement on the car",
    lead="Which assembly goes to which corner, for comfort or for tracking, with all arrangements ranked.",
    calculations=("placement",),
    entries=(
        Entry("objective", "Objective", Choice(OBJECTIVES), "comfort"),
        Entry("drive_side", "The driver sits on the", Choice({"left": "left", "right": "right"}), "left"),
        Entry("rear_share", "Rear share in tracking", RATIO, "0.3", hint="Teaching model: 0.3."),
        *_assembly("A", ("80 N", "20 N"), ("18 lbf", "4.5 lbf")),
        *_assembly("B", ("53 N", "-30 N"), ("12 lbf", "-6.7 lbf")),
        *_assembly("C", ("40 N", "45 N"), ("9 lbf", "10 lbf")),
        *_assembly("D", ("18 N", "-12 N"), ("4 lbf", "-2.7 lbf")),
    ),
    formula=(
        "comfort = sum over the corners of {w} · R1H",
        "tracking = |{c_RF} − {c_LF}| + rear share · |{c_RR} − {c_LR}|",
        "{w}: driver’s front 1.00, other front 0.85, rear on the driver’s side 0.65, other rear 0.50",
    ),
    source="All arrangements are tried. Without limits the comfort optimum is the rearrangement inequality’s "
    "(Hardy, Littlewood, Pólya, Inequalities): the least force at the largest weight. The order of the "
    "corners is common practice.",
    work=_work,
    models=(
        "The comfort weights 1.00, 0.85, 0.65 and 0.50, and that a corner is felt in proportion.",
        "The pull is the difference of conicities across each axle, and the rear counts by its share.",
    ),
    cautions=(Caution.LIFTING, Caution.TORQUE),
)
