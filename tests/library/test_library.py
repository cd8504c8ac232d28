"""Scenario files on disk."""

import hashlib
from pathlib import Path

import pytest

from app.domain.scenario import ScenarioFaults
from app.library import checked_scenario, ids_by_sum, read_content, read_scenario, scenario_files

SHIPPED = Path(__file__).parents[2] / "scenarios"


def test_the_files_of_a_folder_are_found_by_name() -> None:
    folders = sorted(each.name for each in SHIPPED.iterdir() if each.is_dir())
    assert [path.parent.name for path in scenario_files(SHIPPED)] == folders
    assert {"two-plane-balance", "bench-one-assembly", "four-assemblies"} < set(folders)


def test_a_folder_without_scenarios_has_none(tmp_path: Path) -> None:
    (tmp_path / "notes").mkdir()
    (tmp_path / "notes" / "readme.txt").write_text("x", encoding="utf-8")
    assert scenario_files(tmp_path) == []
    assert scenario_files(tmp_path / "missing") == []


@pytest.mark.parametrize("path", scenario_files(SHIPPED), ids=lambda path: path.parent.name)
def test_every_shipped_file_is_read_without_faults_and_stands_in_a_folder_of_its_id(path: Path) -> None:
    assert read_scenario(path).id == path.parent.name


def test_the_sums_are_those_of_the_shipped_files() -> None:
    """The files are found sound by the test above, and a first start believes it of these texts alone."""
    ids = {
        hashlib.sha256(path.read_bytes()).hexdigest(): path.parent.name for path in scenario_files(SHIPPED)
    }
    assert ids_by_sum(SHIPPED) == ids, "cd scenarios && sha256sum */scenario.toml > SHA256SUMS"


@pytest.mark.parametrize("content", [b"", b"\n", b"one word\n", b"\xff\xfe  \n"])
def test_sums_that_say_nothing_name_no_scenario(tmp_path: Path, content: bytes) -> None:
    assert ids_by_sum(tmp_path) == {}
    (tmp_path / "SHA256SUMS").write_bytes(content)
    assert not any(ids_by_sum(tmp_path).values())


def test_a_mark_that_an_editor_puts_first_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "scenario.toml"
    text = read_content(scenario_files(SHIPPED)[0])
    path.write_bytes(b"\xef\xbb\xbf" + text.encode())
    assert read_content(path) == text


def test_a_file_is_refused_with_every_fault_of_its_references(tmp_path: Path) -> None:
    path = tmp_path / "scenario.toml"
    text = read_content(SHIPPED / "two-plane-balance" / "scenario.toml")
    text = text.replace("static.size_gmm", "static.size_g").replace("single.mass_g", "single.mas_g")
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ScenarioFaults) as refused:
        read_scenario(path)
    assert [fault.place for fault in refused.value.faults] == [
        "parts[0].tasks[0].key",
        "parts[0].tasks[2].key",
    ]
    assert "did you mean assembly[A].static.size_gmm?" in str(refused.value)


def test_a_missing_file_is_an_error_of_the_system(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        read_scenario(tmp_path / "scenario.toml")


def test_a_text_is_checked_as_a_file_is() -> None:
    text = read_content(SHIPPED / "two-plane-balance" / "scenario.toml")
    assert checked_scenario(text).title == "One assembly on the balancer"
