"""What a balancing machine shows. The checks are laws: what is asked for, once fitted, leaves nothing."""

import numpy as np
import pytest

from app.compute import errors, phasors, unbalance
from app.compute.trial_runs import reindex

Z_MM = np.array([-72.0, 88.0])
RADIUS_MM = np.array([182.0, 176.0])
STATIC = complex(unbalance.static_unbalance([30, 12], [310, 180], [40, 200]))
COUPLE = complex(unbalance.couple_unbalance([30, 12], [310, 180], [40, 200], [5, -60]))


def spun(fitted_g=(0, 0), z_mm=Z_MM, radius_mm=RADIUS_MM, mounting_gmm=0.0):
    fitted_gmm = np.asarray(fitted_g) * RADIUS_MM
    return unbalance.spin(STATIC, COUPLE, Z_MM, RADIUS_MM, z_mm, radius_mm, fitted_gmm, mounting_gmm)


def test_without_errors_the_machine_asks_for_the_opposite_of_what_is_left():
    found = spun()
    assert found.corrections_g == pytest.approx(-found.left_g)
    assert found.corrections_g * RADIUS_MM == pytest.approx(
        unbalance.two_plane_correction(STATIC, COUPLE, Z_MM)
    )


def test_the_weights_asked_for_make_the_next_spin_read_zero():
    again = spun(fitted_g=spun().corrections_g)
    assert np.abs(again.corrections_g).max() < 1e-9
    assert np.abs(again.left_g).max() < 1e-9


def test_unless_told_otherwise_no_weights_are_fitted_and_the_mounting_is_clean():
    found = unbalance.spin(STATIC, COUPLE, Z_MM, RADIUS_MM, Z_MM, RADIUS_MM)
    assert found.corrections_g.tolist() == spun().corrections_g.tolist()
    assert found.left_g.tolist() == spun().left_g.tolist()


def test_half_the_diameter_typed_in_asks_for_twice_the_weight():
    assert spun(radius_mm=RADIUS_MM / 2).corrections_g == pytest.approx(2 * spun().corrections_g)


def test_a_wrong_width_leaves_a_couple_but_no_static_unbalance():
    wrong = spun(z_mm=Z_MM + np.array([20, -20]))
    again = spun(fitted_g=wrong.corrections_g)
    assert abs((again.left_g * RADIUS_MM).sum()) < 1e-9
    assert np.abs(again.left_g).min() > 1


def test_dirt_under_the_cone_is_balanced_out_and_so_stays_in_the_assembly():
    mounting = complex(phasors.phasor(22 * 1000 * 0.05, 75))
    found = spun(mounting_gmm=mounting)
    assert found.left_g == pytest.approx(spun().left_g)
    again = spun(fitted_g=found.corrections_g, mounting_gmm=mounting)
    assert np.abs(again.corrections_g).max() < 1e-9
    # Cleaned, the assembly shows the mounting's unbalance the other way round.
    assert (again.left_g * RADIUS_MM).sum() == pytest.approx(-mounting)


def test_half_a_turn_on_the_shaft_tells_dirt_from_unbalance():
    mounting = complex(phasors.phasor(22 * 1000 * 0.05, 75))
    first, second = spun(mounting_gmm=mounting), spun(mounting_gmm=-mounting)
    assembly, dirt = reindex(-first.corrections_g * RADIUS_MM, -second.corrections_g * RADIUS_MM)
    assert assembly == pytest.approx(spun().left_g * RADIUS_MM)
    assert dirt.sum() == pytest.approx(mounting)


def test_a_batch_of_spins_gives_what_single_spins_give():
    static = STATIC * np.array([[1.0, 2j], [0.5, -1]])
    entered = Z_MM + np.array([[0.0, 1.0], [-3.0, 4.0]])
    fitted = np.array([[(5j, 9), (0, 400)], [(-7, 80j), (30, 1j)]])
    together = unbalance.spin(static, COUPLE, Z_MM, RADIUS_MM, entered, RADIUS_MM, fitted, 100j)
    assert together.corrections_g.shape == together.left_g.shape == (2, 2, 2)
    for row, column in np.ndindex(2, 2):
        wheel = static[row, column], COUPLE, Z_MM, RADIUS_MM
        alone = unbalance.spin(*wheel, entered[column], RADIUS_MM, fitted[row, column], 100j)
        assert together.corrections_g[row, column] == pytest.approx(alone.corrections_g)
        assert together.left_g[row, column] == pytest.approx(alone.left_g)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"z_mm": [5, 5]}, "entered_z_mm: Give the two planes different z; they stand at the same place."),
        ({"radius_mm": [180, 0]}, "entered_radius_mm: Give a number above 0."),
        ({"fitted_g": [np.nan, 0]}, "fitted_gmm: Give a finite number."),
        ({"mounting_gmm": np.nan}, "mounting_gmm: Give a finite number."),
    ],
)
def test_what_can_not_be_typed_in_or_fitted_is_refused_by_name(wrong, told):
    with pytest.raises(errors.ComputeError) as caught:
        spun(**wrong)
    assert str(caught.value) == told


def test_true_planes_at_one_place_are_refused_as_such():
    with pytest.raises(errors.UnsolvableError) as caught:
        unbalance.spin(STATIC, COUPLE, [5, 5], RADIUS_MM, Z_MM, RADIUS_MM)
    assert caught.value.field == "plane_z_mm"


def test_a_true_radius_of_zero_is_refused_as_such():
    with pytest.raises(errors.OutOfRangeError) as caught:
        unbalance.spin(STATIC, COUPLE, Z_MM, [0, 176], Z_MM, RADIUS_MM)
    assert caught.value.field == "plane_radius_mm"
