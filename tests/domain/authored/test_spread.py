"""What 200 students would get."""

import numpy as np

from app.domain.authored.entries import with_entry
from app.domain.authored.spread import NumberSpread, WordSpread, preview
from app.domain.measures import Measure, UnitSystem
from app.domain.scenario import parse
from tests.domain.authored.test_checking import complete, parsed
from tests.domain.writing import shipped_text


def test_every_answer_with_a_key_is_spread_over_two_hundred_variants() -> None:
    scenario = parse(shipped_text("runout-and-match-mounting"))
    found = preview(scenario, UnitSystem.METRIC)
    numbers = [each for each in found.spreads if isinstance(each, NumberSpread)]
    words = [each for each in found.spreads if isinstance(each, WordSpread)]
    assert found.count == 200
    assert all(each.values.shape == (200,) and np.isfinite(each.values).all() for each in numbers)
    assert words
    assert all(sum(count for _, count in each.counts) == 200 for each in words)


def test_the_values_are_the_keys_of_variants() -> None:
    """One fixed heavy spot at angles from 0 to 350: the weight goes opposite, at one of 36 places."""
    spot = {"name": "Tread", "mass_g": 20, "radius_mm": 300, "z_mm": 0}
    drawn = {**spot, "angle_deg": {"low": 0, "high": 350, "step": 10}}
    scenario = parsed(with_entry(complete(), "assemblies.0.heavy_spots", [drawn])).scenario
    assert scenario is not None
    (spread,) = preview(scenario, UnitSystem.METRIC).spreads
    assert isinstance(spread, NumberSpread)
    assert spread.measure is Measure.ANGLE
    assert set(spread.values.round(6) % 10) == {0.0}
    assert len(set(spread.values)) > 30


def test_reasons_of_thrown_draws_are_counted_and_a_draw_with_two_counts_once() -> None:
    found = preview(parse(shipped_text("two-plane-balance")), UnitSystem.METRIC)
    assert 0 < found.thrown <= 200
    counts = [each.draws for each in found.reasons]
    assert counts == sorted(counts, reverse=True)
    assert max(counts) <= found.thrown <= sum(counts)


def test_nothing_is_thrown_away_where_every_draw_is_good() -> None:
    spot = {"name": "Tread", "mass_g": 20, "radius_mm": 300, "z_mm": 0, "angle_deg": 30}
    scenario = parsed(with_entry(complete(), "assemblies.0.heavy_spots", [spot])).scenario
    assert scenario is not None
    found = preview(scenario, UnitSystem.METRIC)
    assert (found.thrown, found.reasons) == (0, ())
