"""Quantities that tell two parts apart by turning one of them, and those of force limits, worked by hand."""

import pytest

from app.domain.measures import UnitSystem
from app.domain.model import Model
from tests.domain.writing import assembly, first, heavy_spot, small, variant


def model(*sheets: dict[str, object], units: UnitSystem = UnitSystem.METRIC, **changes: object) -> Model:
    return variant(small([], *sheets, **changes), units=units).model


def value(of: Model, name: str) -> float:
    return float(of.value(f"assembly[A].{name}"))


DIRTY = {"mass_kg": 20, "dirt_mm": 0.3, "dirt_deg": 30}


def test_half_a_turn_on_the_shaft_tells_the_assembly_from_its_mounting() -> None:
    # 20 kg 0.3 mm off centre are 6,000 g.mm: 15 g in each plane at a radius of 200.
    dirty = model(assembly(heavy_spots=[heavy_spot(25, 120, -80)], bench=DIRTY))
    assert value(dirty, "half_turn.assembly.inboard.mass_g") == pytest.approx(25)
    assert value(dirty, "half_turn.assembly.inboard.angle_deg") == pytest.approx(120)
    for plane in ("inboard", "outboard"):
        assert value(dirty, f"half_turn.mounting.{plane}.mass_g") == pytest.approx(15)
        assert value(dirty, f"half_turn.mounting.{plane}.angle_deg") == pytest.approx(30)
    # Outboard only the mounting is heavy: half a turn later it looks heavy on the other side.
    assert value(dirty, "half_turn.first.outboard.angle_deg") == pytest.approx(30)
    assert value(dirty, "half_turn.second.outboard.angle_deg") == pytest.approx(210)
    assert value(dirty, "half_turn.off_centre_mm") == pytest.approx(0.3)
    assert dirty.value("assembly[A].half_turn.cause") == "mounting"


def test_a_clean_mounting_gives_the_same_report_twice() -> None:
    clean = model(assembly(heavy_spots=[heavy_spot(25, 120, -80)]))
    for name in ("mass_g", "angle_deg"):
        spins = [value(clean, f"half_turn.{spin}.inboard.{name}") for spin in ("first", "second")]
        assert spins[0] == pytest.approx(spins[1])
    assert clean.value("assembly[A].half_turn.cause") == "assembly"


def test_a_label_on_the_tread_belongs_to_the_assembly_and_counts_more_at_the_rim() -> None:
    # 8 g at 300 mm on the centre plane are 12 g at the rim of 200, 6 g in each plane.
    label = {"mass_g": 8, "angle_deg": 45, "radius_mm": 300}
    labelled = model(assembly(bench={"label": label}))
    assert value(labelled, "label_at_rim.mass_g") == pytest.approx(12)
    assert value(labelled, "half_turn.assembly.outboard.mass_g") == pytest.approx(6)
    assert value(labelled, "half_turn.mounting.outboard.mass_g") == pytest.approx(0, abs=1e-9)
    with pytest.raises(LookupError, match=r"assembly A has no bench\.label"):
        model(assembly()).value("assembly[A].label_at_rim.mass_g")


def seats(peak_to_peak: float, high_deg: float) -> dict[str, object]:
    seat = [first(peak_to_peak, high_deg)]
    return {"bead_seats": {"inboard": seat, "outboard": seat}}


def test_runout_at_the_tread_is_split_into_mounting_wheel_and_tire() -> None:
    # 0.3 mm off centre run out by 0.6 from peak to peak. Wheel 0.4 at 90, tire 0.8 at 180.
    found = model(
        assembly(
            wheel=seats(0.4, 90),
            tire={"tread_runout": [first(0.8, 180)]},
            bench={"dirt_mm": 0.3, "dirt_deg": 300},
        )
    )
    shares = {"mounting": (0.6, 300), "wheel": (0.4, 90), "tire": (0.8, 180)}
    for part, (size, high) in shares.items():
        assert value(found, f"tread_share.{part}.first_mm") == pytest.approx(size, abs=0.01)
        assert value(found, f"tread_share.{part}.high_deg") == pytest.approx(high, abs=1.5)
    # Wheel and tire together: a right triangle of 0.4 and 0.8.
    assert value(found, "tread_share.assembly.first_mm") == pytest.approx(0.8**0.5, abs=0.01)
    assert found.value("assembly[A].tread_share.largest") == "tire"


def test_the_largest_total_and_the_largest_first_harmonic_may_be_of_two_treads() -> None:
    round_one = assembly("A", tire={"tread_runout": [first(0.5, 40)]})
    oval = assembly("B", tire={"tread_runout": [first(0.3, 10), first(0.7, 100, order=2)]})
    treads = model(round_one, oval)
    assert treads.value("car.most_total_runout").tolist() == [False, True]
    assert treads.value("car.most_first_runout").tolist() == [True, False]


def test_a_first_harmonic_survives_the_second_in_twelve_readings() -> None:
    """Waves of different order are orthogonal over one turn (any textbook of Fourier series)."""
    waves = model(assembly(tire={"tread_runout": [first(0.5, 40), first(0.6, 70, order=2)]}))
    assert value(waves, "tread.first_mm") == pytest.approx(0.5, abs=0.01)
    assert value(waves, "tread.high_deg") == pytest.approx(40, abs=1.5)


LIMITS = {"total_force_limit_n": 110, "first_harmonic_limit_n": 80}


@pytest.mark.parametrize(
    ("once", "twice", "verdict"),
    [(60, 20, "within"), (95, 10, "once-per-turn"), (90, 60, "once-per-turn"), (60, 90, "more-often")],
)
def test_the_verdict_says_which_limit_is_passed(once: float, twice: float, verdict: str) -> None:
    force = [first(once, 0), first(twice, 0, order=2)]
    judged = model(assembly(tire={"force": force}), vehicle=LIMITS)
    assert judged.value("assembly[A].force.verdict") == verdict
    assert value(judged, "force.second_n") == pytest.approx(twice, abs=0.5)
    # Both waves have their high point at the valve; opposite stand the low of one and the high of the other.
    total = value(judged, "force.total_n")
    assert judged.value("car.over_total_limit").tolist() == [total > 110]


def test_a_verdict_without_limits_is_refused_by_name() -> None:
    with pytest.raises(LookupError, match="total_force_limit_n"):
        model(assembly(tire={"force": [first(50, 0)]})).value("assembly[A].force.verdict")


@pytest.mark.parametrize("turned_deg", [90, 180, 240])
def test_two_measurements_tell_tire_and_wheel_apart_by_any_turn(turned_deg: float) -> None:
    # Tire 100 N at 40, wheel 0.4 mm x 200 N/mm = 80 N at 160: low spot at 340, so the tire turns by -60.
    sheet = assembly(
        wheel=seats(0.4, 160),
        tire={"force": [first(100, 40)], "spring_rate_n_per_mm": 200, "turned_deg": turned_deg},
    )
    apart = model(sheet)
    for part, (size, high) in {"tire": (100, 40), "wheel": (80, 160)}.items():
        assert value(apart, f"separated.{part}.first_n") == pytest.approx(size, abs=1)
        assert value(apart, f"separated.{part}.high_deg") == pytest.approx(high, abs=1)
    assert value(apart, "separated.turn_deg") == pytest.approx(-60, abs=1.5)
    assert value(apart, "separated.left_n") == pytest.approx(20, abs=1.5)
