"""The published check values by id. Each says where it comes from and how exactly it must be met."""

import json
from pathlib import Path
from typing import Any

_CASES: dict[str, dict[str, Any]] = {
    each["id"]: each for each in json.loads(Path(__file__).with_name("published.json").read_text("utf-8"))
}


def case(case_id: str) -> dict[str, Any]:
    """One case: given, expect, tolerance, source, and status (PUBLISHED, COMMON PRACTICE or FROM MEMORY)."""
    return _CASES[case_id]
