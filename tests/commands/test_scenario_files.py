"""`heavyspot key` and `heavyspot check` on scenario files."""

import json
from pathlib import Path

import pytest

from tests.commands.program import HeavySpot

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*/scenario.toml"))
SCENARIO = next(path for path in SHIPPED if path.parent.name == "four-assemblies")


def test_every_shipped_scenario_has_no_faults(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("check", *SHIPPED)
    assert ended.status == 0, ended.out
    assert ended.out.count("no faults") == len(SHIPPED) > 0


def test_every_fault_of_every_file_is_named_with_its_place(heavyspot: HeavySpot, tmp_path: Path) -> None:
    broken, torn = tmp_path / "broken.toml", tmp_path / "torn.toml"
    broken.write_text(
        SCENARIO.read_text().replace("format = 1", "format = 2").replace("minutes = ", "minutes = 1000")
    )
    torn.write_text('title = "no end')
    ended = heavyspot.run("check", broken, torn, SCENARIO, tmp_path / "absent.toml")
    assert ended.status == 1
    lines = ended.out.splitlines()
    written = broken.read_text().splitlines()
    for field in ("format", "minutes"):
        number = next(place for place, line in enumerate(written, 1) if line.startswith(f"{field} = "))
        assert any(line.startswith(f"{broken}:{number}: {field}: ") for line in lines)
    assert any(line.startswith(f"{torn}: file: is not TOML") for line in lines)
    assert f"{tmp_path / 'absent.toml'}: can't be read: No such file or directory" in lines
    assert any(line.startswith(f"{SCENARIO}: no faults") for line in lines)


def test_the_schema_is_json_and_knows_the_parts_of_a_scenario(heavyspot: HeavySpot) -> None:
    schema = json.loads(heavyspot.run("check", "--schema").out)
    assert {"title", "assemblies", "parts"} <= set(schema["properties"])


@pytest.mark.parametrize("arguments", [[], ["--schema", "file.toml"]])
def test_check_says_what_to_give_it(heavyspot: HeavySpot, arguments: list[str]) -> None:
    ended = heavyspot.run("check", *arguments)
    assert ended.status == 2
    assert "Give scenario files to check, or --schema." in ended.error


def test_a_key_depends_on_the_seed_and_on_nothing_else(heavyspot: HeavySpot) -> None:
    once = heavyspot.run("key", SCENARIO, "--seed", "7", "--json").out
    assert once == heavyspot.run("key", SCENARIO, "--seed", "7", "--json").out
    assert (
        json.loads(once)["answers"]
        != json.loads(heavyspot.run("key", SCENARIO, "--seed", "8", "--json").out)["answers"]
    )


def test_the_two_forms_of_a_key_give_the_same_answers(heavyspot: HeavySpot) -> None:
    text = heavyspot.run("key", SCENARIO, "--seed", "7", "--units", "us").out
    answers = json.loads(heavyspot.run("key", SCENARIO, "--seed", "7", "--units", "us", "--json").out)[
        "answers"
    ]
    assert len(answers) > 3
    assert [answer["task"] for answer in answers if answer["answer"] not in text] == []


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_unrounded_numbers_of_a_key_round_to_its_words(heavyspot: HeavySpot, units: str) -> None:
    key = json.loads(heavyspot.run("key", SCENARIO, "--units", units, "--json").out)
    numbers = [
        answer for answer in key["answers"] if answer.get("unit") in ("g", "oz", "mm", "in", "N", "lbf")
    ]
    assert numbers
    for answer in numbers:
        digits, unit = answer["answer"].split()
        decimals = len(digits.partition(".")[2])
        assert unit == answer["unit"]
        assert abs(float(digits) - answer["value"]) <= 0.5 * 10**-decimals * (1 + 1e-9)


def test_a_key_of_a_file_that_cannot_be_used_is_refused_with_every_fault(
    heavyspot: HeavySpot, tmp_path: Path
) -> None:
    empty = tmp_path / "empty.toml"
    empty.write_text("format = 1\n")
    ended = heavyspot.run("key", empty)
    assert ended.status == 1
    assert "title: is missing" in ended.error
    assert "parts: is missing" in ended.error


def test_a_key_of_an_absent_file_is_refused(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("key", "absent.toml")
    assert ended.status == 1
    assert "absent.toml can't be read: No such file or directory" in ended.error


@pytest.mark.parametrize("seed", ["-1", "18446744073709551616", "x"])
def test_a_seed_out_of_range_is_refused(heavyspot: HeavySpot, seed: str) -> None:
    ended = heavyspot.run("key", SCENARIO, "--seed", seed)
    assert ended.status == 2
    assert "--seed" in ended.error
