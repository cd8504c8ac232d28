"""Quantities of cones, dimensions, one plane, real weights and trial weights, each worked by hand.

Values without a source are statics of a rigid rotor or plain trigonometry.
"""

import numpy as np
import pytest

from app.domain.measures import UnitSystem
from app.domain.model import Model
from tests.domain.writing import assembly, heavy_spot, small, variant

TRIAL = {"mass_g": 30, "angle_deg": 90, "response": 0.25, "lag_deg": 40}


def model(*heavy: dict[str, object], units: UnitSystem = UnitSystem.METRIC, **changes: object) -> Model:
    machine = changes.pop("machine", {})
    return variant(
        small([], assembly(heavy_spots=list(heavy), **changes), machine=machine), units=units
    ).model


def value(of: Model, name: str) -> float:
    return float(of.value(f"assembly[A].{name}"))


@pytest.mark.parametrize(
    ("bore_mm", "cone"),
    # The bench's own cones take 45 to 60, 58 to 75 and 73 to 95 mm.
    [
        (44, "none"),
        (45, "small"),
        (57.1, "small"),
        (66.5, "middle"),
        (78.1, "large"),
        (95, "large"),
        (96, "none"),
    ],
)
def test_a_cone_fits_a_bore_that_lies_on_its_slope(bore_mm: float, cone: str) -> None:
    assert model(bench={"bore_mm": bore_mm}).value("assembly[A].cone") == cone


def test_across_the_outside_a_rim_is_two_lips_wider() -> None:
    rim = model(bench={"flange_mm": 3.0})
    assert value(rim, "outside_width.mm") == pytest.approx(6.5 * 25.4 + 6)
    assert value(rim, "outside_width.over_mm") == pytest.approx(6)


@pytest.mark.parametrize(("error_mm", "effect"), [(50, "too-little"), (-50, "too-much")])
def test_a_wrong_diameter_leaves_a_share_of_each_heavy_spot(error_mm: float, effect: str) -> None:
    # 40 g on a radius of 200, reckoned with 200 +- 25: 40 x 200 / 225 = 35.56 g are asked for, or 45.71.
    wrong = model(heavy_spot(40, 70, -80), machine={"diameter_error_mm": error_mm})
    asked = 40 * 200 / (200 + error_mm / 2)
    assert value(wrong, "wrong_diameter.inboard.mass_g") == pytest.approx(asked)
    assert value(wrong, "wrong_diameter.inboard.angle_deg") == pytest.approx(250)
    assert value(wrong, "wrong_diameter_left.inboard.mass_g") == pytest.approx(abs(40 - asked))
    assert value(wrong, "wrong_diameter_left.outboard.mass_g") == pytest.approx(0, abs=1e-9)
    assert wrong.value("assembly[A].wrong_diameter.effect") == effect


def test_one_weight_for_a_heavy_spot_in_the_middle_leaves_half_of_it_in_each_plane() -> None:
    # 30 g half-way between the planes: 30 g inboard opposite. Each plane keeps 15 g, on opposite sides.
    after = model(heavy_spot(30, 70, 0))
    assert value(after, "after_single.outboard.mass_g") == pytest.approx(15)
    assert value(after, "after_single.outboard.angle_deg") == pytest.approx(70)
    assert value(after, "after_single.inboard.mass_g") == pytest.approx(15)
    assert value(after, "after_single.inboard.angle_deg") == pytest.approx(250)
    assert after.value("assembly[A].single_enough") == "no"


def test_one_weight_is_enough_where_it_faces_the_heavy_spot_in_its_own_plane() -> None:
    after = model(heavy_spot(30, 70, -80))
    assert value(after, "after_single.inboard.mass_g") == pytest.approx(0, abs=1e-9)
    assert after.value("assembly[A].single_enough") == "yes"


def test_the_fewest_pieces_make_the_nearest_total() -> None:
    shelf = {"metric": {"step": 5, "dead_band": 5, "pieces": [5, 10, 20, 40]}, "max_pieces": 2}
    for needed, total, pieces in ((19, 20, 1), (14, 15, 2), (1, 0, 0), (61, 60, 2)):
        weights = model(heavy_spot(needed, 0, -80), machine=shelf)
        assert value(weights, "stock.inboard.mass_g") == total
        assert value(weights, "pieces.inboard") == pieces
        assert value(weights, "stock_left.inboard.mass_g") == pytest.approx(abs(needed - total))


