"""Reads scenario files from disk into domain objects. Knows no database and no framework."""

from pathlib import Path

from app.domain.check import faults_of
from app.domain.faults import Fault
from app.domain.scenario import LARGEST_FILE, Scenario, ScenarioFaults, parse

FILE_NAME = "scenario.toml"
MOST_BYTES_A_CHARACTER = 4


def scenario_files(folder: Path) -> list[Path]:
    """The scenario files below a library folder, by name: `<folder>/<id>/scenario.toml`."""
    return sorted(folder.glob(f"*/{FILE_NAME}"))


def read_content(path: Path) -> str:
    """The text of a scenario file. Raises ScenarioFaults when it is too long or not UTF-8 text, OSError.

    A mark at the beginning that some editors write (a byte order mark) is passed over.
    """
    if path.stat().st_size > LARGEST_FILE * MOST_BYTES_A_CHARACTER:
        raise ScenarioFaults([Fault("file", f"is longer than {LARGEST_FILE} characters")])
    try:
        return path.read_text(encoding="utf-8-sig")
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
