"""Unbalance and its correction: published cases, numpy's solver as an oracle, and the laws of statics."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.compute import errors, phasors, unbalance
from app.compute.vibration import unbalance_force
from tests.published.cases import case

random = np.random.default_rng(20940)
INBOARD_OUTBOARD_MM = np.array([-72.0, 88.0])

complex_gmm = st.builds(complex, st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))
plane_pairs = st.tuples(st.floats(-300, -1), st.floats(1, 300))


def test_the_fourth_mass_on_a_flywheel_rim_is_the_published_one():
    published = case("bal-static-rao-flywheel-rim")
    mass_g, angle_deg = np.array(published["given"]["masses"], dtype=float).T
    radius_mm = published["given"]["rim_diameter_mm"] / 2
    correction = unbalance.single_plane_correction(unbalance.static_unbalance(mass_g, radius_mm, angle_deg))
    expect, tolerance = published["expect"], published["tolerance"]
    assert phasors.size(correction) / radius_mm == pytest.approx(
        expect["fourth_mass_g"], abs=tolerance["mass_g"]
    )
    assert phasors.angle_deg(correction) == pytest.approx(expect["angle_deg"], abs=tolerance["angle_deg"])


def test_static_and_couple_of_a_car_wheel_make_the_published_force_and_couple():
    published = case("bal-wheel-static-and-couple-beer-johnston")
    setup, expect = published["given"], published["expect"]
    offset_mm = expect["mass_centre_offset_mm"]
    static_gmm = unbalance.static_unbalance([setup["wheel_mass_kg"] * 1000], [offset_mm], [0])
    assert abs(static_gmm) == pytest.approx(
        expect["static_unbalance_g_mm"], abs=published["tolerance"]["unbalance_g_mm"]
    )
    force_n = unbalance_force(abs(static_gmm), 1.0, setup["speed_rev_per_s"])
    assert force_n == pytest.approx(setup["force_N"], rel=published["tolerance"]["offset_mm"] / offset_mm)

    # Two masses half a turn apart on either side of the centre plane make the product of inertia alone.
    product_gmm2 = expect["product_of_inertia_kg_m2"] * 1e9
    lever_mm = 100.0
    mass_g = product_gmm2 / (2 * lever_mm * lever_mm)
    couple_gmm2 = unbalance.couple_unbalance(
        [mass_g, mass_g], [lever_mm, lever_mm], [30, 210], [lever_mm, -lever_mm]
    )
    couple_n_m = unbalance_force(abs(couple_gmm2), 1.0, setup["speed_rev_per_s"]) / 1000
    assert couple_n_m == pytest.approx(setup["couple_N_m"], rel=1e-6 / expect["product_of_inertia_kg_m2"])


def test_two_equal_weights_opposite_leave_no_static_unbalance():
    assert abs(unbalance.static_unbalance([20, 20], [150, 150], [40, 220])) < 1e-9


def test_the_two_corrections_solve_the_balance_of_forces_and_of_moments():
    """Oracle: numpy.linalg.solve on C_1 + C_2 = -U and z_1 C_1 + z_2 C_2 = -M."""
    static = random.normal(size=50) + 1j * random.normal(size=50)
    couple = 100 * (random.normal(size=50) + 1j * random.normal(size=50))
    solved = np.linalg.solve(np.array([[1, 1], INBOARD_OUTBOARD_MM]), np.stack([-static, -couple])).T
    ours = unbalance.two_plane_correction(static, couple, INBOARD_OUTBOARD_MM)
    assert ours == pytest.approx(solved, rel=1e-12)


@given(complex_gmm, complex_gmm, plane_pairs)
def test_corrected_and_measured_again_there_is_nothing_left(static, couple_over_100, planes):
    couple = 100 * couple_over_100
    corrections = unbalance.two_plane_correction(static, couple, planes)
    again = unbalance.two_plane_correction(
        static + corrections.sum(), couple + (corrections * np.array(planes)).sum(), planes
    )
    scale = unbalance.two_plane_scale(abs(static), abs(couple), planes)
    assert (np.abs(again) <= 1e-9 * scale + 1e-12).all()


@given(complex_gmm, complex_gmm, st.floats(-360, 360))
def test_turning_every_angle_turns_the_answer(static, couple, turn_deg):
    turn = phasors.phasor(1, turn_deg)
    turned = unbalance.two_plane_correction(static * turn, couple * turn, INBOARD_OUTBOARD_MM)
    straight = unbalance.two_plane_correction(static, couple, INBOARD_OUTBOARD_MM)
    assert turned == pytest.approx(straight * turn, rel=1e-9, abs=1e-9)


@given(complex_gmm, complex_gmm, st.floats(0, 1e3))
def test_scaling_the_unbalance_scales_the_answer(static, couple, factor):
    scaled = unbalance.two_plane_correction(static * factor, couple * factor, INBOARD_OUTBOARD_MM)
    straight = unbalance.two_plane_correction(static, couple, INBOARD_OUTBOARD_MM)
    assert scaled == pytest.approx(straight * factor, rel=1e-9, abs=1e-9)


def test_a_wheel_in_the_mirror_has_mirrored_corrections():
    """Seen from inboard angles run backwards, z changes its sign and the planes change places."""
    mass_g, radius_mm, angle_deg, z_mm = [12.0, 31.0, 7.0], [180, 300, 175], [20, 140, 301], [70, -10, -65]
    ours = unbalance.two_plane_correction(
        unbalance.static_unbalance(mass_g, radius_mm, angle_deg),
        unbalance.couple_unbalance(mass_g, radius_mm, angle_deg, z_mm),
        INBOARD_OUTBOARD_MM,
    )
    mirrored_angle, mirrored_z = -np.array(angle_deg), -np.array(z_mm)
    mirrored = unbalance.two_plane_correction(
        unbalance.static_unbalance(mass_g, radius_mm, mirrored_angle),
        unbalance.couple_unbalance(mass_g, radius_mm, mirrored_angle, mirrored_z),
        -INBOARD_OUTBOARD_MM[::-1],
    )
    assert mirrored[::-1] == pytest.approx(np.conj(ours))


def test_a_weight_in_a_plane_is_corrected_in_that_plane_alone():
    static = unbalance.static_unbalance([25], [182], [70])
    couple = unbalance.couple_unbalance([25], [182], [70], [-72])
    inboard, outboard = unbalance.two_plane_correction(static, couple, INBOARD_OUTBOARD_MM)
    assert inboard == pytest.approx(phasors.phasor(25 * 182, 250))
    assert abs(outboard) < 1e-9


def test_the_scale_of_a_correction_is_its_formula_with_every_term_as_a_size():
    """So it bounds what rounding can leave: (|M| + |z_2| |U|) / distance, and the other way round."""
    scale = unbalance.two_plane_scale(10.0, 500.0, [-72.0, 88.0])
    assert scale == pytest.approx([(500 + 88 * 10) / 160, (72 * 10 + 500) / 160])


def test_batches_of_wheels_and_of_planes_give_what_single_wheels_give():
    static = random.normal(size=(3, 4)) + 1j * random.normal(size=(3, 4))
    couple = random.normal(size=(3, 4)) + 1j
    planes = INBOARD_OUTBOARD_MM + random.normal(size=(4, 2))
    together = unbalance.two_plane_correction(static, couple, planes)
    scales = unbalance.two_plane_scale(abs(static), abs(couple), planes)
    assert together.shape == scales.shape == (3, 4, 2)
    for row, column in np.ndindex(3, 4):
        alone = static[row, column], couple[row, column], planes[column]
        assert together[row, column] == pytest.approx(unbalance.two_plane_correction(*alone))
        assert scales[row, column] == pytest.approx(
            unbalance.two_plane_scale(abs(alone[0]), abs(alone[1]), alone[2])
        )


def test_the_masses_of_each_wheel_of_a_batch_are_summed_on_their_own():
    wheels = random.uniform(1, 100, size=(3, 2, 4, 5))  # 3 x 2 wheels, each with mass, radius, angle, z of 5
    mass_g, radius_mm, angle_deg, z_mm = np.moveaxis(wheels, 2, 0)
    static = unbalance.static_unbalance(mass_g, radius_mm, angle_deg)
    couple = unbalance.couple_unbalance(mass_g, radius_mm, angle_deg, z_mm)
    assert static.shape == couple.shape == (3, 2)
    for place in np.ndindex(3, 2):
        assert static[place] == pytest.approx(unbalance.static_unbalance(*wheels[place][:3]))
        assert couple[place] == pytest.approx(unbalance.couple_unbalance(*wheels[place]))


@pytest.mark.parametrize("planes", [[5.0, 5.0], [0.0, 1e-9], [[-70.0, 70.0], [3.0, 3.0]]])
def test_a_plane_pair_at_one_place_is_refused(planes):
    with pytest.raises(errors.UnsolvableError) as caught:
        unbalance.two_plane_correction(1.0, 1.0, planes)
    assert str(caught.value) == "plane_z_mm: Give the two planes different z; they stand at the same place."


def test_the_single_plane_weight_leaves_the_couple_about_the_centre_plane():
    static = unbalance.static_unbalance([10], [200], [0])
    couple = unbalance.couple_unbalance([10], [200], [0], [30])
    assert unbalance.couple_left(static, couple, 30) == 0
    assert unbalance.couple_left(static, couple, -20) == pytest.approx(10 * 200 * (30 + 20))
    weight = unbalance.single_plane_correction(static)
    assert static + weight == 0
    assert couple + weight * -20 == pytest.approx(unbalance.couple_left(static, couple, -20))


@pytest.mark.parametrize(
    ("mass", "shown"), [(0, 0), (3.9, 0), (4, 5), (7.4, 5), (7.5, 10), (12.4, 10), (22.5, 25)]
)
def test_a_machine_rounds_halves_up_and_shows_nothing_below_its_dead_band(mass, shown):
    assert unbalance.round_to_step(mass, 5, 4) == shown


def test_rounding_takes_arrays():
    assert unbalance.round_to_step([[2.0, 8.0], [13.0, 0.0]], 5, 4).tolist() == [[0, 10], [15, 0]]


@pytest.mark.parametrize(
    ("field", "calculation", "arguments"),
    [
        ("mass_g", unbalance.static_unbalance, ([-1.0], [150], [0])),
        ("radius_mm", unbalance.static_unbalance, ([1.0], [-150], [0])),
        ("mass_g", unbalance.round_to_step, (-3.0, 5.0, 4.0)),
        ("dead_band_g", unbalance.round_to_step, (3.0, 5.0, -4.0)),
    ],
)
def test_a_negative_mass_radius_or_dead_band_is_refused(field, calculation, arguments):
    with pytest.raises(errors.OutOfRangeError) as caught:
        calculation(*arguments)
    assert str(caught.value) == f"{field}: Give a number that is not negative."


def test_a_step_of_zero_is_refused():
    with pytest.raises(errors.OutOfRangeError) as caught:
        unbalance.round_to_step(3.0, 0.0, 1.0)
    assert str(caught.value) == "step_g: Give a number above 0."


@pytest.mark.parametrize(
    ("field", "calculation", "arguments"),
    [
        ("angle_deg", unbalance.static_unbalance, ([1.0], [150], [np.nan])),
        ("z_mm", unbalance.couple_unbalance, ([1.0], [150], [0], [np.inf])),
        ("static_gmm", unbalance.two_plane_correction, (np.nan, 1.0, [-70, 70])),
        ("couple_gmm2", unbalance.two_plane_correction, (1.0, np.nan, [-70, 70])),
        ("plane_z_mm", unbalance.two_plane_correction, (1.0, 1.0, [-70, np.nan])),
        ("static_gmm", unbalance.single_plane_correction, (complex(0, np.inf),)),
        ("static_gmm", unbalance.couple_left, (np.nan, 1.0, 30)),
        ("couple_gmm2", unbalance.couple_left, (1.0, np.nan, 30)),
        ("z_mm", unbalance.couple_left, (1.0, 1.0, np.nan)),
    ],
)
def test_a_number_that_is_not_finite_is_refused_by_name(field, calculation, arguments):
    with pytest.raises(errors.NotFiniteError) as caught:
        calculation(*arguments)
    assert str(caught.value) == f"{field}: Give a finite number."
