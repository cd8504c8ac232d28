"""What hangs on a hair is refused: a size at its limit, rivals, a bore or a lip at the edge of a range."""

from typing import Any

import numpy as np
import pytest

from app.domain.near_ties import near_ties
from tests.domain.writing import assembly, first, heavy_spot, small, variant

LIMITS = {"total_force_limit_n": 110, "first_harmonic_limit_n": 80}


def is_refused(key: str, *sheets: dict[str, Any], **changes: Any) -> bool:
    model = variant(small([], *sheets, **changes)).model
    return any(bool(np.any(near)) for _, near in near_ties(model, key, 3.0))


@pytest.mark.parametrize(("bore_mm", "refused"), [(50, False), (59, True), (45.02, True), (95.3, False)])
def test_a_bore_for_two_cones_or_at_the_edge_of_one_is_refused(bore_mm: float, refused: bool) -> None:
    # The bench's own cones take 45 to 60, 58 to 75 and 73 to 95 mm.
    assert is_refused("assembly[A].cone", assembly(bench={"bore_mm": bore_mm})) is refused


@pytest.mark.parametrize(("lip_mm", "refused"), [(2.4, False), (2.7, True), (3.38, True), (4.8, False)])
def test_a_lip_at_the_edge_of_a_clips_range_is_refused(lip_mm: float, refused: bool) -> None:
    # SAE J1986: 2.7 mm stands in two rows.
    assert is_refused("assembly[A].clip", assembly(bench={"flange_mm": lip_mm})) is refused


@pytest.mark.parametrize(("mass_g", "refused"), [(4, False), (9.4, True), (10.6, True), (20, False)])
def test_what_one_weight_leaves_must_not_be_at_the_dead_band(mass_g: float, refused: bool) -> None:
    # A heavy spot in the middle leaves half of itself in each plane; the dead band is 5 g.
    assert (
        is_refused("assembly[A].single_enough", assembly(heavy_spots=[heavy_spot(mass_g, 0, 0)])) is refused
    )


@pytest.mark.parametrize(("dirt_mm", "refused"), [(0.02, False), (0.1, True), (0.3, False)])
def test_what_the_mounting_makes_must_not_be_at_the_dead_band(dirt_mm: float, refused: bool) -> None:
    # 20 kg 0.1 mm off centre: 2,000 g.mm, 5 g in each plane at a radius of 200.
    bench = {"mass_kg": 20, "dirt_mm": dirt_mm, "dirt_deg": 10}
    assert is_refused("assembly[A].half_turn.cause", assembly(bench=bench)) is refused


@pytest.mark.parametrize(("tire_mm", "refused"), [(0.4, False), (0.58, True), (0.9, False)])
def test_two_shares_of_runout_must_not_be_nearly_equal(tire_mm: float, refused: bool) -> None:
    # The mounting's share is twice 0.3 mm; the wheel has none.
    sheet = assembly(tire={"tread_runout": [first(tire_mm, 90)]}, bench={"dirt_mm": 0.3, "dirt_deg": 0})
    seats = {"inboard": [first(0.0, 0)], "outboard": [first(0.0, 0)]}
    sheet["wheel"]["bead_seats"] = seats
    assert is_refused("assembly[A].tread_share.largest", sheet) is refused


@pytest.mark.parametrize(("second_mm", "refused"), [(0.3, True), (0.9, False)])
def test_one_tread_must_not_have_the_most_of_both(second_mm: float, refused: bool) -> None:
    treads = [[first(0.6, 0)], [first(0.3, 0), first(second_mm, 0, order=2)]]
    sheets = [
        assembly(letter, tire={"tread_runout": tread}) for letter, tread in zip("AB", treads, strict=True)
    ]
    assert is_refused("car.most_first_runout", *sheets) is refused
    assert not is_refused("car.most_total_runout", *sheets)


@pytest.mark.parametrize(("once_n", "refused"), [(60, False), (78, True), (81, True), (95, False)])
def test_a_force_must_not_be_at_its_limit(once_n: float, refused: bool) -> None:
    sheet = assembly(tire={"force": [first(once_n, 0)]})
    assert is_refused("assembly[A].force.verdict", sheet, vehicle=LIMITS) is refused
    assert is_refused("car.over_total_limit", sheet, vehicle=LIMITS) is refused


@pytest.mark.parametrize(("heavy_deg", "refused"), [(210, True), (214, True), (240, False)])
def test_a_weight_beside_a_spoke_is_refused(heavy_deg: float, refused: bool) -> None:
    # Six spokes stand at 30, 90 ...; the weight goes opposite to what is heavy.
    sheet = assembly(heavy_spots=[heavy_spot(30, heavy_deg, 80)], bench={"spokes": 6})
    assert is_refused("assembly[A].spoke.before.mass_g", sheet) is refused


def test_a_key_without_such_a_rule_is_never_refused_for_a_tie() -> None:
    assert not is_refused("assembly[A].static.size_gmm", assembly(heavy_spots=[heavy_spot(5, 0, 0)]))
