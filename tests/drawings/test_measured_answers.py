"""Own answers drawn beside the computed ones."""

import pytest

from app.domain.answers import Raw, positions_of
from app.domain.marking import right_answer_text
from app.domain.measures import UnitSystem
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.measured.answers import answer_drawings
from tests.drawings.test_measured import variant_of


def drawing(variant: Variant, answers: dict[str, Raw], task_id: str) -> Drawing:
    return answer_drawings(variant, answers)[task_id]


def rows(variant: Variant, answers: dict[str, Raw], task_id: str) -> dict[str, str]:
    """Where each vector points, by its label."""
    return {what: where for _, what, _, where in drawing(variant, answers, task_id).twin.rows}


@pytest.fixture
def variant() -> Variant:
    return variant_of("two-plane-balance", units=UnitSystem.METRIC)


def test_a_size_and_an_angle_make_one_arrow_beside_the_computed(variant: Variant) -> None:
    right = right_answer_text(variant.scenario.task("static-size"), variant)
    angle = right_answer_text(variant.scenario.task("static-angle"), variant)
    drawn = rows(variant, {"static-size": "5000 g.mm", "static-angle": "4:30"}, "static-angle")
    assert drawn["yours 5000 g·mm"] == "135°, 4:30"
    assert drawn[f"computed {right}"].startswith(f"{angle}, ")


def test_an_angle_whose_size_is_not_asked_is_drawn_at_the_computed_size(variant: Variant) -> None:
    mass = f"{float(variant.model.value('assembly[A].correction.inboard.mass_g')):.1f} g"
    drawn = rows(variant, {"inboard-angle": "90"}, "inboard-angle")
    assert drawn[f"yours, drawn at the computed size: {mass}"] == "90°, 3:00"


@pytest.mark.parametrize("size", ["", "a lot"])
def test_an_angle_whose_size_was_not_given_is_drawn_at_the_computed_size(variant: Variant, size: str) -> None:
    drawn = rows(variant, {"static-size": size, "static-angle": "90"}, "static-angle")
    assert [label for label in drawn if label.startswith("yours, drawn at the computed size")]


def test_a_size_in_another_unit_is_drawn_in_the_class_s(variant: Variant) -> None:
    """1 oz.in = 28.349523125 g x 25.4 mm = 720.08 g.mm: NIST SP 811."""
    drawn = rows(variant, {"static-size": "10 oz.in", "static-angle": "0"}, "static-angle")
    assert "yours 7201 g·mm" in drawn


def test_the_effect_of_a_trial_weight_is_drawn_in_divisions() -> None:
    taken = variant_of("trial-weight")
    drawn = drawing(taken, {"effect-size": "5", "effect-angle": "90"}, "effect-angle")
    assert [what for _, what, _, where in drawn.twin.rows if where == "90°, 3:00"] == ["yours 5.00 divisions"]
    assert drawn.description.endswith("divisions.")


@pytest.mark.parametrize("typed", ["", None, "somewhere left", "13:00"])
def test_a_blank_or_unreadable_angle_has_no_drawing(variant: Variant, typed: Raw) -> None:
    assert answer_drawings(variant, {"static-size": "5000", "static-angle": typed}) == {}


def test_answers_without_direction_or_place_have_no_drawing(variant: Variant) -> None:
    assert answer_drawings(variant, {"why-two": "couple", "inboard-stock": "20", "single-mass": "30"}) == {}


def test_the_plan_shows_own_letters_with_the_best_in_brackets() -> None:
    variant = variant_of("four-assemblies", units=UnitSystem.METRIC)
    worst = positions_of(int(variant.model.value("car.comfort").argmax()), variant.scenario)
    best = positions_of(int(variant.model.value("car.comfort").argmin()), variant.scenario)
    plan = drawing(variant, {"comfort": worst}, "comfort")
    assert plan.twin.heads == ("Corner", "Assembly", "Values", "Best")
    assert [row[1] for row in plan.twin.rows] == list(worst.values())
    assert [row[3] for row in plan.twin.rows] == list(best.values())
    left_front = float(variant.model.value(f"assembly[{worst['LF']}].placed.first_n"))
    assert plan.twin.rows[0][2] == f"{left_front:.1f} N"


def test_of_several_best_placements_the_own_one_is_called_best() -> None:
    """Turning both axles left for right leaves the pull as it is, so best placements come in fours."""
    variant = variant_of("four-assemblies")
    best = positions_of(int(variant.model.value("car.tracking").argmin()), variant.scenario)
    mirrored = {"LF": best["RF"], "RF": best["LF"], "LR": best["RR"], "RR": best["LR"]}
    plan = drawing(variant, {"tracking": mirrored}, "tracking")
    assert [row[3] for row in plan.twin.rows] == list(mirrored.values())


def test_a_placement_with_a_gap_has_no_drawing() -> None:
    variant = variant_of("four-assemblies")
    assert answer_drawings(variant, {"comfort": {"LF": "A", "RF": "B", "LR": "C", "RR": ""}}) == {}
