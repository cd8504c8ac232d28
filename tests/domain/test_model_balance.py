"""Quantities of balancing, against a textbook's wheel, hand-worked wheels and the law of two planes."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.domain.arithmetic import ArithmeticFault
from app.domain.measures import UnitSystem
from app.domain.model import Model, quantities, quantity_of
from app.domain.references import UnknownReference
from app.domain.scenario import Scenario
from tests.domain.writing import assembly, heavy_spot, shipped, small, variant
from tests.published.cases import case

PLANES = ("inboard", "outboard")
SPOTS = st.lists(
    st.tuples(st.integers(1, 60), st.integers(0, 359), st.integers(-110, 110)),
    min_size=1,
    max_size=5,
    unique=True,
)


def model_of(spots: list[dict[str, Any]], **changes: Any) -> Model:
    return variant(small([], assembly(heavy_spots=spots, **changes.pop("of_assembly", {})), **changes)).model


def value(model: Model, name: str) -> float:
    return float(model.value(f"assembly[A].{name}"))


def arrow(model: Model, name: str) -> complex:
    """mass times radius of a plane's quantity, all planes at radius 200."""
    angle = np.deg2rad(value(model, f"{name}.angle_deg"))
    return value(model, f"{name}.mass_g") * 200 * np.exp(1j * angle)


def test_one_weight_balances_the_flywheel_of_the_textbook() -> None:
    published = case("bal-static-rao-flywheel-rim")
    radius = published["given"]["rim_diameter_mm"] / 2
    spots = [heavy_spot(mass, angle, 0, radius_mm=radius) for mass, angle in published["given"]["masses"]]
    rim = {"inboard": {"z_mm": -1, "radius_mm": radius}, "outboard": {"z_mm": 1, "radius_mm": radius}}
    model = model_of(spots, of_assembly={"wheel": rim})
    expect, tolerance = published["expect"], published["tolerance"]
    # The book prints four figures.
    assert value(model, "single.mass_g") == pytest.approx(expect["fourth_mass_g"], abs=0.05)
    assert value(model, "single.angle_deg") == pytest.approx(expect["angle_deg"], abs=tolerance["angle_deg"])


def test_a_spot_in_a_plane_is_answered_in_that_plane_alone() -> None:
    model = model_of([heavy_spot(30, 40, -80)])
    assert value(model, "correction.inboard.mass_g") == pytest.approx(30)
    assert value(model, "correction.inboard.angle_deg") == pytest.approx(220)
    assert value(model, "correction.outboard.mass_g") == pytest.approx(0, abs=1e-12)
    assert np.isnan(value(model, "correction.outboard.angle_deg"))


def test_a_spot_on_the_centre_plane_is_shared_equally_and_leaves_no_couple() -> None:
    model = model_of([heavy_spot(30, 40, 0)])
    for plane in PLANES:
        assert value(model, f"unbalance.{plane}.mass_g") == pytest.approx(15)
        assert value(model, f"unbalance.{plane}.angle_deg") == pytest.approx(40)
    assert value(model, "single.mass_g") == pytest.approx(30)


def test_a_pure_couple_has_no_static_direction_and_two_opposite_weights() -> None:
    model = model_of([heavy_spot(20, 10, -40), heavy_spot(20, 190, 40)])
    assert value(model, "static.size_gmm") == pytest.approx(0, abs=1e-9)
    assert np.isnan(value(model, "static.angle_deg"))
    assert value(model, "correction.inboard.mass_g") == pytest.approx(10)
    assert value(model, "correction.inboard.angle_deg") == pytest.approx(190)
    assert value(model, "correction.outboard.angle_deg") == pytest.approx(10)


@given(SPOTS)
def test_both_weights_together_answer_the_static_unbalance_and_the_couple(
    spots: list[tuple[int, int, int]],
) -> None:
    # Law of the rigid rotor: C1 + C2 = -U and z1 C1 + z2 C2 = -M.
    model = model_of([heavy_spot(*spot) for spot in spots])
    moments = [(mass * 200 * np.exp(1j * np.deg2rad(angle)), z) for mass, angle, z in spots]
    weights = []
    for plane in PLANES:
        size = value(model, f"correction.{plane}.mass_g")
        weights.append(0 if size < 1e-9 else arrow(model, f"correction.{plane}"))
    static, couple = sum(u for u, _ in moments), sum(u * z for u, z in moments)
    assert abs(weights[0] + weights[1] + static) < 1e-6
    assert abs(-80 * weights[0] + 80 * weights[1] + couple) < 1e-4


@pytest.mark.parametrize("seed", range(6))
def test_with_the_weights_of_the_key_on_a_second_spin_finds_nothing(seed: int) -> None:
    sheet = shipped("two-plane-balance").assemblies[0]
    key = variant(shipped("two-plane-balance"), seed=seed)
    spots = key.truth.assemblies["A"].heavy_spots
    lumps = [
        heavy_spot(float(m), float(a), float(z), radius_mm=float(r), name=name)
        for name, m, r, a, z in zip(
            spots.names, spots.mass_g, spots.radius_mm, spots.angle_deg, spots.z_mm, strict=True
        )
    ]
    for plane in PLANES:
        at = getattr(sheet.wheel, plane)
        mass, angle = (value(key.model, f"correction.{plane}.{name}") for name in ("mass_g", "angle_deg"))
        lumps.append(heavy_spot(mass, angle, at.z_mm, radius_mm=at.radius_mm, name=f"weight {plane}"))
    wheel = {
        plane: {"z_mm": getattr(sheet.wheel, plane).z_mm, "radius_mm": getattr(sheet.wheel, plane).radius_mm}
        for plane in PLANES
    }
    balanced = model_of(lumps, of_assembly={"wheel": wheel})
    for plane in PLANES:
        assert value(balanced, f"unbalance.{plane}.mass_g") < 1e-9
    assert value(balanced, "static.size_gmm") < 1e-6


