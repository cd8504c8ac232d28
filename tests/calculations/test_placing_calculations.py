"""Placement and pairing over the wire."""

import pytest

from app.calculations import registry
from tests.published.cases import case

FORCES = {"A": 18, "B": 12, "C": 9, "D": 4}


def assemblies(forces=FORCES, **changed):
    return [
        {"id": name, "r1h_n": force, "conicity_n": force - 10} | changed.get(name, {})
        for name, force in forces.items()
    ]


def placed(given_assemblies, **changed):
    given = {"assemblies": given_assemblies, "drive_side": "left", "objective": "comfort"} | changed
    return registry.answer("placement", given)


def test_the_published_least_cost_comes_first_and_the_greatest_last():
    published = case("opt-rearrangement-four")
    weights = dict(zip(["LF", "RF", "LR", "RR"], published["given"]["position_weights"], strict=True))
    forces = dict(zip("ABCD", published["given"]["values"], strict=True))
    answer = placed(assemblies(forces), weights=weights)
    assert len(answer["ranking"]) == published["expect"]["permutations"]
    assert answer["ranking"][0]["cost"] == pytest.approx(published["expect"]["minimum"], abs=1e-9)
    assert answer["ranking"][-1]["cost"] == pytest.approx(published["expect"]["maximum"], abs=1e-9)
    assert answer["best"] == answer["ranking"][:1]
    assert list(answer["best"][0]["positions"].values()) == ["D", "C", "B", "A"]


def test_the_least_force_goes_to_the_driver_on_either_side():
    assert placed(assemblies())["best"][0]["positions"]["LF"] == "D"
    assert placed(assemblies(), drive_side="right")["best"][0]["positions"]["RF"] == "D"


def test_tracking_pairs_like_conicities_on_an_axle():
    forces = {"A": 10, "B": 40, "C": 11, "D": 41}
    best = placed(assemblies(forces), objective="tracking")["best"]
    assert len(best) == 8  # either pair in front, and each pair either way round
    for arrangement in best:
        positions = arrangement["positions"]
        assert {positions["LF"], positions["RF"]} in ({"A", "C"}, {"B", "D"})
    ids = [tuple(each["positions"].values()) for each in best]
    assert ids == sorted(ids)


def test_the_rears_share_decides_which_pair_goes_in_front():
    forces = {"A": 10, "B": 40, "C": 11, "D": 45}
    front_heavy = placed(assemblies(forces), objective="tracking")["best"][0]["positions"]
    assert {front_heavy["LF"], front_heavy["RF"]} == {"A", "C"}
    rear_heavy = placed(assemblies(forces), objective="tracking", rear_share=3)["best"][0]["positions"]
    assert {rear_heavy["LF"], rear_heavy["RF"]} == {"B", "D"}


def test_allowed_positions_are_kept():
    limited = assemblies(D={"allowed": ["LR", "RR"]}, A={"allowed": ["RF"]})
    answer = placed(limited)
    assert len(answer["ranking"]) == 4
    for arrangement in answer["ranking"]:
        assert arrangement["positions"]["RF"] == "A"
        assert "D" in (arrangement["positions"]["LR"], arrangement["positions"]["RR"])


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        (assemblies(A={"allowed": []}), "assemblies"),
        (assemblies(A={"allowed": ["LF"]}, B={"allowed": ["LF"]}), "assemblies"),
        (assemblies(C={"id": "A"}), "assemblies[2].id"),
        (assemblies(C={"allowed": ["front"]}), "assemblies[2].allowed[0]"),
        (assemblies()[:3], "assemblies"),
    ],
)
def test_assemblies_that_can_not_be_placed_are_refused(wrong, field):
    assert placed(wrong)["error"]["field"] == field


def paired(tires, wheels, /, **changed):
    given = {
        "tires": [{"id": f"T{index}", "r1h_n": force} for index, force in enumerate(tires)],
        "wheels": [{"id": f"W{index}", "runout_mm": runout} for index, runout in enumerate(wheels)],
        "spring_rate_n_per_mm": 200,
        "objective": "total",
    }
    return registry.answer("pair-tires-and-wheels", given | changed)


def test_tires_get_the_wheels_that_cancel_them_best():
    answer = paired([30, 90], [0.5, 0.2])
    assert answer["pairs"] == [
        {"tire": "T0", "wheel": "W1", "after_n": pytest.approx(10)},
        {"tire": "T1", "wheel": "W0", "after_n": pytest.approx(10)},
    ]
    assert answer["total_n"] == pytest.approx(20)
    assert answer["worst_n"] == pytest.approx(10)
    assert paired([30, 90], [0.5, 0.2], objective="worst") == answer


def test_two_hundred_of_each_are_paired():
    answer = paired(list(range(200)), [index / 200 for index in reversed(range(200))])
    assert answer["total_n"] == pytest.approx(0, abs=1e-9)
    assert [pair["wheel"] for pair in answer["pairs"]] == [f"W{index}" for index in reversed(range(200))]


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"wheels": [{"id": each, "runout_mm": 1} for each in "ABC"]}, "wheels"),
        ({"wheels": [{"id": "A", "runout_mm": 1}] * 2}, "wheels[1].id"),
        ({"tires": [{"id": "A", "r1h_n": 1}] * 2}, "tires[1].id"),
    ],
)
def test_lists_that_do_not_go_together_are_refused(changed, field):
    assert paired([1, 2], [1, 2], **changed)["error"]["field"] == field
