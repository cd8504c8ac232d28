"""Tire pressure and temperature, and when a pressure warning is due."""

from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.calculator_curve import Level, Spot, curve
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
from app.web.calculators.kinds import PRESSURE, PRESSURE_CHANGE, TEMPERATURE

METRIC, US = UnitSystem.METRIC, UnitSystem.US
TEMPERATURES = Slider((-40, 60, 1), (-40, 140, 1))
GAS_PLACES = {"set_kpa": "set_pressure", "set_c": "set_at", "at_c": "at", "ambient_kpa": "ambient"}
WARNING_PLACES = {"placard_kpa": "placard", "table_minimum_kpa": "minimum"}


def _work(entered: Entered) -> Outcome:
    system = entered.system
    gas = ask("pressure-at-temperature", entered, GAS_PLACES)
    warning_kpa = ask("pressure-warning", entered, WARNING_PLACES)["warning_kpa"]
    gauge, warning = PRESSURE_CHANGE.show(gas["gauge_kpa"], system), PRESSURE.show(warning_kpa, system)
    change = PRESSURE_CHANGE.show(gas["change_kpa"], system)
    set_text, set_at, at = (
        kind.show(entered[name], system)
        for kind, name in ((PRESSURE, "set_pressure"), (TEMPERATURE, "set_at"), (TEMPERATURE, "at"))
    )
    due = gas["gauge_kpa"] <= warning_kpa
    points = [
        (
            shown,
            PRESSURE.number(
                ask("pressure-at-temperature", entered.but(at=c), GAS_PLACES)["gauge_kpa"], system
            ),
        )
        for shown, c in sweep(TEMPERATURE, TEMPERATURES, system, steps=40)
    ]
    here = Spot(
        TEMPERATURE.number(entered["at"], system),
        PRESSURE.number(gas["gauge_kpa"], system),
        f"{gauge} at {at}",
    )
    return Outcome(
        headline=f"{gauge} at {at}, {change} from the set pressure. "
        + (f"At or below {warning}: a warning is due." if due else f"A warning is due at {warning}."),
        results=(
            result("Gauge pressure then", gas["gauge_kpa"], PRESSURE_CHANGE),
            result("Change", gas["change_kpa"], PRESSURE_CHANGE),
            result("Warning due at or below", warning_kpa, PRESSURE),
            Result("Is it due?", "yes" if due else "no"),
        ),
        worked=(
            f"({set_text} + {{p_0}}) · ({at} as absolute) / ({set_at} as absolute) − {{p_0}} = {gauge}",
            f"warning: the higher of 0.75 · {PRESSURE.show(entered['placard'], system)} and the minimum = "
            f"{warning}",
        ),
        drawings=(
            curve(
                points,
                [here],
                x_name=f"temperature, {TEMPERATURE.unit(system)}",
                y_name=f"gauge pressure, {PRESSURE.unit(system)}",
                label="pressure of the same air",
                title="Pressure over temperature",
                level=Level(PRESSURE.number(warning_kpa, system), f"warning due at or below {warning}"),
            ),
        ),
        remarks=(
            "A warm tire reads high: set the pressure cold, and let no air out of a warm tire to match "
            "the placard.",
        ),
    )


PRESSURE_AND_TEMPERATURE = Calculator(
    slug="pressure",
    title="Pressure and temperature",
    lead="What the gauge reads once a tire has warmed up or cooled down, and when the warning lamp is due.",
    calculations=("pressure-at-temperature", "pressure-warning"),
    entries=(
        Entry("set_pressure", "Set pressure", PRESSURE, {METRIC: "240 kPa", US: "35 psi"}, "p_1"),
        Entry("set_at", "Set at", TEMPERATURE, {METRIC: "21 °C", US: "70 °F"}, "T_1"),
        Entry("placard", "Placard pressure", PRESSURE, {METRIC: "240 kPa", US: "35 psi"}),
        Entry(
            "minimum",
            "Least pressure of the rule’s table",
            PRESSURE,
            {METRIC: "137.9 kPa", US: "20 psi"},
            hint="137.9 kPa (20 psi) for a standard-load passenger tire.",
        ),
        Entry(
            "ambient",
            "Pressure of the air outside",
            PRESSURE,
            {METRIC: "101.325 kPa", US: "14.696 psi"},
            "p_0",
            hint="Less on a mountain.",
        ),
        Entry(
            "at", "Temperature then", TEMPERATURE, {METRIC: "-10 °C", US: "14 °F"}, "T_2", slider=TEMPERATURES
        ),
    ),
    formula=(
        "{p_2} = ({p_1} + {p_0}) · {T_2} / {T_1} − {p_0}, with {T} in kelvin: °C + 273.15",
        "warning = the higher of 0.75 · placard and the table’s minimum",
    ),
    source="Gas law on absolute pressure and temperature at constant volume, in any textbook of physics; "
    "warning: 49 CFR 571.138 S4.2(a).",
    work=_work,
    models=("The tire keeps its volume, and all of its air has one temperature.",),
    cautions=(Caution.PRESSURE,),
)
