"""Files made to hurt: each is refused within a second, with a fault and without a traceback."""

import time
import warnings
from contextlib import suppress
from pathlib import Path

import pytest

from app.domain.scenario import ScenarioFaults
from app.library import checked_scenario, read_scenario
from tests.domain.writing import shipped_text

BALANCE = shipped_text("two-plane-balance")
# Processor time of this process, so that a busy machine fails nothing.
MOST_SECONDS = 1.0
DIGITS = "9" * 150_000

SIZES = [1 + i * 0.7317 + i * i * 0.0131 for i in range(24)]
MANY_SUMS = "".join(
    f"[machine.{system}]\nstep = 1\ndead_band = 1\npieces = {SIZES}\n" for system in ("metric", "us")
)

HOSTILE = {
    "lists in lists": "a=" + "[" * 50_000 + "]" * 50_000,
    "tables in tables": "a=" + "{a=" * 30_000 + "1" + "}" * 30_000,
    "a key of many points": "a" + ".a" * 90_000 + "=1",
    "a header of many points": "[" + ".".join("a" * 90_000) + "]",
    "long keys on many lines": "\n".join(f"{'.'.join('a' * 95)}.k{i}=1" for i in range(900)),
    "a huge whole number": f"format = {DIGITS}",
    "a huge hexadecimal number": f"format = 0x{DIGITS}",
    "a huge decimal number": f"format = {DIGITS}.5",
    "a number beyond floats": BALANCE.replace("minutes = 40", "minutes = 1e999"),
    "nan": BALANCE.replace("z_mm = -95", "z_mm = nan"),
    "minus infinity": BALANCE.replace("z_mm = -95", "z_mm = -inf"),
    "unknown fields": BALANCE + "".join(f"\nk{i} = 1" for i in range(10_000)),
    "unknown tables": "".join(f"[a{i}]\n" for i in range(15_000)),
    "empty assemblies": "[[assemblies]]\n" * 10_000,
    "a null byte": BALANCE.replace("title = ", "title\x00 = "),
    "a lone surrogate": 'title = "\\ud800"',
    "a long string": f'title = "{"x" * 190_000}"',
    "nothing": "",
    "only spaces": " " * 100_000,
    "a day that is not": BALANCE.replace("2026-10-05", "2026-02-30"),
    "a time for a date": BALANCE.replace("2026-10-05", "10:00:00"),
    "stock that makes too many sums": BALANCE.replace(
        "[machine]", f"[machine]\nmax_pieces = 6\n{MANY_SUMS}"
    ).replace("width_error_mm", "#"),
    "a template's placeholders": BALANCE.replace("[A].static", "[{assembly.__class__}].static"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_text_is_refused_within_a_second(name: str) -> None:
    began = time.process_time()
    with pytest.raises(ScenarioFaults) as refused:
        checked_scenario(HOSTILE[name])
    assert time.process_time() - began < MOST_SECONDS
    for fault in refused.value.faults:
        assert fault.place
        assert 5 < len(fault.message) < 2000


def test_a_file_that_is_not_utf_8_names_the_byte(tmp_path: Path) -> None:
    path = tmp_path / "scenario.toml"
    path.write_bytes(b'title = "caf\xe9"')
    with pytest.raises(ScenarioFaults, match=r"file: is not UTF-8 text \(byte 12\)"):
        read_scenario(path)


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "scenario.toml"
    with path.open("wb") as file:
        file.truncate(3_000_000_000)  # a hole: takes no room on the disk
    began = time.process_time()
    with pytest.raises(ScenarioFaults, match="is longer than"):
        read_scenario(path)
    assert time.process_time() - began < MOST_SECONDS


@pytest.mark.parametrize("number", ["0.001", "5e-324", "1e-200", "1e7"])
@pytest.mark.parametrize("place", ["radius_mm = 193", "radius_mm = 310"])
def test_extreme_numbers_are_computed_or_refused_and_nothing_is_printed(place: str, number: str) -> None:
    text = BALANCE.replace(place, f"radius_mm = {number}")
    assert text != BALANCE
    with warnings.catch_warnings(), suppress(ScenarioFaults):
        warnings.simplefilter("error")
        checked_scenario(text)


def test_planes_that_are_hardly_apart_are_refused() -> None:
    with pytest.raises(ScenarioFaults, match=r"inboard\.z_mm must be 0\.001 or more below outboard\.z_mm"):
        checked_scenario(BALANCE.replace("z_mm = -82", "z_mm = 0").replace("z_mm = 82", "z_mm = 5e-324"))
