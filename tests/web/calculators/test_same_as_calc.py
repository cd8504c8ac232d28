"""Every number of a calculator is the one that `heavyspot calc` gives."""

import json

import pytest
from click.testing import CliRunner

from app.cli import main
from app.web.calculators.sheets import CALCULATORS
from tests.web.calculators.reading import results, show, shows


def calc(name, given):
    """What the command line answers."""
    ended = CliRunner().invoke(main, ["calc", name], input=json.dumps(given))
    assert ended.exit_code == 0, ended.output
    return json.loads(ended.stdout)


MASSES = {
    "mass1": "20 g", "radius1": "300 mm", "angle1": "60°", "z1": "-70 mm",
    "mass2": "12 g", "radius2": "290 mm", "angle2": "200°", "z2": "60 mm",
}  # fmt: skip
UNBALANCES = [
    {"mass_g": 20, "radius_mm": 300, "angle_deg": 60, "z_mm": -70},
    {"mass_g": 12, "radius_mm": 290, "angle_deg": 200, "z_mm": 60},
]
READINGS = [0.0, 0.17, 0.19, 0.15, 0.13, 0.11, 0.09, 0.07, -0.03, -0.21, -0.33, -0.24]
FOUR = {
    "r1h_A": "80", "r1h_B": "53", "r1h_C": "40", "r1h_D": "18",
    "conicity_A": "20", "conicity_B": "-30", "conicity_C": "45", "conicity_D": "-12",
    "objective": "tracking", "drive_side": "right", "rear_share": "0.3", "allowed_A": "left",
}  # fmt: skip
ASSEMBLIES = [
    {"id": "A", "r1h_n": 80, "conicity_n": 20, "allowed": ["LF", "LR"]},
    {"id": "B", "r1h_n": 53, "conicity_n": -30},
    {"id": "C", "r1h_n": 40, "conicity_n": 45},
    {"id": "D", "r1h_n": 18, "conicity_n": -12},
]

