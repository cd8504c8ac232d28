"""Values from outside the project, seen on the calculators' pages; each names its source."""

import itertools

import numpy as np
import pytest

from tests.published.cases import case
from tests.web.calculators.reading import number, results, show, shows, tables


def test_one_weight_balances_a_flywheel(reader):
    known = case("bal-static-rao-flywheel-rim")  # Rao, Mechanical Vibrations, ch. 9, Problem 5
    entries = {"single_radius": f"{known['given']['rim_diameter_mm'] / 2} mm", "single_z": "0"}
    for row, (mass, angle) in enumerate(known["given"]["masses"], 1):
        entries |= {
            f"mass{row}": mass,
            f"angle{row}": angle,
            f"radius{row}": entries["single_radius"],
            f"z{row}": "0",
        }
    text = results(show(reader, "balance", **entries))["One weight alone"][0]
    assert shows(text, known["expect"]["fourth_mass_g"])
    assert text.endswith("at 325°")  # 325.44


def test_force_of_a_wheel_s_unbalance(reader):
    # Beer, Johnston, Dynamics, ch. 18: 25 938 g.mm at 12.5 turns a second pull with 160 N
    known = case("bal-wheel-static-and-couple-beer-johnston")
    entries = {
        "mass": f"{known['expect']['static_unbalance_g_mm'] / 100} g",
        "radius": "100 mm",
        "circumference": "2000 mm",
        "speed": f"{2 * known['given']['speed_rev_per_s']} m/s",
    }
    assert results(show(reader, "unbalance-force", **entries))["Peak force F"][0] == "160.0 N"


def test_second_order_of_a_published_tire(reader):
    known = case("freq-P225-50R16")  # car makers' service information, second-hand
    turns_per_second = known["given"]["published_rev_per_s_at_5_mph"]
    entries = {
        "circumference": f"{5 * 447.04 / turns_per_second:.6f} mm",
        "speed": f"{known['given']['speed_mph']} mph",
        "frequency": f"{known['expect']['second_order_Hz']} Hz",
    }
    html = show(reader, "vibration-order", **entries)
    assert results(html)["Wheel frequency"] == ["14.04 Hz"]
    assert results(html)["Nearest order"] == ["wheel 2, 0.0 % off"]


def test_harmonics_of_a_textbook_s_readings(reader):
    known = case("harmonic-bird-problem-1")  # Bird, Higher Engineering Mathematics, Table 70.1
    entries = {"readings": ", ".join(str(y) for y in known["given"]["y"]), "start": "30", "gauge": "mm"}
    html = show(reader, "runout", **entries)
    rows = tables(html)["Harmonics"]
    for order in (1, 2, 3):
        # The book works with a few digits.
        assert number(rows[order - 1][1]) == pytest.approx(
            2 * known["expect"][f"amplitude_{order}"], abs=0.04
        )
    assert rows[0][3] == "326°"
    assert results(html)["Total indicated runout"][0] == "160.00 mm"


def test_half_a_millimetre_of_runout_makes_a_hundred_newtons(reader):
    known = case("uniformity-force-from-runout")  # linear spring; common practice
    entries = {
        "runout": known["given"]["radial_runout_pk_pk_mm"],
        "spring_rate": known["given"]["stiffness_N_per_mm"],
        "runout_angle": "300",
        "tire": "100",
        "tire_angle": "50",
        "turn": "70 cw",
    }
    found = results(show(reader, "match-mounting", **entries))
    assert found["Force that the wheel’s runout makes, W"][0] == "100.0 N at 300°"
    assert found["Best turn from as mounted"] == ["70° clockwise"]
    assert found["With the tire turned as entered"][0] == found["Left at the best turn"][0] == "0.0 N"


def test_tire_and_wheel_come_apart_as_they_were_put_together(reader):
    tire, wheel = 60 * np.exp(1j * np.deg2rad(20)), 40 * np.exp(1j * np.deg2rad(100))  # our own numbers
    turned = tire * np.exp(1j * np.deg2rad(90))
    entries = {"turned": "90 cw"}
    for name, vector in (("first", tire + wheel), ("second", turned + wheel)):
        entries |= {name: f"{abs(vector):.6f}", f"{name}_angle": f"{np.rad2deg(np.angle(vector)):.6f}"}
    found = results(show(reader, "tire-and-wheel", **entries))
    assert found["Tire T, as it stood in the first measurement"][0] == "60.0 N at 20°"
    assert found["Wheel W"][0] == "40.0 N at 100°"


