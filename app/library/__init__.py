"""Reads scenario files from disk into domain objects, and writes them. Knows no database and no framework."""

import json
import tomllib
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Any

import tomlkit

from app.domain.authored.entries import Document
from app.domain.authored.shape import Kind, Table, fields_of
from app.domain.check import faults_of
from app.domain.faults import Fault
from app.domain.scenario import LARGEST_FILE, Scenario, ScenarioFaults, parse

FILE_NAME = "scenario.toml"
SUMS = "SHA256SUMS"
MOST_BYTES_A_CHARACTER = 4


def scenario_files(folder: Path) -> list[Path]:
    """The scenario files below a library folder, by name: `<folder>/<id>/scenario.toml`."""
    return sorted(folder.glob(f"*/{FILE_NAME}"))


def ids_by_sum(folder: Path) -> dict[str, str]:
    """The ids of the scenarios that were found sound before they were shipped, by the SHA-256 of their files:
    the lines of `sha256sum */scenario.toml` in `SHA256SUMS`. What was changed since has another sum."""
    try:
        lines = (folder / SUMS).read_text(encoding="utf-8", errors="replace").splitlines()
    except FileNotFoundError:
        return {}
    written = (line.partition("  ") for line in lines)
    return {sha256: PurePosixPath(file).parent.name for sha256, _, file in written}


def read_content(path: Path) -> str:
    """The text of a scenario file. Raises ScenarioFaults when it is too long or not UTF-8 text, OSError."""
    if path.stat().st_size > LARGEST_FILE * MOST_BYTES_A_CHARACTER:
        raise _too_long()
    return as_text(path.read_bytes())


def as_text(content: bytes) -> str:
    """The text of a scenario file's bytes. Raises ScenarioFaults when it is too long or not UTF-8 text.

    A mark at the beginning that some editors write (a byte order mark) is passed over, and lines may end as
    on any system.
    """
    if len(content) > LARGEST_FILE * MOST_BYTES_A_CHARACTER:
        raise _too_long()
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise ScenarioFaults([Fault("file", f"is not UTF-8 text (byte {error.start})")]) from error
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _too_long() -> ScenarioFaults:
    return ScenarioFaults([Fault("file", f"is longer than {LARGEST_FILE} characters")])


def read_scenario(path: Path) -> Scenario:
    """The scenario of one file, wholly checked. Raises ScenarioFaults with every fault, OSError."""
    return checked_scenario(read_content(path))


def checked_scenario(content: str) -> Scenario:
    """The scenario of a text, wholly checked. Raises ScenarioFaults with every fault."""
    scenario = parse(content)
    if faults := faults_of(scenario):
        raise ScenarioFaults(faults)
    return scenario


def document_of(content: str) -> Document:
    """The tables of a scenario's text, which can be parsed, as the document of a draft."""
    document: Document = json.loads(json.dumps(tomllib.loads(content), default=str))
    return document


def content_of(document: Document) -> str:
    """A document, whose shape is good, as the text of a scenario file."""
    return tomlkit.dumps(_as_written(document, Scenario))


def _as_written(document: Document, table: Table) -> dict[str, Any]:
    """The tables with their fields in the order of the scenario's classes, plain values before tables (TOML
    puts a value that follows a table into that table), days as days and whole numbers without a point."""
    written: dict[str, Any] = {}
    tables: dict[str, Any] = {}
    for field in fields_of(table):
        if field.name not in document:
            continue
        value = document[field.name]
        if field.kind is Kind.TABLE:
            below = field.table_of(value)
            tables[field.name] = _as_written(value, below) if below else value
        elif field.kind is Kind.TABLES:
            entries = [_as_written(each, below) for each in value if (below := field.table_of(each))]
            (tables if entries else written)[field.name] = entries
        elif field.kind is Kind.DAY:
            written[field.name] = date.fromisoformat(value)
        else:
            written[field.name] = _plain(value)
    return written | tables


def _plain(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_plain(each) for each in value]
    if isinstance(value, dict):
        inline = tomlkit.inline_table()
        inline.update({name: _plain(each) for name, each in value.items()})
        return inline
    if isinstance(value, str) and "\n" in value:
        return tomlkit.string(value, multiline=True)
    return value
