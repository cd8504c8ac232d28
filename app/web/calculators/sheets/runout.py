"""Runout readings and their harmonics."""

from app.compute import units
from app.domain.measures import Measure, UnitSystem
from app.drawings.calculator_harmonics import Wave, harmonics_over_readings
from app.drawings.dial_readings import Harmonic, Series, dial_readings
from app.web.calculators.calculator import (
    Calculator,
    Entered,
    Entry,
    Outcome,
    Slider,
    Table,
    ask,
    result,
    vector_text,
)
from app.web.calculators.kinds import ANGLE, FINE_RUNOUT, NUMBER, RUNOUT, Choice, Measured, Several, Whole

METRIC, US = UnitSystem.METRIC, UnitSystem.US
SIGNED_RUNOUT = Measured(Measure.RUNOUT, signed=True)
GAUGES = {"mm": "mm", "in": "inches", "mil": "thousandths of an inch"}
PLACES = {"readings_mm": "readings", "start_deg": "start"}
EXAMPLE = "0.00, 0.17, 0.19, 0.15, 0.13, 0.11, 0.09, 0.07, -0.03, -0.21, -0.33, -0.24"
EXAMPLE_MIL = "0, 7, 7, 6, 5, 4, 4, 3, -1, -8, -13, -9"


def _work(entered: Entered) -> Outcome:
    system = entered.system
    readings = [float(units.convert(each, entered["gauge"], "mm")) for each in entered["readings"]]
    answer = ask("runout", entered.but(readings=readings), PLACES)
    waves = [
        Wave(
            each["order"],
            RUNOUT.number(each["peak_to_peak_mm"], system),
            each["high_deg"],
            RUNOUT.show(each["peak_to_peak_mm"], system),
        )
        for each in answer["harmonics"]
    ]
    shown = [RUNOUT.number(each, system) for each in readings]
    first = answer["harmonics"][0]
    first_text = vector_text(
        {"size": first["peak_to_peak_mm"], "angle_deg": first["high_deg"]}, RUNOUT, system
    )
    total = RUNOUT.show(answer["total_mm"], system)
    start = entered["start"] or 0.0
    series = Series(
        "readings",
        tuple(shown),
        tuple(SIGNED_RUNOUT.show(each, system) for each in readings),
        start_deg=start,
        harmonic=None
        if first["high_deg"] is None
        else Harmonic(waves[0].peak_to_peak / 2, first["high_deg"], f"first harmonic {waves[0].text}"),
    )
    return Outcome(
        headline=f"Total indicated runout {total}; first harmonic {first_text}.",
        results=(
            result("Total indicated runout", answer["total_mm"], RUNOUT),
            result("Mean reading", answer["mean_mm"], SIGNED_RUNOUT),
            result("Greatest reading stands at", answer["high_deg"], ANGLE),
            result("Least reading stands at", answer["low_deg"], ANGLE),
        ),
        worked=(
            f"total = greatest − least = {SIGNED_RUNOUT.show(max(readings), system)} − "
            f"({SIGNED_RUNOUT.show(min(readings), system)}) = {total}",
            f"2 |{{a_1}}| = (4 / {len(readings)}) |sum of {len(readings)} readings, each at its angle| = "
            f"{first_text}",
        ),
        drawings=(
            harmonics_over_readings(
                shown, waves[: entered["orders"]], start_deg=start, unit=RUNOUT.unit(system)
            ),
            dial_readings([series], unit=RUNOUT.unit(system)),
        ),
        tables=(
            Table(
                "Harmonics",
                ("Order", "Peak to peak, metric", "Peak to peak, US", "High spot"),
                tuple(
                    (
                        str(each["order"]),
                        FINE_RUNOUT.show(each["peak_to_peak_mm"], METRIC),
                        FINE_RUNOUT.show(each["peak_to_peak_mm"], US),
                        "no direction" if each["high_deg"] is None else ANGLE.show(each["high_deg"], system),
                    )
                    for each in answer["harmonics"]
                ),
            ),
        ),
        remarks=(
            "The total holds every bump; the first harmonic is the part that comes once each turn. They are "
            "not the same number, and match mounting goes by the first harmonic.",
        ),
    )


RUNOUT_AND_HARMONICS = Calculator(
    slug="runout",
    title="Runout and its harmonics",
    lead="Dial readings taken once around, what they add up to, and the waves that they are made of.",
    calculations=("runout",),
    entries=(
        Entry(
            "readings",
            "Readings, clockwise",
            Several(NUMBER, spaced=True),
            {METRIC: EXAMPLE, US: EXAMPLE_MIL},
            "x",
            hint="8 to 360 of them, equally spaced once around; typed or pasted, parted by spaces, commas "
            "or lines.",
        ),
        Entry("gauge", "The gauge reads in", Choice(GAUGES), {METRIC: "mm", US: "mil"}),
        Entry("start", "Angle of the first reading", ANGLE, "0°", optional=True),
        Entry(
            "orders",
            "Harmonics to add up",
            Whole("3"),
            "2",
            "k",
            slider=Slider((0, 10, 1), (0, 10, 1)),
        ),
    ),
    formula=(
        "{a_k} = (2 / {N}) · sum of {x_j} exp(−i {k} {t_j})",
        "peak to peak = 2 |{a_k}|; high spot = −arg({a_k}) / {k}; total = greatest − least",
    ),
    source="J. Bird, Higher Engineering Mathematics, “A numerical method of harmonic analysis”. That the "
    "first harmonic is given peak to peak is the trade’s definition (SAE J670 has the same).",
    work=_work,
)
