"""Where a place stands in a TOML text, and what a misspelt field or word was to be."""

import re

import pytest

from app.domain.scenario import ScenarioFaults, parse
from app.domain.toml_lines import line_of
from tests.domain.writing import SHIPPED, shipped_text

TEXT = '''title = "A"
[vehicle]
concern = """
[not.a.table]
key = 1
"""
placard.size = "x"
[[parts]]
title = "One"
[[parts.tasks]]
id = "a"
[[parts.tasks]]
id = "b"
tolerance = { absolute = 1 }
[[parts]]
[[parts.tasks]]
id = "c"
options = [
  { id = "yes", text = "Yes" },
]
'''


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("title", 1),
        ("vehicle", 2),
        ("vehicle.concern", 3),
        ("vehicle.placard.size", 7),
        ("parts[0].title", 9),
        ("parts[0].tasks[1]", 12),
        ("parts[0].tasks[1].id", 13),
        ("parts[0].tasks[1].tolerance.absolute", 14),
        ("parts[1].tasks[0].id", 17),
        ("parts[1].tasks[0].options[0].text", 18),
        ("parts[1].tasks[0].missing", 16),
        ("not.a.table", None),
        ("scenario", None),
        ("", None),
    ],
)
def test_a_place_is_found_at_its_line_or_at_that_of_what_holds_it(place: str, line: int | None) -> None:
    assert line_of(TEXT, place) == line


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_each_task_of_a_shipped_scenario_is_found_where_its_id_stands(scenario_id: str) -> None:
    text = shipped_text(scenario_id)
    lines = text.split("\n")
    found = 0
    for part in range(12):
        for task in range(40):
            line = line_of(text, f"parts[{part}].tasks[{task}].id")
            if line is not None and re.match(r'id = "', lines[line - 1]):
                found += 1
    assert found == len(re.findall(r"^\[\[parts\.tasks\]\]$", text, re.MULTILINE))


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ("drive_side =", "driveside =", "vehicle.driveside: is not a field known here; remove it or mend its "
         "spelling; did you mean drive_side?"),
        ("tolerance = { absolute = 6 }", "tolerance = { absolut = 6 }", "did you mean absolute?"),
        ("mass_g = { low = 14, high = 30", "mass_g = { low = 14, hihg = 30", "did you mean high?"),
        ("explain =", "explian =", "did you mean explain?"),
        ('kind = "balancer"', 'kind = "balance"', "did you mean balancer?"),
        ('kind = "choice"', 'kind = "choise"', "has no known kind"),
        ('kind = "choice"', 'kind = "choise"', "did you mean choice?"),
        ('level = "first steps"', 'level = "firs steps"', "did you mean first steps?"),
    ],
)  # fmt: skip
def test_a_misspelt_field_or_word_gets_a_suggestion(before: str, after: str, says: str) -> None:
    with pytest.raises(ScenarioFaults) as refused:
        parse(shipped_text("two-plane-balance").replace(before, after, 1))
    assert any(says in str(fault) for fault in refused.value.faults), refused.value.faults


def test_a_field_that_is_like_none_gets_no_suggestion() -> None:
    with pytest.raises(ScenarioFaults) as refused:
        parse(shipped_text("two-plane-balance").replace("[vehicle]", "[vehicle]\nzzz = 1", 1))
    assert "did you mean" not in str(refused.value)
