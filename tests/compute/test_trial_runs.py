"""Balancing by experiment: the published examples, numpy's solver as an oracle, and substituting back."""

import numpy as np
import pytest

from app.compute import errors, trial_runs
from app.compute.phasors import angle_deg, phasor, size
from tests.published.cases import case

random = np.random.default_rng(1940)


def vectors(pairs):
    return np.array([phasor(*pair) for pair in pairs])


def rao_runs(published):
    setup = published["given"]
    initial = vectors([setup["V_left"], setup["V_right"]])
    runs = [setup["trial_left"], setup["trial_right"]]
    trial = vectors([run["weight"] for run in runs])
    readings = np.array([vectors([run["V_left"], run["V_right"]]) for run in runs])
    return initial, trial, readings


def test_two_plane_corrections_stand_opposite_the_published_unbalance():
    """The book's numbers are the heavy spots; a weight there would double the vibration."""
    published = case("bal-two-plane-rao-unbalance")
    initial, trial, readings = rao_runs(published)
    coefficients = trial_runs.influence_coefficients(initial, trial, readings)
    heavy = -trial_runs.two_plane_corrections(initial, coefficients)
    expect, tolerance = published["expect"], published["tolerance"]
    for found, (mass, angle) in zip(heavy, [expect["U_left"], expect["U_right"]], strict=True):
        assert size(found) == pytest.approx(mass, abs=tolerance["magnitude"])
        assert angle_deg(found) == pytest.approx(angle, abs=tolerance["angle_deg"])


def test_two_plane_corrections_are_the_published_ones_and_cancel_both_readings():
    published = case("bal-two-plane-rao-correction")
    initial, trial, readings = rao_runs(published)
    coefficients = trial_runs.influence_coefficients(initial, trial, readings)
    corrections = trial_runs.two_plane_corrections(initial, coefficients)
    expect, tolerance = published["expect"], published["tolerance"]
    for found, (mass, angle) in zip(corrections, [expect["C_left"], expect["C_right"]], strict=True):
        assert size(found) == pytest.approx(mass, abs=tolerance["magnitude"])
        assert angle_deg(found) == pytest.approx(angle, abs=tolerance["angle_deg"])
    left = initial + coefficients @ corrections
    assert np.abs(left).max() < tolerance["residual"]


def test_a_single_plane_correction_is_the_published_one():
    published = case("bal-single-plane-rao-grinding-si")
    setup, expect, tolerance = published["given"], published["expect"], published["tolerance"]
    initial, with_trial = phasor(*setup["V0"]), phasor(*setup["V1"])
    trial = phasor(setup["trial"]["mass_g"], setup["trial"]["angle_ccw_deg"])
    correction = trial_runs.single_plane_correction(initial, trial, with_trial)
    assert size(correction) == pytest.approx(expect["mass_g"], abs=tolerance["mass_g"])
    assert angle_deg(correction) == pytest.approx(expect["angle_ccw_deg"], abs=tolerance["angle_deg"])
    influence = (with_trial - initial) / trial
    assert abs(initial + influence * correction) < 1e-15


def test_many_rotors_with_known_influence_are_found_out_and_balanced():
    """Oracle: numpy.linalg.solve, over rotors whose coefficients and unbalance are made up."""
    shape = (6, 5)
    truth = random.normal(size=(*shape, 2, 2)) + 1j * random.normal(size=(*shape, 2, 2))
    heavy = random.normal(size=(*shape, 2)) + 1j * random.normal(size=(*shape, 2))
    trial = phasor(random.uniform(1, 3, (*shape, 2)), random.uniform(0, 360, (*shape, 2)))
    initial = np.einsum("...ij,...j->...i", truth, heavy)
    readings = initial[..., np.newaxis, :] + np.swapaxes(truth * trial[..., np.newaxis, :], -1, -2)

    coefficients = trial_runs.influence_coefficients(initial, trial, readings)
    assert coefficients == pytest.approx(truth)
    corrections = trial_runs.two_plane_corrections(initial, coefficients)
    solved = np.linalg.solve(coefficients, -initial[..., np.newaxis])[..., 0]
    assert corrections == pytest.approx(solved)
    assert corrections == pytest.approx(-heavy)
    scale = trial_runs.two_plane_corrections_scale(initial, coefficients)
    assert scale.shape == corrections.shape
    assert (scale >= np.abs(corrections) * (1 - 1e-12)).all()


def test_turning_the_trial_weights_turns_the_corrections():
    initial, trial, readings = rao_runs(case("bal-two-plane-rao-unbalance"))

    def corrections(weights):
        return trial_runs.two_plane_corrections(
            initial, trial_runs.influence_coefficients(initial, weights, readings)
        )

    assert corrections(trial * phasor(1, 37)) == pytest.approx(corrections(trial) * phasor(1, 37))
    assert corrections(trial * 3) == pytest.approx(corrections(trial) * 3)


def test_planes_that_act_alike_are_refused():
    with pytest.raises(errors.UnsolvableError) as caught:
        trial_runs.two_plane_corrections([1, 2], [[1, 2j], [2, 4j]])
    assert caught.value.field == "coefficients"
    with pytest.raises(errors.UnsolvableError):
        trial_runs.two_plane_corrections([1, 2], np.zeros((2, 2)))


def test_a_trial_weight_of_nothing_is_refused():
    with pytest.raises(errors.UnsolvableError) as caught:
        trial_runs.influence_coefficients([1, 2], [1, 0], [[1, 2], [3, 4]])
    assert caught.value.field == "trial"


@pytest.mark.parametrize(("before", "after"), [(0, 0), (5j, 5j), (5j, 5j + 1e-10)])
def test_a_trial_run_that_changed_nothing_is_refused(before, after):
    with pytest.raises(errors.UnsolvableError) as caught:
        trial_runs.single_plane_correction(before, 10, after)
    assert caught.value.field == "with_trial"


def test_half_a_turn_on_the_shaft_separates_the_assembly_from_its_mounting():
    assembly, mounting = np.array([[3 + 1j, -2], [0, 1j]]), np.array([[1j, 0.5], [2, 1]])
    found = trial_runs.reindex(assembly + mounting, assembly - mounting)
    assert found[0] == pytest.approx(assembly)
    assert found[1] == pytest.approx(mounting)
