"""Match mounting with a tire that turns, and telling tire and wheel apart."""

from typing import Any

from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.calculator_curve import Spot, curve
from app.drawings.calculator_sum import vector_sum
from app.drawings.drawing import Drawing
from app.drawings.spots import Vector
from app.web.calculators.calculator import (
    Calculator,
    Entered,
    Entry,
    Outcome,
    Slider,
    ask,
    result,
    sweep,
    vector_result,
    vector_text,
)
from app.web.calculators.kinds import ANGLE, FORCE, RUNOUT, SPRING_RATE, TURN

METRIC, US = UnitSystem.METRIC, UnitSystem.US
TURNS = Slider((-180, 180, 5), (-180, 180, 5))
MATCH_PLACES = {
    "tire.size": "tire",
    "tire.angle_deg": "tire_angle",
    "wheel.size": "runout",
    "wheel.angle_deg": "runout_angle",
    "spring_rate_n_per_mm": "spring_rate",
}
SPRING_MODEL = (
    "The tire is a linear spring of one rate, so the wheel’s first harmonic of radial runout makes a force "
    "of rate times runout; tire and wheel add as vectors."
)


def _turned(entered: Entered, turn_deg: float) -> dict[str, Any]:
    """The assembly with its tire turned: its first harmonic is the answer's "before"."""
    return ask("match-mount", entered.but(tire_angle=entered["tire_angle"] + turn_deg), MATCH_PLACES)


