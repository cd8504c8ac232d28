"""Permissible unbalance against the published examples of ISO 21940-11."""

import pytest

from app.compute import errors, unbalance
from app.compute.vibration import wheel_frequency
from tests.published.cases import case


def test_the_constant_of_the_standards_formula_is_the_published_one():
    published = case("iso-uper-constant")
    constant = unbalance.specific_unbalance(1.0, 1.0)
    assert constant == pytest.approx(9549.3, abs=published["tolerance"]["9549.3"])
    pounds_to_oz_in = constant * 0.45359237 / (28.349523125 * 25.4)
    assert pounds_to_oz_in == pytest.approx(6.015, abs=published["tolerance"]["6.015"])


def test_grade_40_on_a_car_wheel_is_the_published_47_grams():
    published = case("iso-g40-car-wheel")
    setup, expect, tolerance = published["given"], published["expect"], published["tolerance"]
    circumference_mm = 2 * 3.141592653589793 * setup["rolling_radius_m"] * 1000
    speed_rpm = 60 * wheel_frequency(setup["speed_km_h"], circumference_mm)
    assert speed_rpm == pytest.approx(expect["n_rpm"], abs=tolerance["rpm"])
    total_gmm = unbalance.specific_unbalance(setup["grade"], speed_rpm) * setup["assembly_kg"]
    assert total_gmm == pytest.approx(expect["U_per_g_mm"], abs=tolerance["g_mm"])
    grams = total_gmm / setup["correction_radius_mm"]
    assert grams == pytest.approx(expect["as_grams_at_radius_total"], abs=tolerance["g"])


def test_a_turbine_rotor_shares_its_permissible_unbalance_as_in_the_standards_example():
    published = case("iso-turbine-3600kg")  # from memory
    setup, expect = published["given"], published["expect"]
    total = unbalance.specific_unbalance(setup["grade"], setup["rpm"]) * setup["mass_kg"]
    shares = unbalance.share_between_planes(total, [-setup["L_A_mm"], setup["L_B_mm"]], 0)
    relative = published["tolerance"]["relative"]
    assert total == pytest.approx(expect["U_per_g_mm"], rel=relative)
    assert shares == pytest.approx([expect["U_A_g_mm"], expect["U_B_g_mm"]], rel=relative)


def test_no_plane_gets_less_than_three_tenths_or_more_than_seven():
    published = case("iso-plane-split-limits")
    setup, expect = published["given"], published["expect"]
    near_first = unbalance.share_between_planes(setup["U_per"], [-setup["L_A"], setup["L_B"]], 0)
    assert near_first == pytest.approx([expect["U_A"], expect["U_B"]], abs=published["tolerance"]["abs"])
    near_second = unbalance.share_between_planes(setup["U_per"], [-setup["L_B"], setup["L_A"]], 0)
    assert near_second == pytest.approx([expect["U_B"], expect["U_A"]], abs=published["tolerance"]["abs"])


def test_shares_follow_the_planes_when_they_are_given_outboard_first():
    forward = unbalance.share_between_planes([10.0, 20.0], [-80, 60], [0, 10])
    backward = unbalance.share_between_planes([10.0, 20.0], [60, -80], [0, 10])
    assert forward.shape == (2, 2)
    assert backward == pytest.approx(forward[:, ::-1])


@pytest.mark.parametrize("centre", [-81, 61])
def test_a_centre_of_mass_outside_the_planes_is_refused(centre):
    with pytest.raises(errors.OutOfRangeError) as caught:
        unbalance.share_between_planes(1.0, [-80, 60], centre)
    assert str(caught.value) == "centre_of_mass_z_mm: Give a centre of mass between the two planes."


@pytest.mark.parametrize(("centre", "shares"), [(-80, [0.7, 0.3]), (60, [0.3, 0.7])])
def test_a_centre_of_mass_in_a_plane_still_counts_as_between_them(centre, shares):
    assert unbalance.share_between_planes(1.0, [-80, 60], centre) == pytest.approx(shares)


def test_what_can_not_be_shared_is_refused_by_name():
    with pytest.raises(errors.OutOfRangeError, match=r"^total_gmm: "):
        unbalance.share_between_planes(-1.0, [-80, 60], 0)
    with pytest.raises(errors.NotFiniteError, match=r"^centre_of_mass_z_mm: "):
        unbalance.share_between_planes(1.0, [-80, 60], float("nan"))
    with pytest.raises(errors.OutOfRangeError, match=r"^grade_mm_s: "):
        unbalance.specific_unbalance(-40, 800)
    with pytest.raises(errors.OutOfRangeError, match=r"^speed_rpm: "):
        unbalance.specific_unbalance(40, 0)