def test_a_wrong_width_leaves_a_couple_worked_by_hand() -> None:
    # A 30 g spot in the inboard plane (z -80), planes typed in at -100 and 100, all radii 200.
    # Asked for: inboard 30 x 180/200 = 27 g, outboard 30 x 20/200 = 3 g, both opposite the spot.
    # Left: 3 g at the spot inboard, 3 g opposite it outboard.
    model = model_of([heavy_spot(30, 40, -80)], machine={"width_error_mm": 40})
    assert value(model, "wrong_width.inboard.mass_g") == pytest.approx(27)
    assert value(model, "wrong_width.outboard.mass_g") == pytest.approx(3)
    assert value(model, "wrong_width.outboard.angle_deg") == pytest.approx(220)
    assert value(model, "left.inboard.mass_g") == pytest.approx(3)
    assert value(model, "left.inboard.angle_deg") == pytest.approx(40)
    assert value(model, "left.outboard.mass_g") == pytest.approx(3)
    assert value(model, "left.outboard.angle_deg") == pytest.approx(220)


@given(SPOTS, st.integers(-60, 60))
def test_whatever_the_width_error_what_is_left_is_a_couple(
    spots: list[tuple[int, int, int]], error: int
) -> None:
    model = model_of([heavy_spot(*spot) for spot in spots], machine={"width_error_mm": error})
    inboard, outboard = (value(model, f"left.{plane}.mass_g") for plane in PLANES)
    assert inboard == pytest.approx(outboard, abs=1e-9)
    if inboard > 1e-3:
        assert arrow(model, "left.inboard") == pytest.approx(-arrow(model, "left.outboard"), abs=1e-6)


@pytest.mark.parametrize(
    ("needed_g", "units", "total"),
    [
        (6, UnitSystem.METRIC, 5),
        (6, UnitSystem.US, 7.08738078125),  # a quarter ounce, NIST SP 811
        (2.4, UnitSystem.METRIC, 0),
        (2.6, UnitSystem.METRIC, 5),
        (72, UnitSystem.METRIC, 70),
        (140, UnitSystem.METRIC, 120),  # two pieces of 60 at most
    ],
)
def test_the_nearest_total_from_stock(needed_g: float, units: UnitSystem, total: float) -> None:
    scenario: Scenario = small([], assembly(heavy_spots=[heavy_spot(needed_g, 90, -80)]))
    got = variant(scenario, units=units).model.value("assembly[A].stock.inboard.mass_g")
    assert float(got) == pytest.approx(total, abs=1e-6)


def test_no_two_quantities_that_an_author_chooses_from_have_the_same_words() -> None:
    chosen = [(quantity_of(name).words, quantity_of(name).measure) for name in quantities()]
    assert {each for each in chosen if chosen.count(each) > 1} == set()


def test_every_quantity_that_an_author_may_name_has_words_and_a_measure() -> None:
    names = quantities()
    assert len(names) == len(set(names)) > 40
    for name in names:
        quantity = quantity_of(name)
        assert quantity.words
        assert "{" not in quantity.words


@pytest.mark.parametrize(
    "reference",
    [
        "assembly[A].nothing",
        "car.nothing",
        "assembly[*].static.size_gmm",
        "assembly[B].static.size_gmm",
        "static",
        "",
    ],
)
def test_a_reference_that_names_nothing_in_the_model_is_refused(reference: str) -> None:
    model = model_of([heavy_spot(30, 40, -80)])
    with pytest.raises((UnknownReference, ArithmeticFault)):
        model.value(reference)


def test_a_value_put_in_place_of_a_computed_one_carries_to_what_follows_and_nowhere_else() -> None:
    model = model_of([heavy_spot(30, 40, -80)])
    own = model.with_given({"assembly[A].static.size_gmm": np.asarray(8000.0)})
    assert value(own, "single.mass_g") == 40
    assert value(own, "unbalance.inboard.mass_g") == pytest.approx(30)
    assert value(model, "single.mass_g") == pytest.approx(30)


def test_what_is_left_follows_from_the_weights_that_a_student_read_off_the_balancer() -> None:
    # 30 g at 40 degrees inboard with 20 g opposite leaves 10 g there; 6 g at 90 stand alone outboard.
    sheet = assembly(heavy_spots=[heavy_spot(30, 40, -80)])
    own = {
        "assembly[A].wrong_width.inboard.mass_g": 20.0,
        "assembly[A].wrong_width.inboard.angle_deg": 220.0,
        "assembly[A].wrong_width.outboard.mass_g": 6.0,
        "assembly[A].wrong_width.outboard.angle_deg": 90.0,
    }
    left = variant(small([], sheet, machine={"width_error_mm": 25})).model.with_given(own).assembly("A")
    for plane, mass_g, angle_deg in (("inboard", 10, 40), ("outboard", 6, 90)):
        assert left.value(f"left.{plane}.mass_g") == pytest.approx(mass_g)
        assert left.value(f"left.{plane}.angle_deg") == pytest.approx(angle_deg)