def _match(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask("match-mount", entered, MATCH_PLACES)
    now = _turned(entered, entered["turn"])
    wheel = answer["wheel_n"]
    before, after, left = (
        FORCE.show(each, system) for each in (answer["before_n"], answer["after_n"], now["before_n"])
    )
    turn, best = TURN.show(entered["turn"], system), TURN.show(answer["turn_deg"], system)
    tire = FORCE.show(entered["tire"], system)
    points = [
        (shown, FORCE.number(_turned(entered, turned)["before_n"], system))
        for shown, turned in sweep(TURN, TURNS, system, steps=72)
    ]
    spots = [
        Spot(entered["turn"], FORCE.number(now["before_n"], system), f"{left} with the tire turned {turn}"),
        Spot(
            answer["turn_deg"],
            FORCE.number(answer["after_n"], system),
            f"{after}, the least, at {best}",
            "low-spot",
        ),
    ]
    return Outcome(
        headline=f"{left} remain. Least is {after} at {best}.",
        results=(
            result("As mounted", answer["before_n"], FORCE),
            result("With the tire turned as entered", now["before_n"], FORCE),
            result("Best turn from as mounted", answer["turn_deg"], TURN),
            result("Left at the best turn", answer["after_n"], FORCE),
            vector_result("Force that the wheel’s runout makes, W", wheel, FORCE),
        ),
        worked=(
            f"{{W}} = {SPRING_RATE.show(entered['spring_rate'], system)} · "
            f"{RUNOUT.show(entered['runout'], system)}"
            f" = {vector_text(wheel, FORCE, system)}",
            f"as mounted |{{T}} + {{W}}| = {before}; at best | {tire} − "
            f"{FORCE.show(wheel['size'], system)} | = {after}",
            f"best turn = {ANGLE.show(entered['runout_angle'], system)} + 180° − "
            f"{ANGLE.show(entered['tire_angle'], system)} = {best}",
        ),
        drawings=(
            _wheel_and_tire(
                wheel,
                {"size": entered["tire"], "angle_deg": entered["tire_angle"] + entered["turn"]},
                tire_label=f"tire {tire}, turned {turn}",
                sum_label=f"together {left}",
                title="First harmonics of wheel and tire, and their sum",
                system=system,
            ),
            curve(
                points,
                spots,
                x_name="turn of the tire on the wheel, ° (clockwise is positive)",
                y_name=f"what remains, {FORCE.unit(system)}",
                label="first harmonic of the assembly",
                title="What remains over the turn",
                x_step=90,
            ),
        ),
    )


def _wheel_and_tire(
    wheel: dict[str, Any],
    tire: dict[str, Any],
    *,
    tire_label: str,
    sum_label: str,
    title: str,
    system: UnitSystem,
) -> Drawing:
    """The tire's vector at the tip of the wheel's; both are answers: `size` in N, `angle_deg`."""

    def vector(label: str, of: dict[str, Any], style: str) -> Vector:
        return Vector(label, FORCE.number(of["size"], system), of["angle_deg"], style)

    return vector_sum(
        vector(f"wheel {FORCE.show(wheel['size'], system)}", wheel, "other"),
        vector(tire_label, tire, "own"),
        sum_label=sum_label,
        unit=FORCE.unit(system),
        title=title,
    )


MATCH_MOUNTING = Calculator(
    slug="match-mounting",
    title="Match mounting",
    lead="Turn the tire on its wheel: its high point against the wheel’s low spot leaves the least force "
    "variation.",
    calculations=("match-mount",),
    entries=(
        Entry(
            "tire",
            "First harmonic of radial force, peak to peak",
            FORCE,
            {METRIC: "80 N", US: "18 lbf"},
            "T",
            "Tire",
        ),
        Entry("tire_angle", "Its high point", ANGLE, "40°", "a_t", "Tire"),
        Entry(
            "runout",
            "Average radial runout, first harmonic peak to peak",
            RUNOUT,
            {METRIC: "0.25 mm", US: "0.010 in"},
            "p",
            "Wheel",
        ),
        Entry("runout_angle", "Its high spot", ANGLE, "100°", "a_w", "Wheel"),
        Entry(
            "spring_rate",
            "Spring rate of the tire",
            SPRING_RATE,
            {METRIC: "200 N/mm", US: "1150 lbf/in"},
            "k",
            "Wheel",
        ),
        Entry("turn", "Turn of the tire", TURN, "0", group="Turn", slider=TURNS),
    ),
    formula=(
        "{W} = {k} {p} at {a_w}",
        "before = |{T} + {W}|; after = | |{T}| − |{W}| |; turn = {a_w} + 180° − {a_t}",
    ),
    source="Sum of two vectors that turn together. The linear spring at constant axle height is common "
    "practice; rates of 150 to 250 N/mm: J. Y. Wong, Theory of Ground Vehicles, ch. 1 (as quoted in another "
    "document).",
    work=_match,
    models=(SPRING_MODEL,),
    cautions=(Caution.BEAD_SEATING, Caution.PRESSURE),
)

SEPARATE_PLACES = {
    "first.size": "first",
    "first.angle_deg": "first_angle",
    "second.size": "second",
    "second.angle_deg": "second_angle",
    "turned_deg": "turned",
}


def _separate(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask("separate-tire-and-wheel", entered, SEPARATE_PLACES)
    tire, wheel = answer["tire"], answer["wheel"]
    best, left = TURN.show(answer["best_turn_deg"], system), FORCE.show(answer["best_n"], system)
    first, second = (
        vector_text({"size": entered[name], "angle_deg": entered[f"{name}_angle"]}, FORCE, system)
        for name in ("first", "second")
    )
    turned = TURN.show(entered["turned"], system)
    return Outcome(
        headline=f"Best turn from the first position: {best}, which leaves {left}.",
        results=(
            vector_result("Tire T, as it stood in the first measurement", tire, FORCE),
            vector_result("Wheel W", wheel, FORCE),
            result("Best turn from the first position", answer["best_turn_deg"], TURN),
            result("Left at the best turn", answer["best_n"], FORCE),
        ),
        worked=(
            f"{{T}} = [({second}) − ({first})] / [exp(i · {turned}) − 1] = "
            f"{vector_text(tire, FORCE, system)}",
            f"{{W}} = ({first}) − {{T}} = {vector_text(wheel, FORCE, system)}",
        ),
        drawings=(
            _wheel_and_tire(
                wheel,
                tire,
                tire_label=f"tire {FORCE.show(tire['size'], system)}",
                sum_label=f"first measurement {first}",
                title="Tire and wheel in the first measurement",
                system=system,
            ),
        ),
        remarks=(
            "Where the tire’s part is much larger than the wheel’s, turning gains little: the tire is the "
            "case. "
            "Where the wheel’s is, measure its runout.",
        ),
    )


TIRE_AND_WHEEL = Calculator(
    slug="tire-and-wheel",
    title="Tire and wheel told apart",
    lead="Measure the assembly, turn the tire on its wheel, measure again: what turned along is the tire’s.",
    calculations=("separate-tire-and-wheel",),
    entries=(
        Entry(
            "first",
            "First harmonic peak to peak",
            FORCE,
            {METRIC: "100 N", US: "22 lbf"},
            "F_1",
            "First measurement",
        ),
        Entry("first_angle", "Its high point", ANGLE, "60°", "a_1", "First measurement"),
        Entry(
            "second",
            "First harmonic peak to peak",
            FORCE,
            {METRIC: "60 N", US: "13 lbf"},
            "F_2",
            "Second measurement",
        ),
        Entry("second_angle", "Its high point", ANGLE, "110°", "a_2", "Second measurement"),
        Entry(
            "turned",
            "Turn of the tire between them",
            TURN,
            "180",
            "t",
            "Turn",
            slider=TURNS,
            hint="More than 15°; half a turn separates best. Like 60 cw or 60 ccw.",
        ),
    ),
    formula=(
        "{T} = ({F_2} − {F_1}) / (exp(i {t}) − 1);  {W} = {F_1} − {T}",
        "best turn = {a_W} + 180° − {a_T}",
    ),
    source="Two equations for two unknown vectors; the sum of tire and wheel is the same model as in "
    "match mounting.",
    work=_separate,
    models=("An assembly’s first harmonic is the vector sum of the tire’s and the wheel’s.",),
    cautions=(Caution.BEAD_SEATING,),
)
