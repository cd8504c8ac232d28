"""The guide for authors, scenarios/README.md, says what is true."""

import re

import pytest

from app.domain.check import faults_of
from app.domain.measures import UnitSystem
from app.domain.model import quantities, quantity_of
from app.domain.scenario import Measurement, parse
from app.domain.variants import draw
from tests.domain.writing import FOLDER

GUIDE = (FOLDER / "README.md").read_text(encoding="utf-8")
ROWS = dict(re.findall(r"^\| `((?:assembly\[A\]|car)\.[a-z_.]+)` \| ([a-z]+) \|", GUIDE, re.MULTILINE))


def test_every_quantity_stands_in_the_table() -> None:
    expected = {name.replace("[*]", "[A]").replace("outboard", "inboard") for name in quantities()}
    assert set(ROWS) == expected


@pytest.mark.parametrize("key", ROWS)
def test_the_table_gives_each_quantity_its_measure(key: str) -> None:
    assert quantity_of(key).measure == ROWS[key]


def test_the_smallest_scenario_can_be_used_as_it_stands() -> None:
    found = re.search(r"```toml\n(.*?)```", GUIDE, re.DOTALL)
    assert found
    scenario = parse(found[1])
    assert faults_of(scenario) == []
    variant = draw(scenario, 7, UnitSystem.METRIC)
    heavy = float(variant.truth.assemblies["A"].heavy_spots.angle_deg[0])
    assert float(variant.model.value("assembly[A].single.angle_deg")) == pytest.approx((heavy + 180) % 360)


def test_every_measurement_and_kind_of_task_is_named() -> None:
    kinds = Measurement.model_fields["kind"].annotation
    for name in (*kinds.__args__, "number", "choice", "several", "spots", "order", "placement", "text"):
        assert f"`{name}`" in GUIDE
