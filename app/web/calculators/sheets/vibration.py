"""What an unbalance does at speed, and what a felt vibration may come from."""

from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.calculator_curve import Spot, curve
from app.drawings.calculator_orders import Order, order_distances
from app.web.calculators.calculator import (
    Calculator,
    Entered,
    Entry,
    Outcome,
    Result,
    Slider,
    ask,
    result,
    sweep,
)
from app.web.calculators.kinds import FORCE, FREQUENCY, LENGTH, MASS, RATIO, SPEED, TURNING

METRIC, US = UnitSystem.METRIC, UnitSystem.US
SPEEDS = Slider((0, 200, 1), (0, 120, 1))
FORCE_PLACES = {
    "mass_g": "mass",
    "radius_mm": "radius",
    "speed_kmh": "speed",
    "rolling_circumference_mm": "circumference",
}
ORDER_PLACES = {
    "speed_kmh": "speed",
    "frequency_hz": "frequency",
    "rolling_circumference_mm": "circumference",
    "axle_ratio": "axle_ratio",
    "engine_rpm": "engine",
}
CIRCUMFERENCE = Entry(
    "circumference",
    "Rolling circumference",
    LENGTH,
    {METRIC: "1975 mm", US: "77.75 in"},
    "c",
    hint="The tire size calculator gives it.",
)


def _force(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask("unbalance-force", entered, FORCE_PLACES)
    force, speed = FORCE.show(answer["force_n"], system), SPEED.show(entered["speed"], system)
    frequency = FREQUENCY.show(answer["frequency_hz"], system)
    points = [
        (shown, FORCE.number(ask("unbalance-force", entered.but(speed=kmh), FORCE_PLACES)["force_n"], system))
        for shown, kmh in sweep(SPEED, SPEEDS, system)
    ]
    here = Spot(
        SPEED.number(entered["speed"], system), FORCE.number(answer["force_n"], system), f"{force} at {speed}"
    )
    return Outcome(
        headline=f"{force} at {speed}, turning around once with the wheel, {frequency}.",
        results=(
            result("Peak force F", answer["force_n"], FORCE),
            result("Wheel frequency f", answer["frequency_hz"], FREQUENCY),
        ),
        worked=(
            f"{{f}} = {speed} / {LENGTH.show(entered['circumference'], system)} = {frequency}",
            f"{{F}} = {MASS.show(entered['mass'], system)} · {LENGTH.show(entered['radius'], system)}"
            f" · (2π · {frequency})^2 = {force}",
        ),
        drawings=(
            curve(
                points,
                [here],
                x_name=f"speed, {SPEED.unit(system)}",
                y_name=f"force, {FORCE.unit(system)}",
                label="peak force of this unbalance",
                title="Force over speed",
            ),
        ),
        remarks=("Twice the speed makes four times the force.",),
    )


UNBALANCE_FORCE = Calculator(
    slug="unbalance-force",
    title="Unbalance force",
    lead="The force with which a heavy spot pulls at the axle while the wheel rolls.",
    calculations=("unbalance-force",),
    entries=(
        Entry("mass", "Mass of the unbalance", MASS, {METRIC: "30 g", US: "1 oz"}, "m"),
        Entry("radius", "Its radius", LENGTH, {METRIC: "190 mm", US: "7.5 in"}, "r"),
        CIRCUMFERENCE,
        Entry("speed", "Speed", SPEED, {METRIC: "100 km/h", US: "60 mph"}, "v", slider=SPEEDS),
    ),
    formula=("{f} = {v} / {c}", "{F} = {m} {r} {ω}^2 with {ω} = 2π {f}"),
    source="Force on a mass on a circular path, in any textbook of dynamics.",
    work=_force,
    cautions=(Caution.SPINNING,),
)


def _orders(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask("vibration-order", entered, ORDER_PLACES)
    rows = [
        Order(
            f"{each['source']} {each['order']:g}",
            each["off_percent"],
            f"{each['off_percent']:.1f} %",
        )
        for each in answer["orders"]
    ]
    wheel = FREQUENCY.show(answer["wheel_hz"], system)
    return Outcome(
        headline=f"Nearest: {rows[0].label}, {rows[0].text} off. The wheel turns at {wheel}.",
        results=(
            result("Wheel frequency", answer["wheel_hz"], FREQUENCY),
            Result("Nearest order", f"{rows[0].label}, {rows[0].text} off"),
        ),
        worked=(
            f"wheel order 1: {SPEED.show(entered['speed'], system)} / "
            f"{LENGTH.show(entered['circumference'], system)} = {wheel}",
        ),
        drawings=(order_distances(rows),),
        remarks=(
            "A match names a suspect, it proves nothing: two parts can turn at nearly one speed. Change the "
            "gear or the speed and look which order stays with the vibration.",
        ),
    )


VIBRATION_ORDER = Calculator(
    slug="vibration-order",
    title="Vibration order",
    lead="Which turning part may make a vibration that is felt at a speed.",
    calculations=("vibration-order",),
    entries=(
        CIRCUMFERENCE,
        Entry("axle_ratio", "Axle ratio", RATIO, "3.7", optional=True, hint="Empty: no driveline."),
        Entry("engine", "Engine speed", TURNING, "2000 rpm", optional=True, hint="Empty: no engine."),
        Entry(
            "frequency",
            "Frequency felt",
            FREQUENCY,
            "14 Hz",
            "f",
            slider=Slider((1, 100, 0.5), (1, 100, 0.5)),
        ),
        Entry(
            "speed",
            "Speed",
            SPEED,
            {METRIC: "100 km/h", US: "60 mph"},
            "v",
            slider=Slider((10, 200, 1), (5, 120, 1)),
        ),
    ),
    formula=(
        "{b} = {v} / {c} for the wheel, that times the axle ratio for the driveline, rpm / 60 for the engine",
        "off by 100 |{f} − {k} {b}| / ({k} {b}) percent at order {k}",
    ),
    source="Common practice, no source: wheel orders 1 to 4, driveline 1 and 2, engine 0.5, 1 and 2.",
    work=_orders,
)
