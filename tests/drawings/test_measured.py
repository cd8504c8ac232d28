"""What is measured suffices to work the lab, and gives nothing of it away."""

from typing import Any

import pytest

from app.domain.answers import Raw
from app.domain.marking import Verdict, mark_all
from app.domain.measures import UnitSystem
from app.domain.scenario import Measurement
from app.domain.tasks import BenchTask, ChoiceTask, OrderTask, TextTask
from app.domain.truth import TireTruth
from app.domain.variants import Variant, draw
from app.drawings.drawing import Drawing
from app.drawings.labels import texts
from app.drawings.measured import measured
from app.drawings.measured.job_card import job_card
from app.drawings.measured.tires import identification
from app.library import read_scenario
from app.settings import SCENARIOS
from tests.drawings.careful_student import Sheet
from tests.drawings.works import WORKED_BY

SHIPPED = {name: read_scenario(SCENARIOS / name / "scenario.toml") for name in WORKED_BY}
SHOWN = [
    pytest.param(name, shown, id=f"{name}-{shown.kind}")
    for name, scenario in SHIPPED.items()
    for part in scenario.parts
    for shown in part.shows
]


def variant_of(name: str, seed: int = 1, units: UnitSystem = UnitSystem.US) -> Variant:
    return draw(SHIPPED[name], seed, units)


def answers_of(variant: Variant) -> dict[str, Raw]:
    """From the tables, and the fixed right options and orders of what only the text teaches."""
    answers = WORKED_BY[variant.scenario.id](Sheet(variant))
    for task in variant.scenario.tasks:
        if isinstance(task, ChoiceTask) and task.right:
            answers[task.id] = task.right
        elif isinstance(task, OrderTask):
            answers[task.id] = {step: str(place) for place, step in enumerate(task.right_order, 1)}
    return answers


def test_every_other_scenario_of_the_folder_measures_at_the_bench_alone() -> None:
    for path in SCENARIOS.glob("*/scenario.toml"):
        if path.parent.name not in WORKED_BY:
            scenario = read_scenario(path)
            assert scenario.bench is not None
            assert not any(part.shows for part in scenario.parts)


@pytest.mark.parametrize("units", UnitSystem)
@pytest.mark.parametrize("name", WORKED_BY)
def test_who_works_carefully_from_the_tables_alone_gets_every_answer_right(
    name: str, units: UnitSystem
) -> None:
    for seed in range(12):
        variant = variant_of(name, seed, units)
        marks = mark_all(variant, answers_of(variant))
        wrong = [(mark.task_id, mark.reason) for mark in marks if mark.verdict is not Verdict.RIGHT]
        elsewhere = {task.id for task in variant.scenario.tasks if isinstance(task, TextTask | BenchTask)}
        assert [each for each in wrong if each[0] not in elsewhere] == [], f"seed {seed}"


class _AskedModel:
    """A model that writes down what is asked of it, but not what follows from that inside."""

    def __init__(self, model: Any) -> None:
        self.model, self.asked = model, set()

    @property
    def truth(self) -> Any:
        return self.model.truth

    def value(self, reference: str) -> Any:
        self.asked.add(reference)
        return self.model.value(reference)

    def assembly(self, letter: str) -> "_AskedView":
        return _AskedView(self, letter)


class _AskedView:
    def __init__(self, asking: _AskedModel, letter: str) -> None:
        self.asking, self.letter = asking, letter
        self.view = asking.model.assembly(letter)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.view, name)

    def value(self, name: str) -> Any:
        return self.asking.value(f"assembly[{self.letter}].{name}")


@pytest.mark.parametrize(("name", "shown"), SHOWN)
def test_a_measurement_shows_no_quantity_that_its_lab_asks_for(name: str, shown: Measurement) -> None:
    variant = variant_of(name)
    asking = _AskedModel(variant.model)
    measured(shown, Variant(variant.scenario, variant.seed, variant.units, variant.truth, asking))
    keys = {getattr(task, "key", None) for task in variant.scenario.tasks}
    assert asking.asked & keys == set()


def test_a_uniformity_report_leaves_out_what_its_lab_asks_for() -> None:
    asks_for_shares = variant_of("runout-and-match-mounting", units=UnitSystem.METRIC)
    [table] = measured(Measurement(kind="uniformity"), asks_for_shares).tables
    rows = [row[0] for row in table.rows]
    assert rows == ["Conicity, N", "With a new tire: first harmonic, N", "With a new tire: conicity, N"]


