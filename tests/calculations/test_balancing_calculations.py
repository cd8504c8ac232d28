"""Balancing over the wire: the model's own checks, and what a machine shows and hides."""

import cmath
import math

import pytest

from app.calculations import registry

PLANES = [
    {"name": "inboard", "z_mm": -70, "radius_mm": 180},
    {"name": "outboard", "z_mm": 80, "radius_mm": 175},
]
MASSES = [
    {"mass_g": 30, "radius_mm": 310, "angle_deg": 40, "z_mm": 5},
    {"mass_g": 12, "radius_mm": 180, "angle_deg": 200, "z_mm": -60},
]


def phasor(vector, size="size"):
    return cmath.rect(vector[size], math.radians(vector["angle_deg"]))


def spun(fitted=(), **changed):
    given = {
        "unbalances": MASSES,
        "fitted": list(fitted),
        "planes": PLANES,
        "entered_planes": PLANES,
        "mounting": None,
        "step_g": 5,
        "dead_band_g": 4,
    }
    answer = registry.answer("spin", given | changed)
    assert "error" not in answer, answer
    return answer


def fitted(weights):
    return [
        {"plane": index, "mass_g": each["mass_g"], "angle_deg": each["angle_deg"]}
        for index, each in enumerate(weights)
    ]


def test_two_plane_corrections_keep_both_checks_of_the_model():
    """C_1 + C_2 = -U and z_1 C_1 + z_2 C_2 = -M."""
    answer = registry.answer("two-plane-correction", {"unbalances": MASSES, "planes": PLANES})
    assert [each["name"] for each in answer["corrections"]] == ["inboard", "outboard"]
    corrections = [
        phasor(each, "mass_g") * plane["radius_mm"]
        for each, plane in zip(answer["corrections"], PLANES, strict=True)
    ]
    assert sum(corrections) == pytest.approx(-phasor(answer["static"]))
    moments = [each * plane["z_mm"] for each, plane in zip(corrections, PLANES, strict=True)]
    assert sum(moments) == pytest.approx(-phasor(answer["couple"]))


@pytest.mark.parametrize("masses", [[], [MASSES[0], MASSES[0] | {"angle_deg": 220}]])
def test_a_balanced_wheel_asks_for_nothing_in_no_direction(masses):
    answer = registry.answer("two-plane-correction", {"unbalances": masses, "planes": PLANES})
    for vector in (answer["static"], answer["couple"], *answer["corrections"]):
        assert vector["angle_deg"] is None
    assert [each["mass_g"] for each in answer["corrections"]] == pytest.approx([0, 0], abs=1e-9)


def test_one_weight_in_the_unbalances_own_plane_leaves_no_couple():
    given = {"unbalances": [MASSES[1]], "plane": {"z_mm": -60, "radius_mm": 90}}
    answer = registry.answer("single-plane-correction", given)
    assert answer["mass_g"] == pytest.approx(24)
    assert answer["angle_deg"] == pytest.approx(20)
    assert answer["couple_left"] == {"size": 0.0, "angle_deg": None}


def test_one_weight_elsewhere_leaves_the_couple_between_the_two():
    given = {"unbalances": [MASSES[1]], "plane": {"z_mm": 0, "radius_mm": 180}}
    left = registry.answer("single-plane-correction", given)["couple_left"]
    assert left == {"size": pytest.approx(12 * 180 * 60), "angle_deg": pytest.approx(20)}


def test_a_spin_shows_the_weights_rounded_to_the_step():
    answer = spun()
    for exact, shown in zip(answer["corrections"], answer["shown"], strict=True):
        assert shown["mass_g"] == 5 * math.floor(exact["mass_g"] / 5 + 0.5)
        assert shown["angle_deg"] == exact["angle_deg"]
        assert shown["name"] == exact["name"]


def test_the_exact_weights_once_fitted_leave_nothing_in_no_direction():
    answer = spun(fitted(spun()["corrections"]))
    for weight in (*answer["corrections"], *answer["left_in_planes"]):
        assert weight["mass_g"] < 1e-9
        assert weight["angle_deg"] is None
    assert [(each["mass_g"], each["angle_deg"]) for each in answer["shown"]] == [(0, None), (0, None)]


def test_the_shown_weights_leave_what_rounding_took_and_the_machine_calls_it_zero():
    answer = spun(fitted(spun()["shown"]))
    assert all(0 < each["mass_g"] <= 2.5 for each in answer["left_in_planes"])
    assert [(each["mass_g"], each["angle_deg"]) for each in answer["shown"]] == [(0, None), (0, None)]


def test_a_weight_that_rounds_to_nothing_above_the_dead_band_has_no_direction_either():
    answer = spun(step_g=200, dead_band_g=0)
    assert [(each["mass_g"], each["angle_deg"]) for each in answer["shown"]] == [(0, None), (0, None)]


def test_dirt_under_the_cone_is_shown_but_is_not_the_assemblys_own():
    mounting = {"mass_kg": 20, "eccentricity_mm": 0.1, "angle_deg": 75}
    dirty, clean = spun(mounting=mounting), spun()
    assert dirty["left_in_planes"] == clean["left_in_planes"]
    shift = sum(
        (phasor(dirt, "mass_g") - phasor(none, "mass_g")) * plane["radius_mm"]
        for dirt, none, plane in zip(dirty["corrections"], clean["corrections"], PLANES, strict=True)
    )
    assert shift == pytest.approx(-cmath.rect(20 * 1000 * 0.1, math.radians(75)))


def test_planes_need_no_name_in_a_spin():
    nameless = [{key: plane[key] for key in ("z_mm", "radius_mm")} for plane in PLANES]
    answer = spun(planes=nameless, entered_planes=nameless)
    assert [each["name"] for each in answer["corrections"]] == [None, None]
    assert answer["left_in_planes"][0]["mass_g"] == spun()["left_in_planes"][0]["mass_g"]


@pytest.mark.parametrize("planes", ["planes", "entered_planes"])
def test_planes_at_one_place_are_refused_by_the_list_they_stand_in(planes):
    flat = [PLANES[0], PLANES[1] | {"z_mm": -70}]
    given = {
        "unbalances": MASSES,
        "fitted": [],
        "planes": PLANES,
        "entered_planes": PLANES,
        "step_g": 5,
        "dead_band_g": 4,
    }
    answer = registry.answer("spin", given | {planes: flat})
    assert answer["error"]["field"] == f"{planes}[1].z_mm"