def test_the_least_force_goes_to_the_largest_weight(reader):
    known = case("opt-rearrangement-four")  # Hardy, Littlewood, Polya, Inequalities
    entries = {f"r1h_{letter}": value for letter, value in zip("ABCD", known["given"]["values"], strict=True)}
    html = show(reader, "placement", objective="comfort", drive_side="left", **entries)
    assert [results(html)[place][0][-1] for place in ("LF", "RF", "LR", "RR")] == ["D", "C", "B", "A"]
    ranking = tables(html)["Every permitted arrangement, least cost first"]
    assert len(ranking) == known["expect"]["permutations"]
    assert len({tuple(row[1:5]) for row in ranking}) == len(ranking)


def test_a_size_as_published(reader):
    known = case("size-P205-65R15")  # P-metric sizes
    rolling = case("size-rolling-circumference-etrto")["expect"]["rolling_circumference_mm"]
    found = results(show(reader, "tire-size", designation=known["given"]["designation"]))
    assert found["Section height"][0] == f"{known['expect']['section_height_mm']} mm"
    assert shows(found["Overall diameter"][0], known["expect"]["overall_diameter_mm"])
    assert shows(found["Overall diameter"][1], known["expect"]["overall_diameter_in"])
    assert number(found["Rolling circumference"][0]) == pytest.approx(rolling, abs=0.05)


def test_a_date_code_by_the_regulation(reader):
    known = case("tin-date-0109")  # 49 CFR 574.5(b)
    entries = {"tin": known["given"]["date_code"], "service_date": "2024-05-31"}
    found = results(show(reader, "tire-date", **entries))
    assert found["First day of that week"] == [f"{known['expect']['week_start']}, a Sunday"]
    assert found["Last day of that week"] == [f"{known['expect']['week_end']}, a Saturday"]


def test_a_date_code_of_three_digits_leaves_the_decade_open(reader):
    known = case("tin-three-digit-date")  # 64 FR 36807
    found = results(show(reader, "tire-date", tin=known["given"]["date_code"], service_date="1999-05-31"))
    assert found["Week of manufacture"] == [f"week 03 of {known['expect']['possible_years'][-1]}"]
    assert found["Age on the day of service"][0].startswith("at least")


def test_no_pieces_come_nearer(reader):
    sizes = (5, 10, 15, 20, 30)  # every combination, tried here
    sums = [sum(pieces) for n in range(4) for pieces in itertools.combinations_with_replacement(sizes, n)]
    found = results(
        show(
            reader,
            "stock-weights",
            target="47 g",
            stock="5 10 15 20 30".replace(" ", ","),
            pieces="3",
        )
    )
    assert abs(number(found["Together"][0]) - 47) == min(abs(each - 47) for each in sums)


def test_two_parts_by_a_system_of_equations(reader):
    entries = {"mass": "60 g", "angle": "4:30", "spoke1": "100", "spoke2": "172"}
    along = [np.cos(np.deg2rad([100, 172])), np.sin(np.deg2rad([100, 172]))]
    wanted = 60 * np.array([np.cos(np.deg2rad(135)), np.sin(np.deg2rad(135))])
    found = results(show(reader, "split-weight", **entries))
    for text, mass in zip(found.values(), np.linalg.solve(along, wanted), strict=True):
        assert shows(text[0], mass)


def test_a_tire_from_a_textbook_cools(reader):
    known = case("gas-openstax-car-tire")  # OpenStax College Physics, ch. 13, Problem 22
    given = known["given"]
    entries = {
        "set_pressure": f"{given['gauge_Pa'] / 1000} kPa",
        "set_at": f"{given['t1_C']} °C",
        "at": f"{given['t2_C']} C",
        "ambient": f"{given['atm_Pa'] / 1000} kPa",
    }
    found = results(show(reader, "pressure", **entries))
    assert found["Gauge pressure then"][0] == f"{known['expect']['gauge_Pa'] / 1000:.0f} kPa"


def test_a_warning_by_the_regulation(reader):
    known = case("tpms-threshold-35psi")  # 49 CFR 571.138 S4.2(a)
    found = results(show(reader, "pressure", units="us", placard="35 psi", minimum="20 psi"))
    text = found["Warning due at or below"][1]
    assert shows(text, known["expect"]["telltale_at_or_below_psi"])


def test_a_quarter_ounce(reader):
    known = case("units-quarter-ounce")  # NIST SP 811
    html = show(reader, "units", value=known["given"]["oz"], **{"from": "oz", "to": "g"})
    assert number(results(html)["0.25 oz is"][0]) == pytest.approx(known["expect"]["g"], abs=5e-5)