def test_the_other_unit_is_ounces_for_grams_and_grams_for_ounces() -> None:
    # 1 oz = 28.349523125 g, NIST SP 811.
    assert value(model(heavy_spot(56.69904625, 0, -80)), "other_unit.inboard") == pytest.approx(2)
    in_us = model(heavy_spot(56.69904625, 0, -80), units=UnitSystem.US)
    assert value(in_us, "other_unit.inboard") == pytest.approx(56.69904625)


@pytest.mark.parametrize(
    ("lip_mm", "clip"), [(2.4, "c"), (3.0, "p"), (4.0, "t"), (5.5, "mc"), (4.8, "none"), (1.5, "none")]
)
def test_the_clip_fits_the_lip_by_sae_j1986(lip_mm: float, clip: str) -> None:
    assert model(bench={"flange_mm": lip_mm}).value("assembly[A].clip") == clip


def test_a_weight_half_way_between_two_of_six_spokes_is_shared_equally() -> None:
    # The spokes stand at 30, 90, 150 ... Heavy at 240, so 10 g go at 60: each gets 10 / (2 cos 30).
    wheel = model(heavy_spot(10, 240, 80), bench={"spokes": 6})
    assert value(wheel, "spoke.before.angle_deg") == pytest.approx(30)
    assert value(wheel, "spoke.after.angle_deg") == pytest.approx(90)
    for side in ("before", "after"):
        assert value(wheel, f"spoke.{side}.mass_g") == pytest.approx(5 / np.cos(np.pi / 6))
        assert value(wheel, f"spoke_stock.{side}.mass_g") == 5
    # All of it at 30 instead of 60: the third side of a triangle, 2 x 10 x sin 15.
    assert value(wheel, "nearest_spoke.mass_g") == pytest.approx(20 * np.sin(np.pi / 12))


@pytest.mark.parametrize(("heavy_deg", "before", "after"), [(180, 324, 36), (190, 324, 36), (170, 324, 36)])
def test_the_valve_lies_between_the_last_spoke_and_the_first(
    heavy_deg: float, before: float, after: float
) -> None:
    wheel = model(heavy_spot(20, heavy_deg, 80), bench={"spokes": 5})
    assert value(wheel, "spoke.before.angle_deg") == pytest.approx(before)
    assert value(wheel, "spoke.after.angle_deg") == pytest.approx(after)


def test_a_wheel_without_spokes_is_refused_by_name() -> None:
    with pytest.raises(LookupError, match=r"assembly A has no bench\.spokes"):
        model(heavy_spot(20, 0, 80)).value("assembly[A].spoke.before.mass_g")


def test_a_trial_weight_finds_the_weight_whatever_scale_and_lag_are() -> None:
    # A heavy spot of 40 g at 200: the instrument reads 40 x 0.25 at 240; 40 g at 20 balance it.
    runs = model(heavy_spot(40, 200, -80), machine={"trial": TRIAL})
    assert value(runs, "trial.initial.reading") == pytest.approx(10)
    assert value(runs, "trial.initial.angle_deg") == pytest.approx(240)
    assert value(runs, "trial.effect.reading") == pytest.approx(30 * 0.25, abs=0.2)
    assert value(runs, "trial.effect.angle_deg") == pytest.approx(130, abs=2)
    assert value(runs, "trial.correction.mass_g") == pytest.approx(40, abs=1)
    assert value(runs, "trial.correction.angle_deg") == pytest.approx(20, abs=2)


def test_the_weight_that_a_trial_finds_cancels_the_first_reading() -> None:
    """Substituted back: what the weight makes the instrument read is the first reading, half a turn away."""
    runs = model(heavy_spot(33, 310, -80), machine={"trial": TRIAL})
    effect = value(runs, "trial.effect.reading") * np.exp(
        1j * np.deg2rad(value(runs, "trial.effect.angle_deg"))
    )
    weight = value(runs, "trial.correction.mass_g") * np.exp(
        1j * np.deg2rad(value(runs, "trial.correction.angle_deg"))
    )
    first = value(runs, "trial.initial.reading") * np.exp(
        1j * np.deg2rad(value(runs, "trial.initial.angle_deg"))
    )
    assert abs(first + effect * weight / (30 * np.exp(1j * np.pi / 2))) < 1e-9