# slug, what is entered, the calculation, its input, and by result line the answer's value
SAME_AS_CALC = [
    (
        "balance",
        MASSES | {"inboard_z": "-90", "inboard_radius": "203", "outboard_z": "40", "outboard_radius": "178"},
        "two-plane-correction",
        {
            "unbalances": UNBALANCES,
            "planes": [
                {"name": "in", "z_mm": -90, "radius_mm": 203},
                {"name": "out", "z_mm": 40, "radius_mm": 178},
            ],
        },
        {
            "Static unbalance U": lambda a: a["static"]["size"],
            "Inboard weight": lambda a: a["corrections"][0]["mass_g"],
            "Outboard weight": lambda a: a["corrections"][1]["mass_g"],
        },
    ),
    (
        "balance",
        MASSES | {"single_z": "15", "single_radius": "190"},
        "single-plane-correction",
        {"unbalances": UNBALANCES, "plane": {"z_mm": 15, "radius_mm": 190}},
        {
            "One weight alone": lambda a: a["mass_g"],
            "Couple that one weight leaves": lambda a: a["couple_left"]["size"] / 1000,
        },
    ),
    (
        "unbalance-force",
        {"mass": "30", "radius": "190", "speed": "100", "circumference": "1975"},
        "unbalance-force",
        {"mass_g": 30, "radius_mm": 190, "speed_kmh": 100, "rolling_circumference_mm": 1975},
        {"Peak force F": lambda a: a["force_n"], "Wheel frequency f": lambda a: a["frequency_hz"]},
    ),
    (
        "vibration-order",
        {"speed": "100", "frequency": "14", "circumference": "1975", "axle_ratio": "3.7", "engine": "2000"},
        "vibration-order",
        {
            "speed_kmh": 100,
            "frequency_hz": 14,
            "rolling_circumference_mm": 1975,
            "axle_ratio": 3.7,
            "engine_rpm": 2000,
        },
        {"Wheel frequency": lambda a: a["wheel_hz"]},
    ),
    (
        "runout",
        {"readings": " ".join(str(each) for each in READINGS), "gauge": "mm", "start": "15"},
        "runout",
        {"readings_mm": READINGS, "start_deg": 15},
        {
            "Total indicated runout": lambda a: a["total_mm"],
            "Mean reading": lambda a: a["mean_mm"],
            "Greatest reading stands at": lambda a: a["high_deg"],
            "Least reading stands at": lambda a: a["low_deg"],
        },
    ),
    (
        "match-mounting",
        {"tire": "80", "tire_angle": "40", "runout": "0.25", "runout_angle": "100", "spring_rate": "200"},
        "match-mount",
        {
            "tire": {"size": 80, "angle_deg": 40},
            "wheel": {"size": 0.25, "angle_deg": 100},
            "spring_rate_n_per_mm": 200,
        },
        {"As mounted": lambda a: a["before_n"], "Left at the best turn": lambda a: a["after_n"]},
    ),
    (
        "match-mounting",
        {"tire": "80", "tire_angle": "40", "turn": "75 ccw", "runout": "0.25", "runout_angle": "100"},
        "match-mount",
        {
            "tire": {"size": 80, "angle_deg": 40 - 75},
            "wheel": {"size": 0.25, "angle_deg": 100},
            "spring_rate_n_per_mm": 200,
        },
        {"With the tire turned as entered": lambda a: a["before_n"]},
    ),
    (
        "tire-and-wheel",
        {"first": "100", "first_angle": "60", "second": "60", "second_angle": "110", "turned": "170 ccw"},
        "separate-tire-and-wheel",
        {
            "first": {"size": 100, "angle_deg": 60},
            "second": {"size": 60, "angle_deg": 110},
            "turned_deg": -170,
        },
        {
            "Tire T, as it stood in the first measurement": lambda a: a["tire"]["size"],
            "Wheel W": lambda a: a["wheel"]["size"],
            "Left at the best turn": lambda a: a["best_n"],
        },
    ),
    (
        "placement",
        FOUR,
        "placement",
        {"assemblies": ASSEMBLIES, "drive_side": "right", "objective": "tracking", "rear_share": 0.3},
        {
            "Cost of the best": lambda a: a["best"][0]["cost"],
            "Cost of the last": lambda a: a["ranking"][-1]["cost"],
            "Arrangements permitted": lambda a: len(a["ranking"]),
        },
    ),
    (
        "tire-size",
        {"designation": "LT245/75R16 120/116S"},
        "tire-size",
        {"designation": "LT245/75R16 120/116S"},
        {
            "Section height": lambda a: a["section_height_mm"],
            "Overall diameter": lambda a: a["overall_diameter_mm"],
            "Rolling circumference": lambda a: a["rolling_circumference_mm"],
            "Turns over a distance": lambda a: a["revs_per_km"],
            "Load of index 120": lambda a: a["load_kg"],
            "Speed of symbol S": lambda a: a["speed_kmh"],
        },
    ),
    (
        "tire-date",
        {"tin": "DOT XXX ABCDEF 5107", "service_date": "2024-05-31"},
        "tire-date",
        {"tin": "DOT XXX ABCDEF 5107", "service_date": "2024-05-31"},
        {"Age on the day of service": lambda a: a["age_years"], "Week of manufacture": lambda a: a["week"]},
    ),
    (
        "stock-weights",
        {"target": "37", "stock": "5, 10, 15, 20, 30", "pieces": "3"},
        "weights-from-stock",
        {"target_g": 37, "stock_g": [5, 10, 15, 20, 30], "max_pieces": 3},
        {"Together": lambda a: a["sum_g"], "More (+) or less (−) than wanted": lambda a: a["error_g"]},
    ),
    (
        "split-weight",
        {"mass": "40", "angle": "130", "spoke1": "108", "spoke2": "180"},
        "split-weight",
        {"mass_g": 40, "angle_deg": 130, "at_deg": [108, 180]},
        {
            "Weight behind the spoke at 108°": lambda a: a["masses_g"][0],
            "Weight behind the spoke at 180°": lambda a: a["masses_g"][1],
        },
    ),
    (
        "pressure",
        {"set_pressure": "240", "set_at": "21", "at": "-10", "ambient": "101.325"},
        "pressure-at-temperature",
        {"set_kpa": 240, "set_c": 21, "at_c": -10},
        {"Gauge pressure then": lambda a: a["gauge_kpa"], "Change": lambda a: a["change_kpa"]},
    ),
    (
        "pressure",
        {"placard": "240", "minimum": "137.9"},
        "pressure-warning",
        {"placard_kpa": 240, "table_minimum_kpa": 137.9},
        {"Warning due at or below": lambda a: a["warning_kpa"]},
    ),
    (
        "units",
        {"value": "1.25", "from": "oz", "to": "g"},
        "convert",
        {"value": 1.25, "from": "oz", "to": "g"},
        {"1.25 oz is": lambda a: a["value"]},
    ),
]


@pytest.mark.parametrize(
    ("slug", "entries", "name", "given", "lines"),
    SAME_AS_CALC,
    ids=[f"{row[0]}-{row[2]}-{i}" for i, row in enumerate(SAME_AS_CALC)],
)
def test_a_result_is_that_of_the_command_line(reader, slug, entries, name, given, lines):
    found, answer = results(show(reader, slug, **entries)), calc(name, given)
    for label, value in lines.items():
        assert shows(found[label][0], value(answer)), f"{label}: {found[label][0]}, not {value(answer)}"


def test_every_calculator_is_compared_with_the_command_line():
    compared = {(slug, name) for slug, _, name, _, _ in SAME_AS_CALC}
    assert compared == {(each.slug, name) for each in CALCULATORS.values() for name in each.calculations}
