"""Trial runs, permissible unbalance and vibration over the wire: published cases and plain refusals."""

import pytest

from app.calculations import registry
from tests.published.cases import case


def vector(pair, size="size"):
    return {size: pair[0], "angle_deg": pair[1] % 360}


def rao_input(published, order=(0, 1)):
    setup = published["given"]
    trials = [
        {
            **vector(setup[run]["weight"], "mass"),
            "plane": plane,
            "readings": [vector(setup[run]["V_left"]), vector(setup[run]["V_right"])],
        }
        for plane, run in enumerate(["trial_left", "trial_right"])
    ]
    return {
        "initial": [vector(setup["V_left"]), vector(setup["V_right"])],
        "trials": [trials[index] for index in order],
    }


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_the_published_two_plane_corrections_come_back_in_the_order_of_the_planes(order):
    published = case("bal-two-plane-rao-correction")
    answer = registry.answer("influence-coefficients", rao_input(published, order))
    tolerance = published["tolerance"]
    for found, name in zip(answer["corrections"], ["C_left", "C_right"], strict=True):
        mass, angle = published["expect"][name]
        assert found["mass"] == pytest.approx(mass, abs=tolerance["magnitude"])
        assert found["angle_deg"] == pytest.approx(angle, abs=tolerance["angle_deg"])
    assert [len(row) for row in answer["coefficients"]] == [2, 2]


def test_two_trials_in_one_plane_are_refused():
    given = rao_input(case("bal-two-plane-rao-correction"))
    given["trials"][1]["plane"] = 0
    assert registry.answer("influence-coefficients", given)["error"]["field"] == "trials[1].plane"


def test_trials_that_can_not_tell_the_planes_apart_are_refused():
    given = rao_input(case("bal-two-plane-rao-correction"))
    given["trials"][1] = given["trials"][0] | {"plane": 1}
    assert registry.answer("influence-coefficients", given)["error"]["field"] == "trials"


def test_no_vibration_at_the_start_needs_no_weight():
    given = rao_input(case("bal-two-plane-rao-correction"))
    given["initial"] = [vector([0, 0]), vector([0, 0])]
    for weight in registry.answer("influence-coefficients", given)["corrections"]:
        assert weight == {"mass": 0.0, "angle_deg": None}


def test_the_published_single_plane_correction_comes_back():
    published = case("bal-single-plane-rao-grinding-si")
    setup, expect, tolerance = published["given"], published["expect"], published["tolerance"]
    answer = registry.answer(
        "trial-weight",
        {
            "initial": vector(setup["V0"]),
            "trial": {"mass": setup["trial"]["mass_g"], "angle_deg": setup["trial"]["angle_ccw_deg"]},
            "with_trial": vector(setup["V1"]),
        },
    )
    assert answer["mass"] == pytest.approx(expect["mass_g"], abs=tolerance["mass_g"])
    assert answer["angle_deg"] == pytest.approx(expect["angle_ccw_deg"], abs=tolerance["angle_deg"])


def test_a_trial_weight_that_changed_nothing_is_refused():
    same = vector([3, 40])
    given = {"initial": same, "trial": {"mass": 10, "angle_deg": 0}, "with_trial": same}
    assert registry.answer("trial-weight", given)["error"]["field"] == "with_trial"


def test_half_a_turn_on_the_shaft_tells_the_assembly_from_the_mounting():
    first, second = [vector([30, 0]), vector([10, 90])], [vector([10, 0]), vector([10, 90])]
    answer = registry.answer("reindex", {"first": first, "second": second})
    assert answer["assembly"][0] == {"size": pytest.approx(20), "angle_deg": 0}
    assert answer["mounting"][0] == {"size": pytest.approx(10), "angle_deg": 0}
    assert answer["assembly"][1] == {"size": pytest.approx(10), "angle_deg": pytest.approx(90)}
    assert answer["mounting"][1] == {"size": 0, "angle_deg": None}


def test_the_published_turbine_comes_back_with_and_without_its_planes():
    published = case("iso-turbine-3600kg")
    setup, expect = published["given"], published["expect"]
    given = {"grade_mm_s": setup["grade"], "rotor_kg": setup["mass_kg"], "speed_rpm": setup["rpm"]}
    relative = published["tolerance"]["relative"]
    whole = registry.answer("permissible-unbalance", given)
    assert whole["by_plane_gmm"] is None
    assert whole["total_gmm"] == pytest.approx(expect["U_per_g_mm"], rel=relative)
    assert whole["specific_um"] == pytest.approx(whole["total_gmm"] / setup["mass_kg"])
    planes = {"planes": [{"z_mm": -setup["L_A_mm"]}, {"z_mm": setup["L_B_mm"]}], "centre_of_mass_z_mm": 0}
    shared = registry.answer("permissible-unbalance", given | planes)
    assert shared["by_plane_gmm"] == pytest.approx([expect["U_A_g_mm"], expect["U_B_g_mm"]], rel=relative)


@pytest.mark.parametrize(
    ("places", "field"),
    [
        ({"planes": [{"z_mm": -70}, {"z_mm": 70}]}, "centre_of_mass_z_mm"),
        ({"centre_of_mass_z_mm": 0}, "planes"),
        ({"planes": [{"z_mm": -70}, {"z_mm": 70}], "centre_of_mass_z_mm": 71}, "centre_of_mass_z_mm"),
        ({"planes": [{"z_mm": 70}, {"z_mm": 70}], "centre_of_mass_z_mm": 70}, "planes[1].z_mm"),
    ],
)
def test_planes_that_can_not_share_a_permissible_unbalance_are_refused(places, field):
    given = {"grade_mm_s": 40, "rotor_kg": 20, "speed_rpm": 800} | places
    assert registry.answer("permissible-unbalance", given)["error"]["field"] == field


def test_the_published_force_comes_back_at_the_speed_that_makes_its_turns():
    published = case("force-centrifugal-5g-521rpm")
    setup = published["given"]
    given = {
        "mass_g": setup["mass_g"],
        "radius_mm": setup["rim_diameter_m"] * 500,
        "speed_kmh": setup["speed_rpm"] * 60 * 2000 / 1e6,
        "rolling_circumference_mm": 2000,
    }
    answer = registry.answer("unbalance-force", given)
    assert answer["frequency_hz"] == pytest.approx(setup["speed_rpm"] / 60)
    assert answer["force_n"] == pytest.approx(published["expect"]["force_N"], abs=published["tolerance"]["N"])


def test_a_felt_vibration_is_matched_with_what_turns():
    given = {"speed_kmh": 72, "frequency_hz": 30, "rolling_circumference_mm": 2000, "axle_ratio": 3.1}
    answer = registry.answer("vibration-order", given)
    assert answer["wheel_hz"] == pytest.approx(10)
    assert answer["orders"][0] == {"source": "wheel", "order": 3.0, "off_percent": pytest.approx(0, abs=1e-9)}
    assert answer["orders"][1]["source"] == "driveline"
    assert len(answer["orders"]) == 6