@pytest.mark.parametrize(("name", "shown"), SHOWN)
@pytest.mark.parametrize("units", UnitSystem)
def test_every_row_has_a_cell_for_each_head_and_a_caption(
    name: str, shown: Measurement, units: UnitSystem
) -> None:
    tables = measured(shown, variant_of(name, units=units)).tables
    assert tables
    for table in tables:
        assert table.caption
        assert table.rows
        assert {len(row) for row in table.rows} == {len(table.heads)}
        assert all(cell for row in table.rows for cell in row)


def drawn_texts(drawing: Drawing) -> str:
    return " ".join(texts(drawing.shapes))


def test_a_heavy_spot_stands_in_the_drawings_with_its_amount_and_its_place() -> None:
    variant = variant_of("two-plane-balance")
    shown = measured(Measurement(kind="heavy spots"), variant)
    face, section = shown.drawings
    for name, mass, radius, angle, clock, _ in shown.tables[0].rows:
        assert f"{name[2:]}, {mass} oz, {angle}, {clock}" in drawn_texts(face)
        assert f"{radius} in from the axle" in drawn_texts(section)


def test_the_drawings_leave_their_numbers_to_the_tables() -> None:
    shown = measured(Measurement(kind="force trace"), variant_of("runout-and-match-mounting"))
    assert [drawing.twin.rows for drawing in shown.drawings] == [()]


def test_the_force_trace_does_not_work_out_the_total() -> None:
    variant = variant_of("runout-and-match-mounting", units=UnitSystem.METRIC)
    [trace] = measured(Measurement(kind="force trace"), variant).drawings
    total = float(variant.model.value("assembly[A].force.total_n"))
    assert f"{total:.0f} N" not in drawn_texts(trace)
    assert "greatest less least" in drawn_texts(trace)


def test_a_measurement_of_named_assemblies_shows_only_those() -> None:
    variant = variant_of("four-assemblies")
    shown = measured(Measurement(kind="sidewalls", assemblies=("B", "D")), variant)
    assert [row[0] for row in shown.tables[0].rows] == ["B", "D"]
    assert [drawing.title for drawing in shown.drawings] == ["Assembly B: sidewall", "Assembly D: sidewall"]


def test_the_authors_caption_comes_along() -> None:
    shown = Measurement(kind="balancer", caption="After cleaning")
    assert measured(shown, variant_of("two-plane-balance")).caption == "After cleaning"


def tire(week: int, year: int) -> TireTruth:
    some = variant_of("four-assemblies").truth.assemblies["A"].tire
    return TireTruth(**{**vars(some), "tin_prefix": "7Q1 KR4P", "week": week, "year": year})


@pytest.mark.parametrize(
    ("week", "year", "reads"),
    [(3, 2007, "0307"), (52, 2020, "5220"), (41, 1998, "418"), (7, 2000, "0700")],
)
def test_the_identification_number_ends_in_week_and_year(week: int, year: int, reads: str) -> None:
    """49 CFR 574.5: four digits, week then year; three, with one for the year, before 2000."""
    assert identification(tire(week, year)) == f"DOT 7Q1 KR4P {reads}"


def test_a_tire_without_identification_number_is_refused() -> None:
    with pytest.raises(LookupError, match="no tin"):
        identification(variant_of("two-plane-balance").truth.assemblies["A"].tire)


def test_the_job_card_tells_pressures_in_the_class_s_units() -> None:
    """220.6 kPa is 32.0 psi: 1 psi = 6.894757 kPa, NIST SP 811."""
    metric = dict(job_card(variant_of("two-plane-balance", units=UnitSystem.METRIC)).facts)
    us = dict(job_card(variant_of("two-plane-balance")).facts)
    assert (metric["Placard, front"], us["Placard, front"]) == ("221 kPa", "32.0 psi")
    assert metric["Day of service"] == "October 5, 2026"
    assert "Limit, first harmonic" not in metric


def test_the_job_card_tells_the_shop_s_limits_where_there_are_any() -> None:
    facts = dict(job_card(variant_of("four-assemblies", units=UnitSystem.METRIC)).facts)
    assert facts["Limit, first harmonic"] == "80.0 N"
    assert facts["Oldest tire to fit"] == "9 years"
