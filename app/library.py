"""Reads scenario files from disk into domain objects. Knows no database and no framework."""

from pathlib import Path

from app.domain.check import faults_of
from app.domain.faults import Fault
from app.domain.scenario import Scenario, ScenarioFaults, parse

FILE_NAME = "scenario.toml"


def scenario_files(folder: Path) -> list[Path]:
    """The scenario files below a library folder, by name: `<folder>/<id>/scenario.toml`."""
    return sorted(folder.glob(f"*/{FILE_NAME}"))


def read_content(path: Path) -> str:
    """The text of a scenario file. Raises ScenarioFaults when it can't be read as UTF-8 text."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise ScenarioFaults([Fault("file", f"is not UTF-8 text (byte {error.start})")]) from error


def read_scenario(path: Path) -> Scenario:
    """The scenario of one file, wholly checked. Raises ScenarioFaults with every fault, OSError."""
    return checked_scenario(read_content(path))


def checked_scenario(content: str) -> Scenario:
    """The scenario of a text, wholly checked. Raises ScenarioFaults with every fault."""
    scenario = parse(content)
    if faults := faults_of(scenario):
        raise ScenarioFaults(faults)
    return scenario
